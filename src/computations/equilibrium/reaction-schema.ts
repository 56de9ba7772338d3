// What the univariant and the invariant entry share: the phases of a reaction and how sure its place is.
import { z } from 'zod';
import { checkConditions, diagramDoubts } from '../../science/equilibrium/limits.ts';
import { radiusBeyondY } from '../../science/equilibrium/rare-earth-shift.ts';
import type { ReactionAt } from '../../science/equilibrium/reaction.ts';
import { type ReactionAnswer, reactionOver } from '../../science/equilibrium/reaction-odds.ts';
import { RARE_EARTHS } from '../../science/matter/elements.ts';
import type { Flag } from '../schema.ts';
import { ensembleConditions, type ensembleFields, isMoved, membersOf } from './request.ts';

export const reactionPhasesSchema = z.array(z.string().min(1).max(40)).min(2).max(4);
/** of phases whose name holds none; Y if left out */
export const reactionRareEarthSchema = z.enum(RARE_EARTHS).optional();

type EnsembleRequest = z.infer<z.ZodObject<typeof ensembleFields>>;

/** The rare earth in the names of the phases, or the one asked for. */
function rareEarthOf(phases: readonly string[], asked: (typeof RARE_EARTHS)[number] | undefined) {
  return (
    asked ??
    RARE_EARTHS.find((symbol) => phases.some((name) => new RegExp(`${symbol}(?![a-z])`).test(name))) ??
    'Y'
  );
}

/** One point of the reaction over the members, with the doubts about it. */
export function reactionAt(
  request: EnsembleRequest & { phases: string[]; rareEarth?: (typeof RARE_EARTHS)[number] | undefined },
  at: ReactionAt,
): { answer: ReactionAnswer | undefined; doubtsAt: (answer: ReactionAnswer) => Flag[] } {
  const rareEarth = rareEarthOf(request.phases, request.rareEarth);
  const conditions = ensembleConditions(request, rareEarth, radiusBeyondY({ [rareEarth]: 1 }));
  const members = membersOf(request);
  const answer = reactionOver(members, conditions, request.phases, at);
  return {
    answer,
    doubtsAt: ({ temperatureC, po2Atm, stableOdds, foundOdds, lowerPhases }) => {
      const flags: Flag[] = [...diagramDoubts(rareEarth, temperatureC, po2Atm, isMoved(request))];
      if (foundOdds < 1)
        flags.push({
          code: 'REACTION_NOT_IN_ALL',
          message: `${Math.round(100 * foundOdds)} % of the members have this meeting of phases.`,
        });
      if (stableOdds < 1) {
        const lower = Object.entries(lowerPhases)
          .sort(([, p], [, q]) => q - p)
          .slice(0, 4)
          .map(([name, odds]) => `${name} (${Math.round(100 * odds)} %)`);
        flags.push({
          code: 'REACTION_METASTABLE',
          message: `Metastable in ${Math.round(100 * (1 - stableOdds))} % of the members: ${lower.join(', ') || 'another set of the same phases'} lies lower there.`,
        });
      }
      return flags;
    },
  };
}

/** Refuses ends that no diagram can answer. */
export function checkEnds(temperaturesC: readonly number[], pressuresAtm: readonly number[]): void {
  for (const temperatureC of temperaturesC) checkConditions(temperatureC, 0.21);
  for (const po2Atm of pressuresAtm) checkConditions(800, po2Atm);
}
