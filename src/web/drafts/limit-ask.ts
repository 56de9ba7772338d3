// What growth.limit is asked of a path: solute from an undercooling, oxygen from the gas, the rate that the plan wants. Pure.
import type { Stated } from '../../records/common.ts';
import type { PathPlan } from '../../records/kinds.ts';
import { GAS_CONSTANT, ZERO_CELSIUS_K } from '../../science/equilibrium/oxygen.ts';
import { DomainError } from '../../science/errors.ts';
import { placeSegments } from '../../science/growth/path.ts';
import { MELT_REFERENCE_C, meltInput } from './coarsening-ask.ts';
import { type InputSpec, type InputTexts, readInputs } from './stated-inputs.ts';
import type { Faults } from './typed-numbers.ts';

const PA_PER_ATM = 101_325; // exact

export type Carrier = 'none' | 'Ar' | 'N2';

/** What the plan wants, and why. */
export interface WantedRate {
  readonly nmPerS: number;
  readonly from: string;
}

/**
 * Rate that a plan asks for: of its first deposition, else the whole thickness within the time that liquid is there.
 *
 * @returns null where neither is known
 */
export function wantedRate(
  segments: PathPlan['segments'],
  thicknessNm: Stated | null,
  liquidS: number | null,
): WantedRate | null {
  const deposit = segments.find(
    ({ kind, thicknessNm: grown = 0, durationS = 0 }) => kind === 'deposit' && grown > 0 && durationS > 0,
  );
  if (deposit) return { nmPerS: deposit.thicknessNm! / deposit.durationS!, from: 'deposition of this plan' };
  if (thicknessNm && liquidS)
    return {
      nmPerS: thicknessNm.value / liquidS,
      from: 'conversion: the whole thickness while liquid is there',
    };
  return null;
}

/** Middle of the first deposition of a plan, s; null without one, or where the plan cannot be placed. */
export function depositMiddleS(start: PathPlan['start'], segments: PathPlan['segments']): number | null {
  try {
    const deposit = placeSegments(start, segments).find(({ kind }) => kind === 'deposit');
    return deposit ? (deposit.startS + deposit.endS) / 2 : null;
  } catch (error) {
    if (error instanceof DomainError) return null; // said where the plan is written
    throw error;
  }
}

interface LimitSetting {
  /** while liquid is there, or at the hottest */
  readonly temperatureC: number;
  readonly po2Atm: number;
  /** which moment of the path that is */
  readonly when: string;
  readonly wanted: WantedRate | null;
  readonly thicknessNm: Stated | null;
  readonly carrier: Carrier;
}

/** Inputs with what the plan makes of them. */
export function limitInputs({ temperatureC, po2Atm, when, wanted, thicknessNm, carrier }: LimitSetting) {
  const specs: InputSpec[] = [
    {
      key: 'wantedRateNmPerS',
      label: 'Wanted rate, nm/s',
      limits: { above: 0, max: 1e7 },
      usual: wanted ? { value: Number(wanted.nmPerS.toPrecision(4)), standardUncertainty: null } : null,
      from: wanted ? wanted.from : 'the plan does not tell: state it',
      isBare: true,
    },
    {
      key: 'temperatureC',
      label: 'At, °C',
      limits: { min: 0, max: 1400 },
      usual: { value: Number(temperatureC.toFixed(1)), standardUncertainty: null },
      from: `at the film ${when}`,
      isBare: true,
    },
    {
      key: 'po2Pa',
      ask: 'gas.po2Pa',
      label: 'Oxygen pressure, Pa',
      limits: { above: 0, max: 1e6, unit: 'Pa' },
      usual: {
        value: Number((po2Atm * PA_PER_ATM).toPrecision(4)),
        standardUncertainty: Number((0.1 * po2Atm * PA_PER_ATM).toPrecision(2)),
      },
      from: 'at the film then; 10 % for the gauge [common practice]',
    },
    {
      key: 'undercoolingK',
      label: 'Undercooling of the melt, K',
      limits: { above: 0, max: 300, unit: 'K' },
      usual: { value: 10, standardUncertainty: 5 },
      from: 'an order only [not established]',
    },
    {
      key: 'boundaryNm',
      ask: 'liquid.boundaryNm',
      label: 'Liquid crossed, nm',
      limits: { above: 0, max: 1e9 },
      usual: thicknessNm && {
        value: thicknessNm.value,
        standardUncertainty: Math.max(0.3 * thicknessNm.value, thicknessNm.standardUncertainty ?? 0),
      },
      from: 'no more than the film is thick; doubt of 30 % assumed',
    },
    {
      key: 'diffusivityM2PerS',
      isRare: true,
      ask: 'liquid.diffusivityM2PerS',
      label: 'Diffusivity in the melt, m²/s',
      limits: { above: 0, max: 1e-6 },
      ...meltInput('diffusivity'),
    },
    {
      key: 'soluteMolPerM3',
      isRare: true,
      label: `Rare earth dissolved at ${MELT_REFERENCE_C} °C, mol/m³`,
      limits: { above: 0, max: 1e4 },
      ...meltInput('solute'),
    },
    {
      key: 'dissolutionKJPerMol',
      isRare: true,
      label: 'Heat of dissolution, kJ/mol',
      limits: { above: 0, max: 1000 },
      ...meltInput('dissolution-123', 1e-3),
    },
    {
      key: 'oxygenPerFormula',
      isRare: true,
      ask: 'gas.oxygenPerFormula',
      label: 'O atoms from the gas per 123',
      limits: { above: 0, max: 10 },
      usual: null,
      from: '1 if left empty; more for a precursor of metals',
    },
  ];
  if (carrier !== 'none')
    specs.push(
      {
        key: 'totalPressurePa',
        ask: 'gas.totalPressurePa',
        label: 'Total pressure, Pa',
        limits: { above: 0, max: 1e7, unit: 'Pa' },
        usual: { value: PA_PER_ATM, standardUncertainty: null },
        from: 'atmosphere',
        isBare: true,
      },
      {
        key: 'boundaryMm',
        ask: 'gas.boundaryMm',
        label: 'Still gas above the film, mm',
        limits: { above: 0, max: 1000, unit: 'mm' },
        usual: { value: 5, standardUncertainty: 3 },
        from: 'an order only; it depends on the flow [not established]',
      },
    );
  return specs;
}

/** Solubility moved from the reference temperature by the heat of dissolution, relative to that there: exp(-H/R (1/T - 1/T0)). */
function solubilityFactor(temperatureC: number, dissolutionJPerMol: number): number {
  const [kelvin, referenceK] = [temperatureC + ZERO_CELSIUS_K, MELT_REFERENCE_C + ZERO_CELSIUS_K];
  return Math.exp((-dissolutionJPerMol / GAS_CONSTANT) * (1 / kelvin - 1 / referenceK));
}

/**
 * Solute beside the growing face at a temperature, and far from it at the undercooling above. They share solubility and heat,
 * so that their doubts are one: all of it is given to the one far away, as the doubt of the difference.
 */
export function soluteOf(
  temperatureC: number,
  solute: Stated,
  undercoolingK: Stated,
  dissolutionKJPerMol: Stated,
): { bulk: Stated; atFace: Stated } {
  const difference = (c: number, dropK: number, heat: number): number =>
    c * (solubilityFactor(temperatureC + dropK, heat) - solubilityFactor(temperatureC, heat));
  const heat = 1000 * dissolutionKJPerMol.value;
  const best = difference(solute.value, undercoolingK.value, heat);
  const atFace = solute.value * solubilityFactor(temperatureC, heat);
  const half = ({ value, standardUncertainty }: Stated, of: (moved: number) => number): number =>
    standardUncertainty === null
      ? 0
      : (of(value + standardUncertainty) - of(Math.max(0, value - standardUncertainty))) / 2;
  const doubt = Math.hypot(
    half(solute, (c) => difference(c, undercoolingK.value, heat)),
    half(undercoolingK, (dropK) => difference(solute.value, dropK, heat)),
    half(dissolutionKJPerMol, (kJ) => difference(solute.value, undercoolingK.value, 1000 * kJ)),
  );
  return {
    bulk: { value: atFace + best, standardUncertainty: doubt },
    atFace: { value: atFace, standardUncertainty: 0 },
  };
}

export function limitAsk(
  setting: LimitSetting,
  texts: InputTexts,
): { request: object | null; faults: Faults; specs: InputSpec[] } {
  const specs = limitInputs(setting);
  const { values, typed, faults } = readInputs(specs, texts);
  const { undercoolingK, soluteMolPerM3, dissolutionKJPerMol, boundaryNm, temperatureC } = values;
  const isRead = Object.keys(faults).length === 0 && values.wantedRateNmPerS !== null && boundaryNm !== null;
  if (!isRead) return { request: null, faults, specs };
  const { bulk, atFace } = soluteOf(
    temperatureC!.value,
    soluteMolPerM3!,
    undercoolingK!,
    dissolutionKJPerMol!,
  );
  const request = {
    temperatureC: temperatureC!.value,
    wantedRateNmPerS: values.wantedRateNmPerS!.value,
    liquid: {
      ...(typed.diffusivityM2PerS ? { diffusivityM2PerS: typed.diffusivityM2PerS } : {}),
      bulkMolPerM3: bulk,
      atFaceMolPerM3: atFace,
      boundaryNm,
    },
    gas: {
      po2Pa: values.po2Pa,
      ...(typed.oxygenPerFormula ? { oxygenPerFormula: typed.oxygenPerFormula } : {}),
      ...(setting.carrier === 'none'
        ? {}
        : {
            carrier: {
              gas: setting.carrier,
              totalPressurePa: values.totalPressurePa!.value,
              boundaryMm: values.boundaryMm,
            },
          }),
    },
  };
  return { request, faults, specs };
}
