// Thickness per pulse from measured films, and the pulses for a wanted thickness. nm, s.
import { DomainError } from '../errors.ts';
import type { StatedNumber } from '../numerics/propagate.ts';
import { studentBound } from '../numerics/student-t.ts';
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
 * Thickness per pulse b by weighted least squares through the origin: b = sum(w N y)/sum(w N^2), var b = 1/sum(w N^2),
 * w = 1/u^2. Films that scatter by more than they state widen it. Where a film states no uncertainty all have the same
 * weight, and the scatter about the line gives the variance.
 *
 * @param films one or more films of one target at one fluence, measured apart from each other
 * @throws DomainError GROWTH_TOO_FEW without a film, GROWTH_RANGE for a count or thickness not above 0
 *
 * Source: [looked-up: NIST Statistical Reference Datasets, linear regression without intercept]; widening
 * [memory: Birge 1932, Phys. Rev. 40, 207].
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
  const isStated = films.every(({ thicknessNm }) => thicknessNm.standardUncertainty !== null);
  const weightOf = ({ thicknessNm }: CalibrationFilm): number =>
    isStated ? 1 / thicknessNm.standardUncertainty! ** 2 : 1;
  let squares = 0;
  let products = 0;
  for (const film of films) {
    squares += weightOf(film) * film.pulses ** 2;
    products += weightOf(film) * film.pulses * film.thicknessNm.value;
  }
  const nmPerPulse = products / squares;
  let residual = 0;
  let relative = 0;
  let statedRelative = 0;
  for (const film of films) {
    const off = film.thicknessNm.value - nmPerPulse * film.pulses;
    residual += weightOf(film) * off ** 2;
    relative += (off / (nmPerPulse * film.pulses)) ** 2;
    statedRelative += ((film.thicknessNm.standardUncertainty ?? 0) / film.thicknessNm.value) ** 2;
  }
  const degreesOfFreedom = films.length - 1;
  const perFreedom = degreesOfFreedom > 0 ? residual / degreesOfFreedom : Number.NaN;
  const widening = isStated ? Math.sqrt(Math.max(1, perFreedom || 1)) : 1;
  const thicknesses = films.map(({ thicknessNm }) => thicknessNm.value);
  return {
    nmPerPulse,
    variance: (isStated ? widening ** 2 : perFreedom) / squares,
    chiSquared: isStated ? residual : null,
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
