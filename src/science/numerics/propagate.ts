// Propagation of uncertainty through any model, to first order. Pure; units are the caller's.
import { DomainError } from '../errors.ts';
import { seededRandom } from './seeded-random.ts';

/** A number with its standard uncertainty; null where none was stated, which then adds nothing. */
export interface StatedNumber {
  readonly value: number;
  readonly standardUncertainty: number | null;
}

/** An input of a model. A positive one is moved by a factor, so that it never turns negative. */
export interface UncertainInput extends StatedNumber {
  readonly isPositive?: boolean;
}

export interface Propagated {
  readonly values: Float64Array;
  readonly standardUncertainties: Float64Array;
  /** share of draws of the inputs in which the first output is at least a level */
  readonly oddsAtLeast: (level: number, seed: number) => number;
}

/** Draws of the inputs behind odds; their own standard deviation is at most 0.8 %. */
const DRAWS = 4000;

/** Largest relative uncertainty of a positive input. */
const MOST_RELATIVE = 10;

/**
 * Values of a model and their uncertainties, inputs taken apart from each other: u_k^2 = sum_i ((f_k(x_i + u_i) -
 * f_k(x_i - u_i))/2)^2. A positive input is moved to x exp(+-u/x) instead of x +- u.
 *
 * @param model  numbers in, numbers out; called 1 + 2 n times
 * @param inputs n inputs
 * @returns one value and one uncertainty an output
 * @throws DomainError UNCERTAINTY_TOO_LARGE for a positive input that is moved by more than exp(10)
 *
 * Source: [looked-up: JCGM 100:2008, 5.1.2 and 5.1.3 note 2].
 * Range: models nearly straight over +-u; a strong curve is what the Monte Carlo of the caller is for.
 */
export function propagate(
  model: (values: Float64Array) => ArrayLike<number>,
  inputs: readonly UncertainInput[],
): Propagated {
  const start = Float64Array.from(inputs, ({ value }) => value);
  const values = Float64Array.from(model(start.slice()));
  const variances = new Float64Array(values.length);
  inputs.forEach(({ value, standardUncertainty, isPositive = false }, i) => {
    if (!standardUncertainty) return;
    if (isPositive && !(standardUncertainty <= MOST_RELATIVE * value))
      throw new DomainError(
        'UNCERTAINTY_TOO_LARGE',
        `An input of ${value} has a standard uncertainty of ${standardUncertainty}; allowed is up to ${MOST_RELATIVE} times the value.`,
      );
    const [above, below] = [1, -1].map((sign) => {
      const moved = start.slice();
      moved[i] = isPositive
        ? value * Math.exp((sign * standardUncertainty) / value)
        : value + sign * standardUncertainty;
      return model(moved);
    }) as [ArrayLike<number>, ArrayLike<number>];
    for (let k = 0; k < variances.length; k++)
      variances[k] = variances[k]! + ((above[k]! - below[k]!) / 2) ** 2;
  });
  const oddsAtLeast = (level: number, seed: number): number => {
    const random = seededRandom(seed);
    let reached = 0;
    for (let draw = 0; draw < DRAWS; draw++) {
      const drawn = Float64Array.from(inputs, ({ value, standardUncertainty, isPositive = false }) => {
        const by = (standardUncertainty ?? 0) * random.normal();
        return isPositive && value > 0 ? value * Math.exp(by / value) : value + by;
      });
      if (model(drawn)[0]! >= level) reached++;
    }
    return reached / DRAWS;
  };
  return { values, standardUncertainties: variances.map(Math.sqrt), oddsAtLeast };
}
