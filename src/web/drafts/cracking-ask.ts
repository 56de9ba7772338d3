// What growth.cracking is asked of a film on its substrate. Pure.
import type { Stated } from '../../records/common.ts';
import { FILM_MECHANICS } from '../../science/tables/film-mechanics.ts';
import { THERMAL_EXPANSION } from '../../science/tables/thermal-expansion.ts';
import { type FilmAlongPath, hottestIndex } from './film-along-path.ts';
import { type InputSpec, type InputTexts, readInputs } from './stated-inputs.ts';
import type { Faults } from './typed-numbers.ts';

/** Standard uncertainty of a growth temperature [common practice]. */
const GROWTH_DOUBT_K = 10;
/** Coldest that a film is let go to, degC: the room [common practice]. */
const ROOM_C = 25;

const expansion = (id: string) => THERMAL_EXPANSION.records.find((row) => row.id === id);

/** @param substrate row of the table; '' where none is chosen */
export function crackingInputs(film: FilmAlongPath | null, substrate: string): InputSpec[] {
  const toughness = FILM_MECHANICS.records.find(({ id }) => id === 'toughness')!;
  const filmRow = expansion('123')!;
  const row = expansion(substrate);
  const hottestC = film && film.timeS.length > 0 ? film.temperatureC[hottestIndex(film)]! : null;
  return [
    {
      key: 'growthC',
      label: 'Growth temperature, °C',
      limits: { min: ROOM_C, max: 1400, unit: '°C' },
      usual:
        hottestC === null
          ? null
          : { value: Number(hottestC.toFixed(1)), standardUncertainty: GROWTH_DOUBT_K },
      from: `hottest of the path at the film; doubt of ${GROWTH_DOUBT_K} K [common practice]`,
    },
    {
      key: 'substrateExpansionPerMK',
      label: 'Expansion of the substrate, 10⁻⁶/K',
      limits: { min: -5, max: 50 },
      usual: row ? { value: row.value, standardUncertainty: row.standardUncertainty } : null,
      from: row ? `${row.source} ${row.tag}` : 'state it, or choose a substrate of the table',
    },
    {
      key: 'filmExpansionPerMK',
      isRare: true,
      label: 'Expansion of the film, 10⁻⁶/K',
      limits: { min: -5, max: 50 },
      usual: { value: filmRow.value, standardUncertainty: filmRow.standardUncertainty },
      from: `${filmRow.source} ${filmRow.tag}`,
    },
    {
      key: 'toughnessMPaRootM',
      isRare: true,
      label: 'Toughness, MPa m½',
      limits: { above: 0, max: 100 },
      usual: { value: toughness.value, standardUncertainty: toughness.standardUncertainty },
      from: `${toughness.source} ${toughness.tag}`,
    },
    {
      key: 'furtherStrain',
      label: 'Further strain, share',
      limits: { min: -0.1, max: 0.1 },
      usual: null,
      from: 'left-over misfit in the plane, tension above 0; none if left empty',
    },
    {
      key: 'endC',
      isRare: true,
      label: 'Cooled to, °C',
      limits: { min: -273, max: 1000, unit: '°C' },
      usual: { value: ROOM_C, standardUncertainty: null },
      from: 'room; 77 K is −196 °C, where the mean expansion is no longer the one of the table',
      isBare: true,
    },
  ];
}

export function crackingAsk(
  film: FilmAlongPath | null,
  thicknessNm: Stated | null,
  substrate: string,
  texts: InputTexts,
): { request: object | null; faults: Faults; specs: InputSpec[] } {
  const specs = crackingInputs(film, substrate);
  const { values, typed, faults } = readInputs(specs, texts);
  const isKnown =
    thicknessNm !== null && values.growthC !== null && (substrate !== '' || typed.substrateExpansionPerMK);
  if (!isKnown || Object.keys(faults).length > 0) return { request: null, faults, specs };
  const optional = ['substrateExpansionPerMK', 'filmExpansionPerMK', 'toughnessMPaRootM', 'furtherStrain'];
  const request = {
    substrate: substrate || 'as stated',
    thicknessNm,
    growthC: values.growthC,
    endC: values.endC!.value,
    ...Object.fromEntries(optional.flatMap((key) => (typed[key] ? [[key, typed[key]]] : []))),
  };
  return { request, faults, specs };
}
