// From target to film and back: element-wise transfer factors, fitted from earlier pairs. Pure; ratios, shares.
import { DomainError } from '../errors.ts';
import { type Amounts, sumOf } from '../matter/cation-ratios.ts';
import { invertSymmetric } from '../numerics/least-squares.ts';
import { chiSquaredAbove, studentBound } from '../numerics/student-t.ts';

/** A number with its standard uncertainty. */
interface Stated {
  readonly value: number;
  readonly standardUncertainty: number;
}

/** A measured pair: what the target was and what the film had. */
export interface TransferPair {
  readonly label: string;
  readonly target: Amounts;
  readonly film: Amounts;
  /** relative standard uncertainty of each cation's amount in the film, and in the target */
  readonly filmRelativeU: Amounts | number;
  readonly targetRelativeU: Amounts | number;
}

/** Film atoms per target atom, relative to the reference element, whose factor is 1. */
export interface TransferFit {
  readonly reference: string;
  readonly factors: Readonly<Record<string, Stated>>;
  /** correlation of ln factor between elements, in the order of `factors` */
  readonly correlations: readonly (readonly number[])[];
  /** interval that holds the next film's factor with 95 % */
  readonly nextFilm: Readonly<Record<string, { readonly low: number; readonly high: number }>>;
  readonly chiSquared: number;
  readonly degreesOfFreedom: number;
  /** probability of a larger chi squared if the stated uncertainties were right */
  readonly probability: number | null;
  /** each pair's ln factor less the fit, in standard uncertainties, by element */
  readonly residuals: readonly { readonly label: string; readonly inU: Readonly<Record<string, number>> }[];
}

const relative = (given: Amounts | number, symbol: string): number =>
  typeof given === 'number' ? given : (given[symbol] ?? Number.NaN);

/** Below this the squares are lost beside those of the others. */
const LEAST_RELATIVE_U = 1e-12;

function checkPair(pair: TransferPair, i: number): void {
  for (const [field, amounts] of Object.entries({ target: pair.target, film: pair.film })) {
    for (const [symbol, amount] of Object.entries(amounts)) {
      if (!(amount >= 0 && Number.isFinite(amount)))
        throw new DomainError(
          'TRANSFER_RANGE',
          `pairs[${i}].${field}.${symbol} is ${amount}; allowed is 0 or more.`,
          'Correct that amount.',
        );
    }
  }
  for (const symbol of Object.keys(pair.film)) {
    for (const [field, given] of Object.entries({
      filmRelativeU: pair.filmRelativeU,
      targetRelativeU: pair.targetRelativeU,
    })) {
      const u = relative(given, symbol);
      if (!(u >= LEAST_RELATIVE_U && u < 1) && !(field === 'targetRelativeU' && u === 0))
        throw new DomainError(
          'TRANSFER_RANGE',
          `pairs[${i}].${field}${typeof given === 'number' ? '' : `.${symbol}`} is ${u}; allowed is ${LEAST_RELATIVE_U} to below 1${field === 'targetRelativeU' ? ', or 0' : ''}.`,
          'State how well the composition is known: 0.02 is 2 %.',
        );
    }
  }
}

/** Covariance of ln(X_E/X_R) of these elements: u_R^2 in every place and u_E^2 more on the diagonal. */
function ratioCovariance(
  relativeU: Amounts | number,
  symbols: readonly string[],
  reference: string,
): Float64Array {
  const m = symbols.length;
  const covariance = new Float64Array(m * m).fill(relative(relativeU, reference) ** 2);
  symbols.forEach((symbol, k) => {
    covariance[k * m + k]! += relative(relativeU, symbol) ** 2;
  });
  return covariance;
}

/** (y - mean)^T inverse (y - mean) of data on the elements `own`. */
function misfit(
  own: readonly number[],
  inverse: Float64Array,
  y: readonly number[],
  mean: readonly number[],
): number {
  const m = own.length;
  let sum = 0;
  own.forEach((e, k) => {
    own.forEach((g, l) => {
      sum += (y[k]! - mean[e]!) * inverse[k * m + l]! * (y[l]! - mean[g]!);
    });
  });
  return sum;
}

/** Generalised mean of n elements from data that may hold a part of them. */
class WeightedMean {
  readonly #n: number;
  readonly #weight: Float64Array;
  readonly #right: Float64Array;
  readonly #data: { own: readonly number[]; inverse: Float64Array; y: readonly number[] }[] = [];

  constructor(n: number) {
    this.#n = n;
    this.#weight = new Float64Array(n * n);
    this.#right = new Float64Array(n);
  }

  add(own: readonly number[], inverse: Float64Array, y: readonly number[]): void {
    this.#data.push({ own, inverse, y });
    own.forEach((e, k) => {
      own.forEach((g, l) => {
        this.#weight[e * this.#n + g]! += inverse[k * own.length + l]!;
        this.#right[e]! += inverse[k * own.length + l]! * y[l]!;
      });
    });
  }

  solve(): { mean: number[]; covariance: Float64Array } {
    const n = this.#n;
    const covariance = invertSymmetric(this.#weight, n)!;
    const mean = Array.from({ length: n }, (_, e) =>
      this.#right.reduce((sum, right, g) => sum + covariance[e * n + g]! * right, 0),
    );
    return { mean, covariance };
  }

  misfit(mean: readonly number[]): number {
    return this.#data.reduce((sum, { own, inverse, y }) => sum + misfit(own, inverse, y, mean), 0);
  }
}

/** Films whose target has the same ratio, as far as it was measured, and the same uncertainties. */
function filmsOfOneTarget<Film extends { readonly pair: TransferPair }>(films: readonly Film[]): Film[][] {
  const groups = new Map<string, Film[]>();
  for (const film of films) {
    const { target, targetRelativeU } = film.pair;
    const sum = sumOf(target);
    const sorted = (amounts: Amounts, by: number) =>
      Object.keys(amounts)
        .sort()
        .map((symbol) => [symbol, (amounts[symbol]! / by).toPrecision(12)]);
    const key = JSON.stringify([
      sorted(target, sum),
      typeof targetRelativeU === 'number' ? targetRelativeU : sorted(targetRelativeU, 1),
    ]);
    groups.set(key, [...(groups.get(key) ?? []), film]);
  }
  return [...groups.values()];
}

/**
 * Transfer factors by weighted least squares. For film i and element E the datum is
 *   y = ln(F_E/F_R) - ln(T_E/T_R) = ln tau_E,
 * with R the reference. Its variances add relative uncertainties of all four amounts; elements of one film share those of R, so each
 * film has a full covariance C_i. Films of one target (the same ratio and uncertainties) share its error, which no number of films
 * averages away: with film covariances F_i and target covariance T, their mean is m = W^-1 sum F_i^-1 y_i, W = sum F_i^-1, of covariance
 * W^-1 + T, and the fit is the generalised mean of the targets' means. Where chi squared exceeds its degrees of freedom,
 * films differ by more than was stated and all uncertainties grow by sqrt(chi2/dof) [common practice: Birge ratio]. The next film lies
 * within t sqrt(u^2 + C) of the fit, C the mean covariance of a film, t Student's for the degrees of freedom (normal without any).
 *
 * @param reference element whose factor is set to 1: only ratios can be measured
 * @throws DomainError TRANSFER_RANGE, TRANSFER_ELEMENT (no pair has the element in both, or the reference is missing)
 *
 * Source: [derived: generalised least squares of a mean].
 */
export function fitTransfer(pairs: readonly TransferPair[], reference: string): TransferFit {
  pairs.forEach(checkPair);
  pairs.forEach(({ target, film }, i) => {
    if (!((target[reference] ?? 0) > 0 && (film[reference] ?? 0) > 0))
      throw new DomainError(
        'TRANSFER_ELEMENT',
        `pairs[${i}] (${pairs[i]!.label}) lacks the reference ${reference} in target or film.`,
        'Take an element that every pair holds as the reference.',
      );
  });
  const symbols = [
    ...new Set(pairs.flatMap(({ target, film }) => [...Object.keys(target), ...Object.keys(film)])),
  ]
    .filter((symbol) => symbol !== reference)
    .sort();
  if (symbols.length === 0)
    throw new DomainError(
      'TRANSFER_ELEMENT',
      `The pairs hold ${reference} alone: with one element there is no ratio, so no factor can be said.`,
      'Give pairs with two elements or more.',
    );
  const has = (pair: TransferPair, symbol: string): boolean =>
    (pair.target[symbol] ?? 0) > 0 && (pair.film[symbol] ?? 0) > 0;
  for (const symbol of symbols) {
    if (pairs.some((pair) => has(pair, symbol))) continue;
    throw new DomainError(
      'TRANSFER_ELEMENT',
      `No pair holds ${symbol} both in target and film, so its factor cannot be said.`,
      `Add a pair with ${symbol} in both, or leave ${symbol} out.`,
    );
  }
  const n = symbols.length;
  const films = pairs.map((pair) => {
    const own = symbols.map((_, e) => e).filter((e) => has(pair, symbols[e]!));
    const names = own.map((e) => symbols[e]!);
    const ofFilm = ratioCovariance(pair.filmRelativeU, names, reference);
    const ofTarget = ratioCovariance(pair.targetRelativeU, names, reference);
    const y = names.map((symbol) =>
      Math.log(pair.film[symbol]! / pair.film[reference]! / (pair.target[symbol]! / pair.target[reference]!)),
    );
    const inverse = own.length > 0 ? invertSymmetric(ofFilm, own.length)! : new Float64Array(0);
    return { pair, own, y, inverse, covariance: ofFilm.map((each, k) => each + ofTarget[k]!) };
  });
  const total = new WeightedMean(n);
  let chiSquared = 0;
  for (const alike of filmsOfOneTarget(films)) {
    const held = symbols.map((_, e) => e).filter((e) => alike.some(({ own }) => own.includes(e)));
    const m = held.length;
    if (m === 0) continue;
    const group = new WeightedMean(m);
    const ofGroup = alike.map(({ own, ...film }) => ({ ...film, own: own.map((e) => held.indexOf(e)) }));
    for (const { own, inverse, y } of ofGroup) group.add(own, inverse, y);
    const { mean, covariance } = group.solve();
    for (const { own, inverse, y } of ofGroup) chiSquared += misfit(own, inverse, y, mean);
    const names = held.map((e) => symbols[e]!);
    const ofTarget = ratioCovariance(alike[0]!.pair.targetRelativeU, names, reference);
    const inverse = invertSymmetric(
      covariance.map((each, k) => each + ofTarget[k]!),
      m,
    )!;
    total.add(held, inverse, mean);
  }
  const { mean: fit, covariance } = total.solve();
  chiSquared += total.misfit(fit);
  const nData = films.reduce((sum, { own }) => sum + own.length, 0);
  const degreesOfFreedom = nData - n;
  const birge = degreesOfFreedom > 0 ? Math.max(1, chiSquared / degreesOfFreedom) : 1;
  const t = studentBound(0.95, degreesOfFreedom > 0 ? degreesOfFreedom : 1e6);
  const uOf = (e: number): number => Math.sqrt(covariance[e * n + e]! * birge);
  const factors: Record<string, Stated> = { [reference]: { value: 1, standardUncertainty: 0 } };
  const nextFilm: Record<string, { low: number; high: number }> = {};
  symbols.forEach((symbol, e) => {
    const value = Math.exp(fit[e]!);
    factors[symbol] = { value, standardUncertainty: value * uOf(e) };
    const own = films.filter((film) => film.own.includes(e));
    const scatter = own.reduce((sum, film) => {
      const k = film.own.indexOf(e);
      return sum + film.covariance[k * film.own.length + k]! / own.length;
    }, 0);
    const reach = t * Math.sqrt(birge * (covariance[e * n + e]! + scatter));
    nextFilm[symbol] = { low: Math.exp(fit[e]! - reach), high: Math.exp(fit[e]! + reach) };
  });
  const all = [reference, ...symbols];
  return {
    reference,
    factors,
    correlations: all.map((p) =>
      all.map((q) => {
        const [i, j] = [symbols.indexOf(p), symbols.indexOf(q)];
        if (i < 0 || j < 0) return p === q ? 1 : 0;
        return covariance[i * n + j]! / Math.sqrt(covariance[i * n + i]! * covariance[j * n + j]!);
      }),
    ),
    nextFilm,
    chiSquared,
    degreesOfFreedom,
    probability: degreesOfFreedom > 0 ? chiSquaredAbove(chiSquared, degreesOfFreedom) : null,
    residuals: pairs.map(({ label }, i) => {
      const { own, covariance: own2, y } = films[i]!;
      return {
        label,
        inU: Object.fromEntries(
          own.map((e, k) => [symbols[e]!, (y[k]! - fit[e]!) / Math.sqrt(own2[k * own.length + k]!)]),
        ),
      };
    }),
  };
}

/** What is lost from the film after deposition: share of the deposited atoms of each element. */
export type Losses = Readonly<Record<string, Stated>>;

function factorOf(factors: Readonly<Record<string, Stated>>, losses: Losses, symbol: string): Stated {
  const factor = factors[symbol];
  if (factor === undefined)
    throw new DomainError(
      'TRANSFER_ELEMENT',
      `factors.${symbol} is missing: nothing says how ${symbol} goes from target to film.`,
      `Give a factor for ${symbol}: 1 with an uncertainty if it is taken to go over unchanged.`,
    );
  if (!(factor.value > 0 && Number.isFinite(factor.value)))
    throw new DomainError(
      'TRANSFER_RANGE',
      `factors.${symbol} is ${factor.value}; allowed is above 0.`,
      'Correct that factor.',
    );
  const loss = losses[symbol] ?? { value: 0, standardUncertainty: 0 };
  if (!(loss.value >= 0 && loss.value < 1))
    throw new DomainError(
      'TRANSFER_RANGE',
      `losses.${symbol} is ${loss.value}; allowed is 0 to below 1.`,
      'Give the share of the deposited atoms that is lost later.',
    );
  const value = factor.value * (1 - loss.value);
  const relativeU = Math.hypot(
    factor.standardUncertainty / factor.value,
    loss.standardUncertainty / (1 - loss.value),
  );
  return { value, standardUncertainty: value * relativeU };
}

/** A ratio with the standard uncertainty of each amount; the sum is that of the ratio it came from. */
export interface StatedRatio {
  readonly ratio: Record<string, number>;
  readonly ratioU: Record<string, number>;
}

/** Normalises amounts to a sum and carries relative uncertainties along, each element apart. */
function normalised(amounts: Amounts, relativeU: Amounts, sum: number): StatedRatio {
  const total = sumOf(amounts);
  const share = (symbol: string): number => amounts[symbol]! / total;
  const symbols = Object.keys(amounts);
  return {
    ratio: Object.fromEntries(symbols.map((symbol) => [symbol, sum * share(symbol)])),
    // d ln r_E = d ln a_E - sum over F of s_F d ln a_F
    ratioU: Object.fromEntries(
      symbols.map((symbol) => [
        symbol,
        sum *
          share(symbol) *
          Math.hypot(
            ...symbols.map((other) => ((other === symbol ? 1 : 0) - share(other)) * (relativeU[other] ?? 0)),
          ),
      ]),
    ),
  };
}

/**
 * Target for a wanted film: T_E ~ F_E/(tau_E (1 - l_E)), with the sum of the film's amounts.
 * Assumes factors that do not depend on the target's own ratio: a large step is to be measured and repeated.
 *
 * @throws DomainError TRANSFER_ELEMENT, TRANSFER_RANGE
 *
 * Source: [derived: film_E = s tau_E (1 - l_E) target_E, s free].
 */
export function targetForFilm(
  film: Amounts,
  factors: Readonly<Record<string, Stated>>,
  losses: Losses = {},
): StatedRatio {
  return moved(film, (symbol, amount) => {
    const factor = factorOf(factors, losses, symbol);
    return { value: amount / factor.value, relativeU: factor.standardUncertainty / factor.value };
  });
}

/** Film from a target: F_E ~ tau_E (1 - l_E) T_E, with the sum of the target's amounts. Errors as targetForFilm. */
export function filmFromTarget(
  target: Amounts,
  factors: Readonly<Record<string, Stated>>,
  losses: Losses = {},
): StatedRatio {
  return moved(target, (symbol, amount) => {
    const factor = factorOf(factors, losses, symbol);
    return { value: amount * factor.value, relativeU: factor.standardUncertainty / factor.value };
  });
}

function moved(
  from: Amounts,
  move: (symbol: string, amount: number) => { value: number; relativeU: number },
): StatedRatio {
  const there = Object.entries(from).filter(([, amount]) => amount > 0);
  if (there.length === 0)
    throw new DomainError(
      'TRANSFER_RANGE',
      'Every amount is 0; at least one above 0 is needed.',
      'Give a cation ratio.',
    );
  const to = there.map(([symbol, amount]) => [symbol, move(symbol, amount)] as const);
  return normalised(
    Object.fromEntries(to.map(([symbol, { value }]) => [symbol, value])),
    Object.fromEntries(to.map(([symbol, { relativeU }]) => [symbol, relativeU])),
    there.reduce((sum, [, amount]) => sum + amount, 0),
  );
}
