// The calibration of a melt: its parameters and the doubtful data of the solids fitted together to the calibration set.

import { bracketedRoot } from '../numerics/bracketed-root.ts';
import { fitLeastSquares } from '../numerics/least-squares.ts';
import { MELT_CALIBRATION } from '../tables/melt-calibration.ts';
import { MELT_PRIORS } from '../tables/melt-priors.ts';
import { calibrateSolids, midwayLimitsAtm } from './calibration.ts';
import { decompositionInto, edgeMeltOver, type MeltOpposite, type Placed } from './decomposition.ts';
import { D_BA, D_RE, MELT_NUMBERS, Melt, type MeltForm, type MeltParameters, OMEGA } from './melt.ts';
import { lineRecord, oxygenStateAt, ZERO_CELSIUS_K } from './oxygen.ts';
import { type SolidId, type SolidValues, solidGrandPotentialJPerMol, solidRecord } from './solids.ts';

const PIVOT_K = 850 + ZERO_CELSIUS_K;

type EntryId = (typeof MELT_CALIBRATION.records)[number]['id'];
interface Entry {
  readonly id: EntryId;
  readonly use: 'target' | 'not below' | 'solid';
  readonly value: number;
  readonly sigma: number;
}
const ENTRIES: readonly Entry[] = MELT_CALIBRATION.records;
/** Data of the melt, in the set's order. */
export const MELT_DATA = ENTRIES.filter(({ use }) => use !== 'solid');
/** Data of the solids that a fit may move. */
export const SOLID_DATA = ENTRIES.filter(({ use }) => use === 'solid');

/** A parameter with what is held likely of it. */
interface Prior {
  readonly parameter: string;
  readonly value: number;
  readonly sigma: number;
}
export const priorsOf = (form: MeltForm): readonly Prior[] =>
  MELT_PRIORS.records.filter((record) => record.form === form);

/** A fit's problem: centre of every datum and prior, and data left out. A draw moves the centres. */
export interface FitProblem {
  readonly form: MeltForm;
  /** by id; the set's own value where left out */
  readonly centres: Readonly<Partial<Record<EntryId, number>>>;
  /** by parameter name; the prior's own value where left out */
  readonly priorCentres: Readonly<Record<string, number>>;
  readonly leftOut: readonly EntryId[];
  /** compounds no datum touches, moved by a draw */
  readonly otherSolids: SolidValues;
}

export interface FittedMelt {
  readonly melt: MeltParameters;
  readonly solids: SolidValues;
  /** shifts of the solids' data in widths, then parameters of the melt in widths from the prior's own value */
  readonly coordinates: Float64Array;
  /** model less centre, in the datum's unit, by id, for all data of the melt, left out or not */
  readonly deviations: Record<string, number>;
  readonly cost: { readonly data: number; readonly solids: number; readonly priors: number };
}

/** The solids of a fit from the shifts of their data, in units of the data. */
function solidsFrom(shift: (id: EntryId) => number, other: SolidValues): SolidValues {
  const midway = midwayLimitsAtm();
  const r1Atm = midway.r1Atm * 10 ** shift('limit-r1');
  const of211 = solidRecord('211');
  const turn = shift('slope-211');
  return calibrateSolids({
    given: {
      ...other,
      '011': {
        aJPerMol: solidRecord('011').aJPerMol + shift('solid-011'),
        bJPerMolK: solidRecord('011').bJPerMolK,
      },
      '211': {
        aJPerMol: of211.aJPerMol + shift('solid-211') - turn * PIVOT_K,
        bJPerMolK: of211.bJPerMolK + turn,
      },
    },
    r1Atm,
    r2Atm: ((r1Atm * midway.r2Atm) / midway.r1Atm) * 10 ** shift('limit-ratio'),
    upperAtm: lineRecord('123-upper').a * 10 ** shift('limit-upper'),
    lineSlopeJPerMol: lineRecord('123-emf').a + shift('slope-emf'),
    turn132JPerMolK: shift('slope-132'),
  });
}

/** Melt and solids at one T and pO2. */
class Scene {
  readonly melt: Melt;
  readonly #solids: SolidValues;
  readonly #oxygen: ReturnType<typeof oxygenStateAt>;

  constructor(parameters: MeltParameters, solids: SolidValues, temperatureK: number, po2Atm: number) {
    this.#oxygen = oxygenStateAt(temperatureK, po2Atm);
    this.#solids = solids;
    this.melt = new Melt(parameters, this.#oxygen);
  }

  placed(id: SolidId): Placed {
    const record = solidRecord(id);
    const cations = record.re + record.ba + record.cu;
    return {
      shares: [record.re / cations, record.ba / cations, record.cu / cations],
      height: solidGrandPotentialJPerMol(record, this.#solids, this.#oxygen) / cations,
    };
  }

  /** Height of a solid above the plane that touches the melt at a composition. */
  aboveMelt(id: SolidId, { y, b }: MeltOpposite): number {
    const n = new Float64Array(MELT_NUMBERS);
    this.melt.evaluate(y, b, n);
    const cu = n[OMEGA]! - y * n[D_RE]! - b * n[D_BA]!;
    const { shares, height } = this.placed(id);
    return height - cu - shares[0] * n[D_RE]! - shares[1] * n[D_BA]!;
  }
}

const RANGE_K = [800, 1800] as const;
const ROOT_K = 1e-6;
/** What a datum deviates by when the model has no such melting in the range, in widths. */
const NONE = 60;

/** The peritectic 123 = 211 + liquid, wherever it lies, stable or not. */
export function peritecticOf(
  melt: MeltParameters,
  solids: SolidValues,
  po2Atm: number,
): (MeltOpposite & { temperatureK: number }) | undefined {
  const at = (temperatureK: number): MeltOpposite => {
    const scene = new Scene(melt, solids, temperatureK, po2Atm);
    return decompositionInto(scene.melt, scene.placed('123'), scene.placed('211'));
  };
  const temperatureK = bracketedRoot((t) => at(t).height, RANGE_K, 1285, 3, ROOT_K);
  return temperatureK === undefined ? undefined : { temperatureK, ...at(temperatureK) };
}

/** J per mole of 123 that move its peritectic in air by 1 K: slope of its distance from 211 + liquid. */
export function jPerMolPerKelvinOf(melt: MeltParameters, solids: SolidValues): number {
  const { temperatureK } = peritecticOf(melt, solids, 0.21)!;
  const [before, after] = [temperatureK - 0.5, temperatureK + 0.5].map((t) => {
    const scene = new Scene(melt, solids, t, 0.21);
    return decompositionInto(scene.melt, scene.placed('123'), scene.placed('211')).height;
  }) as [number, number];
  return 6 * (before - after);
}

/** What the model says of every datum of the melt, in the datum's unit; NaN where it has no such thing. */
function modelled(melt: MeltParameters, solids: SolidValues): Map<EntryId, number> {
  const scene = (t: number, p: number): Scene => new Scene(melt, solids, t, p);
  const found = new Map<EntryId, number>();
  const rootOf = (f: (t: number) => number, start: number): number =>
    bracketedRoot(f, RANGE_K, start, 3, ROOT_K) ?? Number.NaN;
  found.set(
    'cu-o-eutectic',
    rootOf((t) => scene(t, 0.681).melt.omega(0, 0), 1364),
  );
  const edge = (t: number): MeltOpposite => {
    const here = scene(t, 0.21);
    return edgeMeltOver(here.melt, here.placed('011'), here.placed('cuo'));
  };
  const eutecticK = rootOf((t) => edge(t).height, 1193);
  found.set('barium-side-eutectic', eutecticK);
  found.set('eutectic-cuprous', Number.isNaN(eutecticK) ? Number.NaN : edge(eutecticK).cuprousShare);
  found.set(
    'barium-cuprate-melts',
    rootOf((t) => {
      const here = scene(t, 0.21);
      const compound = here.placed('011');
      return Math.min(
        ...(['210', 'bao'] as const).map(
          (rich) => decompositionInto(here.melt, compound, here.placed(rich)).height,
        ),
        here.melt.omega(0, 0.5) - compound.height,
      );
    }, 1288),
  );
  for (const [key, po2Atm] of [
    ['oxygen', 1],
    ['air', 0.21],
    ['low', 0.02],
  ] as const) {
    const peritectic = peritecticOf(melt, solids, po2Atm);
    found.set(`peritectic-${key}`, peritectic?.temperatureK ?? Number.NaN);
    const here = peritectic && scene(peritectic.temperatureK, po2Atm);
    for (const id of ['011', '132'] as const) {
      found.set(`stable-${key}-${id}`, here ? here.aboveMelt(id, peritectic) : Number.NaN);
    }
    if (key === 'air') {
      found.set('peritectic-re-share', peritectic ? Math.log(peritectic.y) : Number.NaN);
      found.set('peritectic-cuprous', peritectic?.cuprousShare ?? Number.NaN);
    }
  }
  return found;
}

/** Melt and solids of a point of the fit. */
function partsAt(
  problem: FitProblem,
  coordinates: ArrayLike<number>,
): { melt: MeltParameters; solids: SolidValues } {
  const priors = priorsOf(problem.form);
  const shifts = new Map(SOLID_DATA.map(({ id, sigma }, i) => [id, sigma * coordinates[i]!]));
  const values = Object.fromEntries(
    priors.map(({ parameter, value, sigma }, i) => [
      parameter,
      value + sigma * coordinates[SOLID_DATA.length + i]!,
    ]),
  );
  return {
    melt: { form: problem.form, values },
    solids: solidsFrom((id) => shifts.get(id)!, problem.otherSolids),
  };
}

/** Deviations of the melt's data in widths: one-sided data count only below their value. */
function deviationsInWidths(problem: FitProblem, model: ReadonlyMap<EntryId, number>): number[] {
  return MELT_DATA.map(({ id, use, value, sigma }) => {
    if (problem.leftOut.includes(id)) return 0;
    const off = (model.get(id)! - (problem.centres[id] ?? value)) / sigma;
    if (Number.isNaN(off)) return NONE;
    return use === 'not below' ? Math.min(0, off) : Math.max(-NONE, Math.min(NONE, off));
  });
}

/** Every residual of a point, in widths: data of the melt, data of the solids, priors. */
function residualsAt(problem: FitProblem, coordinates: ArrayLike<number>): Float64Array {
  const { melt, solids } = partsAt(problem, coordinates);
  const priors = priorsOf(problem.form);
  return Float64Array.from([
    ...deviationsInWidths(problem, modelled(melt, solids)),
    ...SOLID_DATA.map(({ id, sigma }, i) => coordinates[i]! - (problem.centres[id] ?? 0) / sigma),
    ...priors.map(
      ({ parameter, value, sigma }, i) =>
        coordinates[SOLID_DATA.length + i]! - ((problem.priorCentres[parameter] ?? value) - value) / sigma,
    ),
  ]);
}

/**
 * The melt and the solids of least cost: sum over data, solids and priors of (deviation/width)^2.
 *
 * @param start coordinates to begin at, in widths; the priors' own values if left out
 */
export function fitMelt(problem: FitProblem, start?: ArrayLike<number>): FittedMelt {
  const priors = priorsOf(problem.form);
  const nCoordinates = SOLID_DATA.length + priors.length;
  const nResiduals = MELT_DATA.length + nCoordinates;
  let asked: Float64Array | undefined;
  let answered: Float64Array = new Float64Array(0);
  const model = (coordinates: Float64Array, i: number): number => {
    if (asked === undefined || asked.some((value, k) => value !== coordinates[k])) {
      asked = coordinates.slice();
      answered = residualsAt(problem, coordinates);
    }
    return answered[i]!;
  };
  const { parameters } = fitLeastSquares(
    model,
    new Float64Array(nResiduals),
    start ?? new Float64Array(nCoordinates),
    {
      scales: new Float64Array(nCoordinates).fill(1),
      maxIterations: 120,
      tolerance: 1e-7,
    },
  );
  return fittedAt(problem, parameters);
}

/** A point of a fit with its deviations and cost. */
export function fittedAt(problem: FitProblem, coordinates: ArrayLike<number>): FittedMelt {
  const { melt, solids } = partsAt(problem, coordinates);
  const model = modelled(melt, solids);
  const residuals = residualsAt(problem, coordinates);
  const squares = (from: number, to: number): number =>
    residuals.subarray(from, to).reduce((sum, residual) => sum + residual * residual, 0);
  const [nData, nSolids] = [MELT_DATA.length, SOLID_DATA.length];
  return {
    melt,
    solids,
    coordinates: Float64Array.from(coordinates),
    deviations: Object.fromEntries(
      MELT_DATA.map(({ id, value }) => [id, model.get(id)! - (problem.centres[id] ?? value)]),
    ),
    cost: {
      data: squares(0, nData),
      solids: squares(nData, nData + nSolids),
      priors: squares(nData + nSolids, residuals.length),
    },
  };
}
