// A base with additions turned into one cation ratio. Pure; moles per mole of base formula.
import { DomainError } from '../errors.ts';
import { type Amounts, cationsOf, rareEarthRadius } from '../matter/cation-ratios.ts';
import { elementAmounts, OPEN_RARE_EARTH, parseFormula } from '../matter/formula.ts';
import { ADDITION_PHASES } from '../tables/addition-phases.ts';
import { IONIC_RADII } from '../tables/ionic-radii.ts';

/** per100Matrix: moles of it per 100 moles of 123; ofTotal: mole fraction of all formulas, in percent. */
export type MolPercentMeaning = 'per100Matrix' | 'ofTotal';
/** onTop: the matrix keeps its cations; outOfMatrix: the addition's cations are taken out of it. */
export type AdditionCations = 'onTop' | 'outOfMatrix';

export interface Addition {
  readonly formula: string;
  readonly molPercent?: number | undefined;
  readonly volPercent?: number | undefined;
}

/** What an addition came to. */
export interface ResolvedAddition {
  readonly formula: string;
  readonly molesPerMatrix: number;
  /** share of the volume of 123 and all additions; null where a cell volume is missing */
  readonly volumeShare: number | null;
}

export interface WithAdditions {
  /** moles of each cation per mole of the base */
  readonly cations: Record<string, number>;
  readonly additions: readonly ResolvedAddition[];
}

function cationsOfFormula(formula: string, field: string): Record<string, number> {
  const elements = elementAmounts(parseFormula(formula));
  if (OPEN_RARE_EARTH in elements)
    throw new DomainError(
      'ADDITION_RANGE',
      `${field} is '${formula}', with RE not named; a rare earth must be.`,
      'Write for instance YBa2Cu3O7.',
    );
  const cations = cationsOf(elements);
  if (Object.keys(cations).length === 0)
    throw new DomainError(
      'ADDITION_RANGE',
      `${field} is '${formula}', which holds no cation.`,
      'Give a formula with a cation.',
    );
  return cations;
}

/** Volume of one formula, angstrom^3; with another rare earth in it that of its tabled kin with the nearest radius; null where nothing is tabled. */
function volumeOf(formula: string): number | null {
  const cations = cationsOfFormula(formula, 'formula');
  const key = (amounts: Amounts): string =>
    JSON.stringify(
      Object.entries(amounts)
        .map(([symbol, n]) => [rareEarthRadius({ [symbol]: 1 }) && symbol !== 'La' ? 'RE' : symbol, n])
        .sort(),
    );
  const radius = rareEarthRadius(cations)?.meanAngstrom ?? 0;
  const away = (named: string): number =>
    Math.abs((rareEarthRadius(cationsOfFormula(named, 'table'))?.meanAngstrom ?? 0) - radius);
  const kin = ADDITION_PHASES.records.filter(
    (record) => key(cationsOfFormula(record.formula, 'table')) === key(cations),
  );
  const found = kin.sort((one, other) => away(one.formula) - away(other.formula))[0];
  return found ? found.cellVolumeAngstrom3 / found.formulasPerCell : null;
}

/** Volume of a formula of 123, by the mean radius of its rare earths, angstrom^3 [memory: see addition-phases]. */
function volume123(base: Amounts): number {
  const radius = rareEarthRadius(base);
  const ofY = IONIC_RADII.records.find(
    ({ symbol, coordination }) => symbol === 'Y' && coordination === 'VIII',
  )!;
  const beyond = radius ? radius.meanAngstrom - ofY.radiusAngstrom : 0;
  return ADDITION_PHASES.volume123Angstrom3 + ADDITION_PHASES.perAngstromAngstrom3 * beyond;
}

function checked(value: number, field: string, most: number): number {
  if (value >= 0 && value < most) return value;
  throw new DomainError(
    'ADDITION_RANGE',
    `${field} is ${value}; allowed is 0 to below ${most}.`,
    'Correct that figure.',
  );
}

/** Refuses additions that together take more of a cation than the matrix has. */
function checkTaken(matrix: Amounts, additions: readonly Addition[], moles: readonly number[]): void {
  const taken: Record<string, number> = {};
  additions.forEach(({ formula }, i) => {
    for (const [symbol, count] of Object.entries(cationsOfFormula(formula, 'formula'))) {
      if (!(symbol in matrix)) continue;
      taken[symbol] = (taken[symbol] ?? 0) + moles[i]! * count;
      if (taken[symbol] <= matrix[symbol]!) continue;
      throw new DomainError(
        'ADDITION_RANGE',
        `composition.additions[${i}] takes ${i > 0 ? 'with those before it ' : ''}${taken[symbol].toPrecision(3)} ${symbol} out of a matrix that has ${matrix[symbol]}.`,
        'Give less of it, or put it on top.',
      );
    }
  });
}

/**
 * Cations of a base formula with additions, per mole of the base.
 *
 * x mol% per100Matrix: n = x/100. ofTotal: additions hold the shares x_i/100 of all formulas, so n_i = (x_i/100)/(1 - sum x/100).
 * vol%: n_i V_i = q_i (V_123 + sum n_j V_j), with all q given: n_i = q_i V_123/((1 - sum q) V_i). molPercent and volPercent may not be
 * mixed in one base. outOfMatrix: the cations that additions share with the base are taken out of it; those it lacks come on top.
 *
 * @param baseField where the base was given, for refusals
 * @throws DomainError ADDITION_RANGE, FORMULA_BAD, ELEMENT_UNKNOWN
 *
 * Source: [derived: definitions]; cell volumes from addition-phases.
 */
export function withAdditions(
  base: string,
  additions: readonly Addition[],
  meaning: MolPercentMeaning,
  cationsFrom: AdditionCations,
  baseField = 'composition.base',
): WithAdditions {
  const matrix = cationsOfFormula(base, baseField);
  additions.forEach(({ molPercent, volPercent }, i) => {
    if ((molPercent === undefined) === (volPercent === undefined))
      throw new DomainError(
        'ADDITION_RANGE',
        `composition.additions[${i}] has ${molPercent === undefined ? 'neither' : 'both'} molPercent and volPercent; allowed is one of them.`,
        'Give one.',
      );
  });
  const byVolume = additions.filter(({ volPercent }) => volPercent !== undefined).length;
  if (byVolume > 0 && byVolume < additions.length)
    throw new DomainError(
      'ADDITION_RANGE',
      'composition.additions mixes molPercent and volPercent; allowed is one kind.',
      'Give all additions in the same way.',
    );
  const v123 = volume123(matrix);
  const volumes = additions.map(({ formula }) => volumeOf(formula));
  let moles: number[];
  if (byVolume > 0) {
    const shares = additions.map(
      ({ volPercent }, i) => checked(volPercent!, `composition.additions[${i}].volPercent`, 100) / 100,
    );
    const sum = shares.reduce((total, share) => total + share, 0);
    checked(100 * sum, 'the sum of volPercent', 100);
    moles = shares.map((share, i) => {
      const volume = volumes[i];
      if (volume === null || volume === undefined)
        throw new DomainError(
          'ADDITION_RANGE',
          `composition.additions[${i}].formula is '${additions[i]!.formula}', whose cell volume is not tabled; volPercent needs it.`,
          'Give molPercent, or one of the tabled phases.',
        );
      return (share * v123) / ((1 - sum) * volume);
    });
  } else {
    const shares = additions.map(
      ({ molPercent }, i) =>
        checked(molPercent!, `composition.additions[${i}].molPercent`, meaning === 'ofTotal' ? 100 : 10_000) /
        100,
    );
    const sum = shares.reduce((total, share) => total + share, 0);
    if (meaning === 'ofTotal') checked(100 * sum, 'the sum of molPercent', 100);
    moles = meaning === 'ofTotal' ? shares.map((share) => share / (1 - sum)) : shares;
  }
  const cations: Record<string, number> = { ...matrix };
  additions.forEach(({ formula }, i) => {
    for (const [symbol, count] of Object.entries(
      cationsOfFormula(formula, `composition.additions[${i}].formula`),
    )) {
      const isInMatrix = symbol in matrix;
      if (cationsFrom === 'outOfMatrix' && isInMatrix) continue; // taken out and put in again: the sum stays
      cations[symbol] = (cations[symbol] ?? 0) + moles[i]! * count;
    }
  });
  if (cationsFrom === 'outOfMatrix') checkTaken(matrix, additions, moles);
  const whole = v123 + moles.reduce((sum, n, i) => sum + n * (volumes[i] ?? 0), 0);
  return {
    cations,
    additions: additions.map(({ formula }, i) => ({
      formula,
      molesPerMatrix: moles[i]!,
      volumeShare: volumes.includes(null) ? null : (moles[i]! * volumes[i]!) / whole,
    })),
  };
}
