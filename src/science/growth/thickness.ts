// Thickness per pulse from measured films, and the pulses for a wanted thickness. nm, s.
import { DomainError } from '../errors.ts';
import type { StatedNumber } from '../numerics/propagate.ts';
import { studentBound } from '../numerics/student-t.ts';
import { fitThroughOrigin } from '../numerics/through-origin.ts';
import { checkRange, POSITIVE } from './range.ts';

export interface CalibrationFilm {
  readonly pulses: number;
  readonly thicknessNm: StatedNumber;
}

export interface PulseYield {
  /** slope through the origin, nm per pulse */
  readonly nmPerPulse: number;
  /** variance of the slope without the part that all films share; NaN for one film without an uncertainty */
  readonly variance: number;
  /** sum of ((y - b N)/u)^2; null where a film states no uncertainty */
  readonly chiSquared: number | null;
  readonly degreesOfFreedom: number;
  /** factor that the stated uncertainties were widened by: the root of chi squared a degree of freedom, where above 1 */
  readonly widening: number;
  /** relative standard deviation of one film's measured thickness about the line */
  readonly relativeScatter: number;
  readonly thinnestNm: number;
  readonly thickestNm: number;
}

/**
 * Thickness per pulse: the slope of thickness over pulses through the origin (fitThroughOrigin), and how films scatter.
 *
 * @param films one or more films of one target at one fluence, measured apart from each other
 * @throws DomainError GROWTH_TOO_FEW without a film, GROWTH_RANGE for a count or thickness not above 0
 *
 * Source: as fitThroughOrigin.
 * Range: a yield that does not drift with the number of pulses.
 */
export function fitPulseYield(films: readonly CalibrationFilm[]): PulseYield {
  if (films.length === 0) throw new DomainError('GROWTH_TOO_FEW', 'A group of 0 films; expected 1 or more.');
  films.forEach(({ pulses, thicknessNm }, i) => {
    checkRange(`calibrations[${i}].pulses`, pulses, POSITIVE);
    checkRange(`calibrations[${i}].thicknessNm`, thicknessNm.value, POSITIVE);
    if (thicknessNm.standardUncertainty !== null)
      checkRange(
        `calibrations[${i}].thicknessNm.standardUncertainty`,
        thicknessNm.standardUncertainty,
        POSITIVE,
      );
  });
  const line = fitThroughOrigin(
    films.map(({ pulses }) => pulses),
    films.map(({ thicknessNm }) => thicknessNm.value),
    films.map(({ thicknessNm }) => thicknessNm.standardUncertainty),
  );
  const { slope: nmPerPulse, variance, chiSquared, degreesOfFreedom, widening } = line;
  let relative = 0;
  let statedRelative = 0;
  for (const { pulses, thicknessNm } of films) {
    relative += (thicknessNm.value / (nmPerPulse * pulses) - 1) ** 2;
    statedRelative += ((thicknessNm.standardUncertainty ?? 0) / thicknessNm.value) ** 2;
  }
  const thicknesses = films.map(({ thicknessNm }) => thicknessNm.value);
  return {
    nmPerPulse,
    variance,
    chiSquared,
    degreesOfFreedom,
    widening,
    relativeScatter: Math.max(
      degreesOfFreedom > 0 ? Math.sqrt(relative / degreesOfFreedom) : 0,
      Math.sqrt(statedRelative / films.length),
    ),
    thinnestNm: Math.min(...thicknesses),
    thickestNm: Math.max(...thicknesses),
  };
}

export interface PulseCount {
  readonly pulses: number;
  /** of the count itself: slope and the part that all films share */
  readonly standardUncertainty: number;
  /** pulses between which the thickness wanted is met with the probability given; null with one film alone */
  readonly low: number | null;
  readonly high: number | null;
}

/**
 * Pulses for a wanted thickness N = T/b, and the interval for one more film, whose own scatter comes on top of the line's:
 * N +- t sqrt(u_N^2 + (s T/b)^2), t of Student for the films' degrees of freedom.
 *
 * @param commonRelativeU relative uncertainty that all measured thicknesses share (the gauge's scale)
 * @throws DomainError GROWTH_RANGE
 *
 * Source: [memory: prediction interval of a line, any textbook of statistics].
 * Range: relative uncertainties up to about 0.3; thicknesses near those measured.
 */
export function pulsesFor(
  thicknessNm: number,
  fit: PulseYield,
  commonRelativeU: number,
  probability: number,
): PulseCount {
  checkRange('wanted.thicknessNm', thicknessNm, POSITIVE);
  checkRange('wanted.probability', probability, { min: 0.5, max: 0.999 });
  const pulses = thicknessNm / fit.nmPerPulse;
  const standardUncertainty = pulses * Math.hypot(Math.sqrt(fit.variance) / fit.nmPerPulse, commonRelativeU);
  if (fit.degreesOfFreedom === 0 || !Number.isFinite(standardUncertainty))
    return { pulses, standardUncertainty, low: null, high: null };
  const half =
    studentBound(probability, fit.degreesOfFreedom) *
    Math.hypot(standardUncertainty, pulses * fit.relativeScatter);
  return { pulses, standardUncertainty, low: Math.max(0, pulses - half), high: pulses + half };
}
