// What growth.evaporation is asked of a film along its path. Pure.
import type { CationRatio, Stated } from '../../records/common.ts';
import { type FilmAlongPath, thinned } from './film-along-path.ts';
import type { FoundPairs } from './measured-pairs.ts';
import { type InputSpec, type InputTexts, readInputs } from './stated-inputs.ts';
import type { Faults } from './typed-numbers.ts';

/** Each sample is worked out some twenty times. */
const MOST_SAMPLES = 1500;

export const EVAPORATION_INPUTS: readonly InputSpec[] = [
  {
    key: 'temperatureUK',
    label: 'Doubt of the temperature, K',
    limits: { min: 0, max: 200, unit: 'K' },
    usual: { value: 10, standardUncertainty: null },
    from: 'standard uncertainty of the surface [common practice]',
    isBare: true,
  },
  {
    key: 'log10Po2U',
    label: 'Doubt of pO₂, decades',
    limits: { min: 0, max: 5 },
    usual: { value: 0.1, standardUncertainty: null },
    from: 'standard uncertainty [common practice]',
    isBare: true,
  },
  {
    key: 'sticking',
    label: 'Sticking coefficient',
    limits: { above: 0, max: 1 },
    usual: null,
    from: '1 if left empty, the largest: losses are then upper bounds',
  },
  {
    key: 'waterPa',
    isRare: true,
    label: 'Water vapour, Pa',
    limits: { min: 0, max: 1e5, unit: 'Pa' },
    usual: { value: 0, standardUncertainty: null },
    from: 'a dry chamber; water carries barium off',
    isBare: true,
  },
  {
    key: 'layerMm',
    isRare: true,
    ask: 'gasLayer.thicknessMm',
    label: 'Still gas above the film, mm',
    limits: { above: 0, max: 1000, unit: 'mm' },
    usual: null,
    from: 'none if left empty: vapour leaves freely, as in vacuum',
    isBare: true,
  },
  {
    key: 'totalPressurePa',
    isRare: true,
    ask: 'gasLayer.totalPressurePa',
    label: 'Total pressure of that gas, Pa',
    limits: { above: 0, max: 1e7, unit: 'Pa' },
    usual: { value: 101_325, standardUncertainty: null },
    from: 'atmosphere; used with still gas alone',
    isBare: true,
  },
  {
    key: 'reducedLog10Po2Atm',
    isRare: true,
    label: 'Reduced surface, log₁₀ pO₂ in atm',
    limits: { min: -60, max: 1 },
    usual: null,
    from: 'balance of copper metal with its oxide if left empty',
    isBare: true,
  },
];

interface EvaporationAsk {
  /** activities of 1; null while something cannot be read */
  request: object | null;
  /** with the activities of the phases at equilibrium, which take longer */
  atEquilibrium: object | null;
  faults: Faults;
}

export function evaporationAsk(
  film: FilmAlongPath | null,
  { cations, thicknessNm }: { cations: CationRatio; thicknessNm: Stated | null },
  pairs: FoundPairs['pairs'],
  texts: InputTexts,
): EvaporationAsk {
  const { values, typed, faults } = readInputs(EVAPORATION_INPUTS, texts);
  if (!film || !thicknessNm || Object.keys(faults).length > 0)
    return { request: null, atEquilibrium: null, faults };
  const request = {
    cations,
    thicknessNm,
    path: thinned(film, MOST_SAMPLES),
    temperatureUK: values.temperatureUK!.value,
    log10Po2U: values.log10Po2U!.value,
    ...(typed.sticking ? { sticking: typed.sticking } : {}),
    ...(values.waterPa!.value > 0 ? { waterPa: values.waterPa!.value } : {}),
    ...(typed.layerMm
      ? {
          gasLayer: {
            thicknessMm: typed.layerMm.value,
            totalPressurePa: values.totalPressurePa!.value,
          },
        }
      : {}),
    ...(typed.reducedLog10Po2Atm ? { reducedLog10Po2Atm: typed.reducedLog10Po2Atm.value } : {}),
    ...(pairs.length > 0 ? { pairs } : {}),
  };
  return {
    request,
    atEquilibrium: { ...request, activities: 'equilibrium' },
    faults,
  };
}
