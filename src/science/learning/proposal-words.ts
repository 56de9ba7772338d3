// A proposal's reason in words and numbers, and what could go wrong with it. Pure.
import type { Proposal } from './proposals.ts';

interface ProposalSetting {
  readonly rareEarth: string;
  readonly temperatureC: number;
  readonly po2Atm: number;
  readonly lengthScale: number;
  readonly isFieldLeftOut: boolean;
  /** energy that the melt was moved by for the odds, J per mole of cations; 0: equilibrium of bulk data */
  readonly meltOffsetJPerMol: number;
}

/** Below this weight of films near by, the record says next to nothing. */
const THIN_EVIDENCE = 0.5;
/** Distances beyond this many lengths are new ground. */
const NEW_GROUND_LENGTHS = 3;
/** Below these odds it is likelier that the diagram says no. */
const EVEN_ODDS = 0.5;

const percent = (share: number): string => `${(100 * share).toFixed(share < 0.095 ? 1 : 0)} %`;
const rounded = (value: number, digits = 2): string => String(Number(value.toFixed(digits)));

/** Why this composition: the three parts of its score, each with its number. */
export function proposalSentence(proposal: Proposal, setting: ProposalSetting): string {
  const { re, ba, cu, parts, nearest, evidence, evidenceWeight, oddsLiquidAnd123 } = proposal;
  const ratio = `${setting.rareEarth} 1 : Ba ${rounded(ba / re)} : Cu ${rounded(cu / re)}`;
  const shares = `${percent(re)}, ${percent(ba)} and ${percent(cu)} of the cations`;
  const diagram =
    setting.meltOffsetJPerMol === 0
      ? 'the diagram'
      : `the diagram with the melt's energy moved by ${rounded(setting.meltOffsetJPerMol / 1000)} kJ/mol (not equilibrium)`;
  const field = setting.isFieldLeftOut
    ? `${diagram} gives liquid with 123 no odds anywhere at ${setting.temperatureC} degC and ${setting.po2Atm} atm O2, so it was left out`
    : `${diagram} gives liquid with 123 odds of ${percent(oddsLiquidAnd123)} at ${setting.temperatureC} degC and ${setting.po2Atm} atm O2`;
  const space = nearest
    ? `the nearest tried is ${nearest.tried.label} at ${rounded(nearest.distance, 3)} of the triangle's side`
    : 'nothing was tried yet';
  const apart =
    proposal.nearestProposal === null
      ? ''
      : `, the nearest other proposal at ${rounded(proposal.nearestProposal, 3)}`;
  const record =
    evidenceWeight < THIN_EVIDENCE
      ? `the record near by (${rounded(evidenceWeight)} films' worth) says little`
      : `the record near by, ${rounded(evidenceWeight)} films' worth, gives passing odds of ${percent(evidence.mean)} ± ${percent(evidence.standardDeviation)}`;
  return `${ratio} (${shares}): ${field}; ${space}${apart}; ${record}. Score ${rounded(proposal.score, 3)} = field ${rounded(parts.field)} x space ${rounded(parts.space)} x evidence ${rounded(parts.evidence)}.`;
}

/** The likeliest ways for it to fail, most pressing first. */
export function proposalRisks(
  proposal: Proposal,
  { lengthScale, isFieldLeftOut, meltOffsetJPerMol }: ProposalSetting,
): string {
  const { oddsLiquidAnd123, nearest } = proposal;
  const risks: string[] = [];
  if (isFieldLeftOut || oddsLiquidAnd123 < EVEN_ODDS) {
    risks.push(
      isFieldLeftOut
        ? 'no liquid, or liquid without 123: the diagram says so; another temperature or oxygen pressure may serve better'
        : `no liquid, or liquid without 123: the diagram says so with odds of ${percent(1 - oddsLiquidAnd123)}`,
    );
  }
  if (
    nearest &&
    nearest.distance <= NEW_GROUND_LENGTHS * lengthScale &&
    nearest.tried.outcome === 'falls short'
  ) {
    const why = nearest.tried.reason === '' ? '' : ` (${nearest.tried.reason.replace(/\.$/, '')})`;
    risks.push(`the same that made ${nearest.tried.label} fall short${why}`);
  }
  if (!nearest || nearest.distance > NEW_GROUND_LENGTHS * lengthScale) {
    risks.push('new ground: no film near it says anything');
  }
  risks.push(
    meltOffsetJPerMol === 0
      ? 'the diagram is of bulk equilibrium, a film may stop short of it or react with its substrate'
      : 'the odds rest on the energy that the melt was moved by: by bulk equilibrium they may be far lower',
  );
  return `${risks.join('; ')}.`.replace(/^./, (letter) => letter.toUpperCase());
}
