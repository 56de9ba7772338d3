// A table of past films while its columns are being named, and its films as the dry run shows them. Pure.
import { ratioText } from '../charts/trade-text.ts';

export interface TableColumn {
  field: string;
  column: number;
  /** as the table states it; '' for text, or where it must be chosen: the column is not read until then */
  unit: string;
  /** for a Jc: where it was measured */
  at?: { temperatureK: number; fieldT: number } | null;
}
export interface TableMapping {
  columns: TableColumn[];
}

/** What the dry run says of one row. */
export interface DryFilm {
  row: number;
  label: string;
  pieceLabel: string | null;
  cations: Record<string, number> | null;
  substrate: string | null;
  route: string | null;
  temperatureC: number | null;
  po2Pa: number | null;
  thicknessNm: number | null;
  overallRateNmPerS: number | null;
  tcMidpointK: number | null;
  tcOnsetK: number | null;
  transitionWidthK: number | null;
  jc: { jcAPerM2: number; at: { temperatureK: number; fieldT: number } | null }[];
  phases: string[];
  note: string | null;
}

export const JC_FIELD = 'jcAPerM2';

export const columnAt = (mapping: TableMapping, column: number): TableColumn | undefined =>
  mapping.columns.find((each) => each.column === column);

/** The mapping with a column meaning a field; '' takes the column out. */
export function withField(
  mapping: TableMapping,
  column: number,
  field: string,
  units: readonly string[],
): TableMapping {
  const others = mapping.columns.filter((each) => each.column !== column);
  if (field === '') return { columns: others };
  const unit = units.length === 1 ? units[0]! : '';
  const made: TableColumn = field === JC_FIELD ? { field, column, unit, at: null } : { field, column, unit };
  return { columns: [...others, made].sort((one, other) => one.column - other.column) };
}

export function withColumnChange(
  mapping: TableMapping,
  column: number,
  change: Partial<Pick<TableColumn, 'unit' | 'at'>>,
): TableMapping {
  return {
    columns: mapping.columns.map((each) => (each.column === column ? { ...each, ...change } : each)),
  };
}

/** What is still to be chosen before the table can be read. A column whose unit is not chosen is left out; the dry run says so. */
export function mappingFaults(mapping: TableMapping): string[] {
  return mapping.columns.some(({ field }) => field === 'label')
    ? []
    : ['Which column names the film? Choose "film" for it.'];
}

const shortText = (value: number): string => String(Number(value.toPrecision(4)));

/** Everything that a row would record, in the units of the trade. */
export function dryFilmText(film: DryFilm): string[] {
  const number = (label: string, value: number | null, unit: string, factor = 1): string =>
    value === null ? '' : `${label} ${shortText(value * factor)} ${unit}`;
  const conditionText = (at: DryFilm['jc'][number]['at']): string =>
    at
      ? ` at ${shortText(at.temperatureK)} K, ${at.fieldT === 0 ? 'self-field' : `${shortText(at.fieldT)} T`}`
      : '';
  return [
    film.cations ? ratioText(film.cations) : '',
    film.substrate ? `on ${film.substrate}` : '',
    film.route ?? '',
    number('grown at', film.temperatureC, '°C'),
    // 760 mTorr are 101.325 Pa
    number('pO₂', film.po2Pa, 'mTorr', 760_000 / 101_325),
    number('thickness', film.thicknessNm, 'nm'),
    number('rate', film.overallRateNmPerS, 'nm/s'),
    number('Tc midpoint', film.tcMidpointK, 'K'),
    number('Tc onset', film.tcOnsetK, 'K'),
    number('width', film.transitionWidthK, 'K'),
    ...film.jc.map(({ jcAPerM2, at }) => `Jc ${shortText(jcAPerM2 * 1e-10)} MA/cm²${conditionText(at)}`),
    film.phases.length > 0 ? `seen: ${film.phases.join(', ')}` : '',
    film.note ? `note: ${film.note}` : '',
  ].filter(Boolean);
}

/** How many films the rows make: a film may have a row for each of its pieces. */
export function filmCount(films: readonly DryFilm[]): number {
  return new Set(films.map(({ label }) => label.toLowerCase())).size;
}
