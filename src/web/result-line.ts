// What a reduction found, in one line: the numbers that its kind is taken for. Pure.

import { conditionText, FACT_TRADE_UNITS, factText } from '../charts/trade-text.ts';
import type { Fact, FactName, Facts } from '../records/criteria.ts';
import type { MeasurementKind } from '../records/kinds.ts';

const NAMES_OF_KIND: Record<MeasurementKind, readonly FactName[]> = {
  'diffraction scan': ['cAxisAngstrom', 'breadth005Deg'],
  resistance: ['tcMidpointK', 'transitionWidthK', 'tcZeroK'],
  'magnetic transition': ['tcMagneticOnsetK'],
  'current-voltage': ['jcAPerM2', 'nValue'],
  'magnetisation loop': ['jcAPerM2'],
  'chamber log': [],
};

function phrase(fact: Fact, hasCondition: boolean): string {
  const at = hasCondition ? conditionText(fact.at) : '';
  return `${FACT_TRADE_UNITS[fact.name].label} ${factText(fact)}${at ? ` at ${at}` : ''}`;
}

/** A loop has a number for every field: the ends of its range speak for it. */
function endsOf(numbers: readonly Fact[]): Fact[] {
  const byField = [...numbers].sort((one, other) => (one.at?.fieldT ?? 0) - (other.at?.fieldT ?? 0));
  return byField.length > 1 ? [byField[0]!, byField.at(-1)!] : byField;
}

/** What a reduction that worked is said to have found: its numbers, or where its answer stands. */
export function resultText(kind: MeasurementKind, facts: Facts): string {
  if (kind === 'chamber log') return 'its holds, and what it did otherwise than planned, stand on its page';
  return resultLine(kind, facts) || 'no number could be given';
}

/** One line; '' if the reduction found nothing. */
export function resultLine(kind: MeasurementKind, facts: Facts): string {
  const numbers = NAMES_OF_KIND[kind].flatMap((name) => {
    const found = facts.numbers.filter((fact) => fact.name === name);
    return name === 'jcAPerM2'
      ? endsOf(found).map((fact) => phrase(fact, true))
      : found.slice(0, 1).map((fact) => phrase(fact, false));
  });
  const present = facts.phases.filter(({ answer }) => answer === 'present').map(({ phase }) => phase);
  return [...numbers, ...(present.length > 0 ? [`seen: ${present.join(', ')}`] : [])].join('; ');
}
