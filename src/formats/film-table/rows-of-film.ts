// A film has a row for each of its pieces: what they say of the film as a whole, and where they disagree. Pure.
import { sharesOf } from '../../science/matter/cation-ratios.ts';
import type { TableFilm } from './schema.ts';

/** What belongs to the film and the run that made it, with the unit of a number. */
const FILM_VALUES = {
  label: '',
  cations: '',
  substrate: '',
  route: '',
  temperatureC: ' degC',
  po2Pa: ' Pa',
  thicknessNm: ' nm',
  overallRateNmPerS: ' nm/s',
} as const;
type FilmValue = keyof typeof FILM_VALUES;
const FILM_VALUE_NAMES = Object.keys(FILM_VALUES) as FilmValue[];

/** Shares of one ratio rounded in two ways, such as 16.7 % and 1:2:3, differ by less. */
const SAME_SHARE = 1e-3;
/** The same number on two ways through SI. */
const SAME_NUMBER = 1e-9;

/** The rows of each film, films and rows in the order of the table. Capital letters make no other film. */
export function rowsByFilm(rows: readonly TableFilm[]): TableFilm[][] {
  const films = new Map<string, TableFilm[]>();
  for (const row of rows) {
    const key = row.label.toLowerCase();
    const known = films.get(key);
    if (known) known.push(row);
    else films.set(key, [row]);
  }
  return [...films.values()];
}

/** What the rows of one film say of it: of each value the first that is stated. The note, if it is the same in each. */
export function filmOfRows(rows: readonly TableFilm[]): Pick<TableFilm, FilmValue | 'note'> {
  const first = <Field extends FilmValue>(field: Field): TableFilm[Field] =>
    (rows.find((row) => row[field] !== null) ?? rows[0]!)[field];
  return {
    label: first('label'),
    cations: first('cations'),
    substrate: first('substrate'),
    route: first('route'),
    temperatureC: first('temperatureC'),
    po2Pa: first('po2Pa'),
    thicknessNm: first('thicknessNm'),
    overallRateNmPerS: first('overallRateNmPerS'),
    note: rows.every(({ note }) => note === rows[0]!.note) ? rows[0]!.note : null,
  };
}

function isSame(one: TableFilm[FilmValue], other: TableFilm[FilmValue]): boolean {
  if (typeof one === 'number' && typeof other === 'number')
    return Math.abs(one - other) <= SAME_NUMBER * Math.max(Math.abs(one), Math.abs(other));
  if (typeof one !== 'object' || typeof other !== 'object' || one === null || other === null)
    return one === other;
  const [shares, others] = [sharesOf(one), sharesOf(other)];
  return [...Object.keys(shares), ...Object.keys(others)].every(
    (symbol) => Math.abs((shares[symbol] ?? 0) - (others[symbol] ?? 0)) < SAME_SHARE,
  );
}

function valueText(field: FilmValue, value: TableFilm[FilmValue]): string {
  const short = (number: number) => String(Number(number.toPrecision(5)));
  if (typeof value === 'number') return `${short(value)}${FILM_VALUES[field]}`;
  if (value === null || typeof value === 'string') return String(value);
  return Object.entries(value)
    .map(([symbol, amount]) => `${symbol}${short(amount)}`)
    .join(' ');
}

/** A value of a film that two of its rows state differently. */
export interface Disagreement {
  readonly field: FilmValue;
  /** the row whose value is recorded */
  readonly taken: { readonly row: number; readonly text: string };
  readonly other: { readonly row: number; readonly text: string };
}

/** Where the rows of one film disagree about it, each later row against the first that states the value. */
export function disagreementsOf(rows: readonly TableFilm[]): Disagreement[] {
  return FILM_VALUE_NAMES.flatMap((field) => {
    const stating = rows.filter((row) => row[field] !== null);
    const said = ({ row, [field]: value }: TableFilm) => ({ row, text: valueText(field, value) });
    return stating
      .slice(1)
      .filter((row) => !isSame(row[field], stating[0]![field]))
      .map((row) => ({ field, taken: said(stating[0]!), other: said(row) }));
  });
}
