// What growth.oxygenation is asked of the cooling of a path. Pure.
import type { Stated } from '../../records/common.ts';
import { coolingPart, type FilmAlongPath, thinned } from './film-along-path.ts';
import { type InputSpec, type InputTexts, readInputs } from './stated-inputs.ts';
import type { Faults } from './typed-numbers.ts';

/** Each sample moves 400 modes some twenty times. */
const MOST_SAMPLES = 500;

export const OXYGENATION_INPUTS: readonly InputSpec[] = [
  {
    key: 'lateralNm',
    label: 'Half the distance of edges, nm',
    limits: { above: 0, max: 1e8 },
    usual: null,
    from: '1000 ± 500 if left empty; edges, cracks or pores open along ab [not established]',
  },
  {
    key: 'startOxygenAboveSix',
    isRare: true,
    label: 'Oxygen above 6 at the start',
    limits: { min: 0, max: 1.2 },
    usual: null,
    from: 'in balance with the gas at the end of growth if left empty',
    isBare: true,
  },
  {
    key: 'temperatureUK',
    label: 'Doubt of the temperature, K',
    limits: { min: 0, max: 200, unit: 'K' },
    usual: { value: 10, standardUncertainty: null },
    from: 'standard uncertainty of the surface [common practice]',
    isBare: true,
  },
  {
    key: 'holdC',
    label: 'For a hold at, °C',
    limits: { min: 100, max: 1000, unit: '°C' },
    usual: { value: 450, standardUncertainty: null },
    from: 'usual anneals are at 450 to 550 °C [common practice]',
    isBare: true,
  },
  {
    key: 'sharePercent',
    isRare: true,
    ask: 'share',
    label: 'Until the way is done to, %',
    limits: { min: 1, max: 99.99, unit: '%' },
    usual: { value: 95, standardUncertainty: null },
    from: 'of the way to balance with the gas [common practice]',
    isBare: true,
  },
];

/** Coldest that the entry follows, degC. */
const COLDEST_C = 0;

export function oxygenationAsk(
  film: FilmAlongPath | null,
  thicknessNm: Stated | null,
  texts: InputTexts,
): { request: object | null; faults: Faults; hasCooling: boolean } {
  const { values, typed, faults } = readInputs(OXYGENATION_INPUTS, texts);
  const cooling = film && coolingPart(film);
  const hasCooling = cooling !== null && cooling.timeS.at(-1)! > cooling.timeS[0]!;
  if (!cooling || !hasCooling || !thicknessNm || Object.keys(faults).length > 0)
    return { request: null, faults, hasCooling };
  const path = thinned(cooling, MOST_SAMPLES);
  const request = {
    path: { ...path, temperatureC: path.temperatureC.map((each) => Math.max(COLDEST_C, each)) },
    thicknessNm,
    ...(typed.lateralNm ? { lateralNm: typed.lateralNm } : {}),
    ...(typed.startOxygenAboveSix ? { startOxygenAboveSix: typed.startOxygenAboveSix.value } : {}),
    temperatureUK: values.temperatureUK!.value,
    holdC: values.holdC!.value,
    share: values.sharePercent!.value / 100,
  };
  return { request, faults, hasCooling };
}
