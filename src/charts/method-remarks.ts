// What a person should know where two methods give unlike Jc: a sentence for each pair, in the units of the trade.
import type { Fact } from '../science/learning/facts.ts';
import { methodDisagreements } from '../science/learning/method-disagreements.ts';
import { conditionText, factText } from './trade-text.ts';

/** A sentence for each Jc of a current-voltage curve that the loop of the same piece, at the same condition, disagrees with. */
export function methodRemarks(numbers: readonly Fact[]): string[] {
  return methodDisagreements(numbers).map(({ transport, loop, byUncertainty }) => {
    const apart = byUncertainty
      ? 'apart by more than twice their joint standard uncertainty'
      : 'apart by more than a factor of two';
    const why =
      loop.value < transport.value
        ? 'They need not agree: a loop reads Jc at a lower electric field than a current-voltage curve, where Jc is lower. Compare like with like.'
        : 'The lower electric field of a loop would make its Jc the lower one, and it is the higher: see the thickness, the bridge width and the sides of the piece.';
    return `Jc at ${conditionText(transport.at)} is ${factText(transport)} by ${transport.method}, and ${factText(loop)} by ${loop.method}${loop.at?.fieldT === undefined ? '' : ` at ${conditionText(loop.at)}`}: ${apart}. ${why}`;
  });
}
