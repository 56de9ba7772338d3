// Losses with their uncertainties, by each published line; and losses fitted to measured compositions.
import { DomainError } from '../errors.ts';
import { isRareEarth } from '../matter/elements.ts';
import { propagate, type StatedNumber } from '../numerics/propagate.ts';
import { fitThroughOrigin, type OriginLine } from '../numerics/through-origin.ts';
import {
  dose,
  type FilmAmounts,
  filmAmounts,
  fluxesAlong,
  type LossShares,
  lossOver,
  type SurfaceChemistry,
} from './evaporation.ts';
import type { PathSamples } from './path.ts';
import { checkRange, POSITIVE } from './range.ts';
import { lineDoubtDecades } from './vapour.ts';

/** One standard uncertainty of what the losses rest on. */
export interface LossDoubts {
  readonly temperatureK: number;
  readonly log10Po2: number;
  /** relative, of the sticking coefficient and of each activity */
  readonly sticking: number;
  readonly activityBa: number;
  readonly activityCu: number;
  readonly thickness: number;
}

const LAWS = ['constant', 'firstOrder', 'falling'] as const satisfies readonly (keyof LossShares)[];
const LINES = ['ba1939', 'ba1968', 'cu'] as const;
export type LossLine = (typeof LINES)[number];
export type StatedLosses = Readonly<
  Record<LossLine, Readonly<Record<keyof LossShares, { value: number; standardUncertainty: number }>>>
>;

/** Hottest sample of a path, K. */
export function hottestK(path: PathSamples): number {
  return path.temperatureK.reduce((most, each) => Math.max(most, each), 0);
}

/**
 * Shares lost over a path with their uncertainties (first order): temperature and pO2 shifted over the whole path,
 * sticking, activities, thickness and the line's own doubt at the hottest sample as factors. The two lines for BaO are
 * given apart: their distance is not in either uncertainty.
 *
 * @throws DomainError GROWTH_RANGE for a doubt below 0 or a sticking outside 0 to 1
 * Source: as lossOver and propagate.
 */
export function statedLosses(
  path: PathSamples,
  chemistry: SurfaceChemistry,
  amounts: FilmAmounts,
  exponent: number,
  doubts: LossDoubts,
): StatedLosses {
  for (const [name, value] of Object.entries(doubts)) checkRange(`doubts.${name}`, value, { min: 0 });
  checkRange('sticking', chemistry.sticking, { min: 0, max: 1, isAboveMin: true });
  checkRange('activityExponent', exponent, { min: 0, max: 20 });
  const temperatureK = hottestK(path);
  const factor = (standardUncertainty: number) => ({ value: 1, standardUncertainty, isPositive: true });
  const { values, standardUncertainties } = propagate(
    ([shiftK, shiftLog, sticking, activityBa, activityCu, thickness, line1939, line1968, lineCu]) => {
      const moved = {
        timeS: path.timeS,
        temperatureK: path.temperatureK.map((each) => each + shiftK!),
        log10Po2Atm: path.log10Po2Atm.map((each) => each + shiftLog!),
      };
      const fluxes = fluxesAlong(moved, chemistry);
      const scaled = (flux: Float64Array, by: number) => flux.map((each) => each * by * sticking!);
      const film = { re: amounts.re * thickness!, ba: amounts.ba * thickness!, cu: amounts.cu * thickness! };
      const cu = scaled(fluxes.cu, activityCu! * lineCu!);
      const by1939 = lossOver(
        path.timeS,
        { ba: scaled(fluxes.ba1939, activityBa! * line1939!), cu },
        film,
        exponent,
      );
      const by1968 = lossOver(
        path.timeS,
        { ba: scaled(fluxes.ba1968, activityBa! * line1968!), cu },
        film,
        exponent,
      );
      return [by1939.ba, by1968.ba, by1968.cu].flatMap((shares) => LAWS.map((law) => shares[law]));
    },
    [
      { value: 0, standardUncertainty: doubts.temperatureK },
      { value: 0, standardUncertainty: doubts.log10Po2 },
      factor(doubts.sticking),
      factor(doubts.activityBa),
      factor(doubts.activityCu),
      factor(doubts.thickness),
      factor(Math.LN10 * lineDoubtDecades('BaO-1939', temperatureK)),
      factor(Math.LN10 * lineDoubtDecades('BaO-1968', temperatureK)),
      factor(Math.LN10 * lineDoubtDecades('Cu-coefficients', temperatureK)),
    ],
  );
  return Object.fromEntries(
    LINES.map((line, i) => [
      line,
      Object.fromEntries(
        LAWS.map((law, k) => [
          law,
          { value: values[3 * i + k]!, standardUncertainty: standardUncertainties[3 * i + k]! },
        ]),
      ),
    ]),
  ) as unknown as StatedLosses;
}

/** A film measured before and after a path. */
export interface MeasuredPair {
  readonly before: Readonly<Record<string, number>>;
  readonly after: Readonly<Record<string, number>>;
  /** relative uncertainty of one cation ratio of one measurement */
  readonly relativeRatioU: number | null;
  readonly thicknessM: number;
  readonly path: PathSamples;
  readonly chemistry: SurfaceChemistry;
}

export interface FittedLoss {
  /** measured loss over the first-order bound of a line; above 1: more is gone than can evaporate by it */
  readonly scale: StatedNumber;
  readonly line: OriginLine;
}

/** ln(before/after) of a cation's ratio to the rare earths. */
export function logLoss(
  { before, after }: Pick<MeasuredPair, 'before' | 'after'>,
  element: 'Ba' | 'Cu',
  at: string,
): number {
  const ratio = (cations: Readonly<Record<string, number>>, when: string): number => {
    const re = Object.entries(cations).reduce(
      (sum, [symbol, amount]) => (isRareEarth(symbol) ? sum + amount : sum),
      0,
    );
    checkRange(`${at}.${when}: rare earths`, re, POSITIVE);
    checkRange(`${at}.${when}.${element}`, cations[element] ?? 0, POSITIVE);
    return cations[element]! / re;
  };
  return Math.log(ratio(before, 'before') / ratio(after, 'after'));
}

/**
 * Empirical loss: one factor s on a line's first-order bound, ln(before/after) = s integral(J dt)/N0, by least squares
 * through the origin over the measured pairs. A ratio enters twice, so u = sqrt(2) times its relative uncertainty.
 *
 * @throws DomainError GROWTH_TOO_FEW without a pair; GROWTH_RANGE where a ratio cannot be formed
 * Source: [derived: first-order loss; fit as fitThroughOrigin].
 */
export function fitLoss(pairs: readonly MeasuredPair[], line: LossLine): FittedLoss {
  if (pairs.length === 0)
    throw new DomainError('GROWTH_TOO_FEW', 'No pair of compositions before and after; expected 1 or more.');
  const element = line === 'cu' ? 'Cu' : 'Ba';
  const doses = pairs.map(({ before, thicknessM, path, chemistry }) => {
    const amounts = filmAmounts(before, thicknessM);
    return dose(path.timeS, fluxesAlong(path, chemistry)[line]) / amounts[line === 'cu' ? 'cu' : 'ba'];
  });
  const losses = pairs.map((pair, i) => logLoss(pair, element, `pairs[${i}]`));
  const fit = fitThroughOrigin(
    doses,
    losses,
    pairs.map(({ relativeRatioU }, i) => {
      if (relativeRatioU !== null) checkRange(`pairs[${i}].relativeRatioU`, relativeRatioU, POSITIVE);
      return relativeRatioU === null ? null : Math.SQRT2 * relativeRatioU;
    }),
  );
  return {
    scale: {
      value: fit.slope,
      standardUncertainty: Number.isFinite(fit.variance) ? Math.sqrt(fit.variance) : null,
    },
    line: fit,
  };
}
