// From the ratio wanted in the film to the target that gives it: factors learnt, typed over, and the answer. Pure.
import type { z } from 'zod';
import { targetInvert } from '../../computations/target/invert.ts';
import { targetTransferFit } from '../../computations/target/transfer-fit.ts';
import type { CationRatio } from '../../records/common.ts';
import type { SeriesView } from '../../records/series-view.ts';
import { isRareEarth } from '../../science/matter/elements.ts';
import { answerNow } from './answer-now.ts';
import { type ProposedLoss, proposedLosses, type TransferPair, transferPairs } from './measured-pairs.ts';
import { fieldOfRefusal, inWords } from './target-words.ts';
import type { FieldReader } from './typed-numbers.ts';

type Factors = Record<string, { value: number; standardUncertainty: number }>;
type TransferAnswer = z.infer<typeof targetTransferFit.response>;
type InvertAnswer = z.infer<typeof targetInvert.response>;

/** What a series knows of the way from target to film. */
export interface FilmKnowledge {
  pairs: readonly TransferPair[];
  leftOut: readonly string[];
  fit: TransferAnswer | null;
  /** why the pairs say nothing */
  fitFault: string | null;
  losses: Record<string, ProposedLoss>;
}

export const NOTHING_KNOWN: FilmKnowledge = {
  pairs: [],
  leftOut: [],
  fit: null,
  fitFault: null,
  losses: {},
};

/** Learns the factors of a series from its measured films. */
export function filmKnowledge(view: SeriesView): FilmKnowledge {
  const { pairs, leftOut } = transferPairs(view);
  const losses = proposedLosses(view);
  if (pairs.length === 0) return { ...NOTHING_KNOWN, leftOut, losses };
  const answer = answerNow(targetTransferFit, { pairs });
  return 'response' in answer
    ? { pairs, leftOut, fit: answer.response, fitFault: null, losses }
    : { pairs, leftOut, fit: null, fitFault: answer.refusal, losses };
}

export interface FactorsDraft {
  /** by element; `''` or left out: the learnt factor, and no loss */
  factors: Readonly<Record<string, string>>;
  losses: Readonly<Record<string, string>>;
  /** whence the losses come; '' where they are typed */
  lossesFrom: string;
}

/** The target for a wanted film. */
export interface FilmAim {
  request: { film: { cations: CationRatio }; factors: Factors; losses?: Factors };
  answer: InvertAnswer;
}

/**
 * The target for a wanted film, by learnt factors with the typed ones in their place. Faults stand under `factor.Ba`, `loss.Cu`.
 *
 * @returns null where nothing is known of the way (the ratio is then the target's own), or something cannot be read
 */
export function readFilmAim(
  cations: CationRatio,
  draft: Pick<FactorsDraft, 'factors' | 'losses'>,
  known: FilmKnowledge,
  read: FieldReader,
): FilmAim | null {
  const wanted = Object.fromEntries(Object.entries(cations).filter(([, amount]) => amount > 0));
  const symbols = Object.keys(wanted);
  const factors: Factors = {};
  const losses: Factors = {};
  let nTyped = 0;
  const before = Object.keys(read.faults).length;
  for (const symbol of symbols) {
    const text = draft.factors[symbol] ?? '';
    const typed = read.stated(`factor.${symbol}`, text, { above: 0, max: 100 });
    if (text.trim() !== '') nTyped += 1;
    const factor = typed
      ? { value: typed.value, standardUncertainty: typed.standardUncertainty ?? 0 }
      : known.fit?.factors[symbol];
    if (factor) factors[symbol] = factor;
    const loss = read.stated(`loss.${symbol}`, draft.losses[symbol] ?? '', { min: 0, max: 99.9, unit: '%' });
    if (!loss) continue;
    nTyped += 1;
    losses[symbol] = {
      value: Number((loss.value / 100).toPrecision(12)),
      standardUncertainty: (loss.standardUncertainty ?? 0) / 100,
    };
  }
  if (Object.keys(read.faults).length > before) return null;
  if (!known.fit && nTyped === 0) return null; // nothing is known: the ratio is the target's own
  const reference = referenceOf(symbols);
  if (!known.fit && reference !== undefined && !factors[reference])
    factors[reference] = { value: 1, standardUncertainty: 0 };
  const request = {
    film: { cations: wanted },
    factors,
    ...(Object.keys(losses).length > 0 ? { losses } : {}),
  };
  const answer = answerNow(targetInvert, request);
  if ('response' in answer) return { request, answer: answer.response };
  const field = fieldOfRefusal(answer.sentence);
  read.faults[/^(factor|loss)\./.test(field) ? field : 'ratio'] = answer.refusal;
  return null;
}

/** The element whose factor is 1 where factors are only typed: the first rare earth, since only ratios count. */
export function referenceOf(symbols: readonly string[]): string | undefined {
  return symbols.find(isRareEarth) ?? symbols[0];
}

/** What the factors rest on, in a sentence. */
export function knowledgeText({ pairs, fit, fitFault }: FilmKnowledge): string {
  if (pairs.length === 0)
    return 'No film of this series has both its target recorded and its composition measured as it left the run, so nothing says how a film differs from its target.';
  if (!fit) return `${pairs.length} measured pairs, but no factors: ${fitFault ?? ''}`;
  return `Learnt from ${pairs.length} ${pairs.length === 1 ? 'pair' : 'pairs'} of target and measured film.`;
}

/** How much the pairs scatter, in words. */
export function scatterText({ degreesOfFreedom, chiSquared, probability }: TransferAnswer): string {
  if (degreesOfFreedom === 0)
    return 'One pair an element: nothing says how much films differ from each other.';
  const factor = Math.sqrt(chiSquared / degreesOfFreedom);
  const odds =
    probability === null
      ? ''
      : ` (probability of so much scatter or more: ${probability < 0.001 ? 'below 0.001' : probability.toPrecision(2)})`;
  return `Films scatter ${factor.toPrecision(2)} times what their stated uncertainties lead one to expect${odds}.`;
}

/** Doubts about the fit and about the step, in the words of the page. */
export function aimDoubts(known: FilmKnowledge, aim: FilmAim | null): string[] {
  return [...(known.fit?.flags ?? []), ...(aim?.answer.flags ?? [])]
    .filter(({ code }) => code !== 'NO_SCATTER_KNOWN') // scatterText says it
    .map(({ message }) => inWords(message));
}
