// Which compositions to try next: where the diagram gives odds, far from what was tried, near what passed. Pure.
import { DomainError } from '../errors.ts';
import { type TernaryPoint, triangleDistance } from '../matter/cation-ratios.ts';
import { seededRandom } from '../numerics/seeded-random.ts';
import { type BetaEstimate, passingOdds } from './beta-distribution.ts';
import type { VerdictOutcome } from './facts.ts';

/**
 * Distance in the triangle (side 1) over which one film speaks for another; about a third of the width that the
 * liquid-with-123 region usually has [not established: a choice, to be replaced by what a series shows].
 */
export const DEFAULT_LENGTH = 0.06;
/**
 * Length of the space term, as a share of that of the evidence. Were they alike, the space term would push away from a
 * film that passed more than the evidence draws near: (1 - k)(1 + k)/(2 + k) only falls as k grows. At a half it rises first.
 */
const SPACE_LENGTH_SHARE = 0.5;
/** Two scores nearer than this are a tie, which the seed breaks. */
const TIE = 1e-9;

interface TriedComposition extends TernaryPoint {
  readonly outcome: VerdictOutcome;
  readonly label: string;
  readonly reason: string;
}

interface Region {
  readonly cuMin: number;
  readonly cuMax: number;
  readonly reMax: number;
}

export interface ProposalQuestion {
  readonly compositions: readonly TernaryPoint[];
  /** probability of liquid with 123, one a composition */
  readonly odds: ArrayLike<number>;
  /** odds times the share of the cations that could end as 123, one a composition; the odds stand in where it is left out */
  readonly usefulShares?: ArrayLike<number> | undefined;
  readonly tried: readonly TriedComposition[];
  readonly count: number;
  readonly region: Region | undefined;
  readonly lengthScale: number;
  readonly seed: number;
}

export interface Proposal extends TernaryPoint {
  readonly score: number;
  readonly oddsLiquidAnd123: number;
  readonly nearest: { readonly tried: TriedComposition; readonly distance: number } | null;
  /** distance to the nearest proposal made before it; null for the first */
  readonly nearestProposal: number | null;
  readonly parts: { readonly field: number; readonly space: number; readonly evidence: number };
  readonly evidence: BetaEstimate;
  /** weight of the tried films near enough to speak, in films */
  readonly evidenceWeight: number;
}

export interface Proposals {
  readonly proposals: readonly Proposal[];
  /** every candidate has odds of zero, so the odds were left out */
  readonly isFieldLeftOut: boolean;
}

/**
 * Proposes compositions one after another, each the one with the highest
 *
 *     score = field x space x evidence
 *
 * - field: the share of the cations expected in liquid and 123, so that a composition at which both are there as traces
 *   counts little (the odds of liquid with 123, where no shares are given); a composition of zero odds is never proposed,
 *   unless all are zero;
 * - space = 1 - exp(-d^2/(2 (l/2)^2)), d the distance to the nearest composition that was tried or is already proposed: 0
 *   on top of one, near 1 beyond one length; so that each choice maximises the least distance among equals;
 * - evidence = (1 + P)/(2 + P + F), the odds of passing by the record: P and F sum exp(-d^2/(2 l^2)) over the films
 *   that passed and fell short. What cannot be said counts for distance only.
 *
 * Distances are in the triangle's plane, side 1. The same question gives the same answer; the seed breaks ties only.
 *
 * @throws DomainError PROPOSAL_ODDS if the odds do not match the compositions or are no odds, PROPOSAL_REGION if the
 * region holds no composition with all three cations
 *
 * Source: maximin designs [memory: Johnson, Moore, Ylvisaker 1990, J. Stat. Plan. Inference 26, 131]; the product as a
 * score is a choice, argued in docs/science/learning.md.
 */
export function proposeCompositions(question: ProposalQuestion): Proposals {
  const { compositions, tried, region, lengthScale } = question;
  const odds = checkedShares('odds', question.odds, compositions.length);
  const useful = question.usefulShares
    ? checkedShares('usefulShares', question.usefulShares, compositions.length)
    : odds;
  const inRegion = compositions.flatMap((point, i) => (isCandidate(point, region) ? [i] : []));
  if (inRegion.length === 0) {
    throw new DomainError(
      'PROPOSAL_REGION',
      `None of the ${compositions.length} compositions lies in the region${region ? ` (Cu ${region.cuMin} to ${region.cuMax}, RE up to ${region.reMax})` : ''} with RE, Ba and Cu all above 0.`,
    );
  }
  const isFieldLeftOut = inRegion.every((i) => odds[i] === 0);
  const tieBreak = seededRandom(question.seed);
  const candidates = inRegion
    .filter((i) => isFieldLeftOut || odds[i]! > 0)
    .map((i) => ({
      point: compositions[i]!,
      odds: odds[i]!,
      field: useful[i]!,
      order: tieBreak.uniform(),
      ...recordNear(compositions[i]!, tried, lengthScale),
      toProposal: Number.POSITIVE_INFINITY,
    }));
  const proposals: Proposal[] = [];
  while (proposals.length < question.count && candidates.length > 0) {
    const scored = candidates.map((candidate) => {
      const distance = Math.min(
        candidate.nearest?.distance ?? Number.POSITIVE_INFINITY,
        candidate.toProposal,
      );
      const parts = {
        field: isFieldLeftOut ? 1 : candidate.field,
        space: 1 - kernel(distance, SPACE_LENGTH_SHARE * lengthScale),
        evidence: candidate.evidence.mean,
      };
      return { candidate, parts, score: parts.field * parts.space * parts.evidence };
    });
    let best = scored[0]!;
    for (const one of scored) {
      const lead = one.score - best.score;
      if (lead > TIE || (lead > -TIE && one.candidate.order < best.candidate.order)) best = one;
    }
    if (!(best.score > 0)) break; // nothing but what is tried or proposed is left
    const { candidate, parts, score } = best;
    const { re, ba, cu } = candidate.point;
    proposals.push({
      re,
      ba,
      cu,
      score,
      parts,
      oddsLiquidAnd123: candidate.odds,
      nearest: candidate.nearest,
      nearestProposal: Number.isFinite(candidate.toProposal) ? candidate.toProposal : null,
      evidence: candidate.evidence,
      evidenceWeight: candidate.evidenceWeight,
    });
    for (const other of candidates)
      other.toProposal = Math.min(other.toProposal, triangleDistance(other.point, candidate.point));
    candidates.splice(candidates.indexOf(candidate), 1);
  }
  return { proposals, isFieldLeftOut };
}

const kernel = (distance: number, lengthScale: number): number =>
  Math.exp(-0.5 * (distance / lengthScale) ** 2);

function checkedShares(name: string, values: ArrayLike<number>, n: number): Float64Array {
  if (values.length !== n) {
    throw new DomainError('PROPOSAL_ODDS', `${n} compositions but ${values.length} ${name}.`);
  }
  return Float64Array.from(values, (value, i) => {
    if (!(value >= 0 && value <= 1))
      throw new DomainError('PROPOSAL_ODDS', `${name}[${i}] is ${value}; allowed is 0 to 1.`);
    return value;
  });
}

function isCandidate({ re, ba, cu }: TernaryPoint, region: Region | undefined): boolean {
  if (!(re > 0 && ba > 0 && cu > 0)) return false;
  return !region || (cu >= region.cuMin && cu <= region.cuMax && re <= region.reMax);
}

function recordNear(point: TernaryPoint, tried: readonly TriedComposition[], lengthScale: number) {
  let nearest: Proposal['nearest'] = null;
  let passes = 0;
  let falls = 0;
  for (const one of tried) {
    const distance = triangleDistance(point, one);
    if (!nearest || distance < nearest.distance) nearest = { tried: one, distance };
    const weight = kernel(distance, lengthScale);
    if (one.outcome === 'passes') passes += weight;
    else if (one.outcome === 'falls short') falls += weight;
  }
  return { nearest, evidence: passingOdds(passes, falls), evidenceWeight: passes + falls };
}
