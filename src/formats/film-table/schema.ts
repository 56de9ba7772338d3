// A table of past films: its cells as text, what its columns may mean, and the films read from it.
import { z } from 'zod';
import type { Encoding } from '../text/encoding.ts';
import type { DecimalMark } from '../text/number-text.ts';
import { type Dimension, UNITS } from '../units.ts';

export const MAX_TABLE_BYTES = 5_000_000;
export const MAX_TABLE_ROWS = 5000;
export const MAX_TABLE_COLUMNS = 200;
export const MAX_CELL = 5000;

export type TableDelimiter = 'tab' | 'semicolon' | 'comma';

/** A table as text: one line of headings, one row a film or piece. */
export interface TextTable {
  readonly headings: readonly string[];
  /** cells as written, blanks around them and quotation marks taken off; as many a row as headings */
  readonly rows: readonly (readonly string[])[];
  /** line of the file that each row begins in */
  readonly lines: readonly number[];
  readonly delimiter: TableDelimiter;
  /** null: no number has one */
  readonly decimalMark: DecimalMark | null;
  readonly encoding: Encoding;
}

interface FieldDefinition {
  /** as a person reads it */
  readonly label: string;
  /** of a number with a unit */
  readonly dimension?: Dimension;
  /** more than one column may have it */
  readonly isRepeated?: boolean;
}

export const FILM_FIELDS = {
  label: { label: 'film' },
  pieceLabel: { label: 'piece' },
  formula: { label: 'cations as a formula (YBa2.3Cu3.8) or ratio (1:2.3:3.8)' },
  rareEarth: { label: 'rare earth (symbol, or mixture such as Y0.5Gd0.5)' },
  amountRe: { label: 'amount of rare earth', dimension: 'share' },
  amountBa: { label: 'amount of Ba', dimension: 'share' },
  amountCu: { label: 'amount of Cu', dimension: 'share' },
  substrate: { label: 'substrate' },
  route: { label: 'route (in situ, ex situ)' },
  temperatureC: { label: 'growth temperature', dimension: 'temperature' },
  po2Pa: { label: 'oxygen partial pressure', dimension: 'pressure' },
  thicknessNm: { label: 'thickness', dimension: 'length' },
  overallRateNmPerS: { label: 'growth rate', dimension: 'rate' },
  tcMidpointK: { label: 'Tc, midpoint', dimension: 'temperature' },
  tcOnsetK: { label: 'Tc, onset', dimension: 'temperature' },
  transitionWidthK: { label: 'transition width', dimension: 'temperature' },
  jcAPerM2: { label: 'Jc', dimension: 'current density', isRepeated: true },
  phases: { label: 'phases seen' },
  note: { label: 'note', isRepeated: true },
} as const satisfies Record<string, FieldDefinition>;
export type FilmField = keyof typeof FILM_FIELDS;

export const FILM_FIELD_NAMES = Object.keys(FILM_FIELDS) as [FilmField, ...FilmField[]];

/** Units to choose from for a field; none for text. */
export function unitsOfFilmField(field: FilmField): string[] {
  const { dimension } = FILM_FIELDS[field] as FieldDefinition;
  // a width is a difference: degrees Celsius would be shifted by 273
  return UNITS.filter((unit) => unit.dimension === dimension)
    .filter((unit) => field !== 'transitionWidthK' || unit.offset === 0)
    .map(({ symbol }) => symbol);
}

/** What each column of a table means; a column left out is not read. */
export const filmTableMappingSchema = z.strictObject({
  columns: z
    .array(
      z.strictObject({
        field: z.enum(FILM_FIELD_NAMES),
        column: z
          .number()
          .int()
          .min(0)
          .max(MAX_TABLE_COLUMNS - 1),
        /** as the table states it; '' for text, or where it must be asked */
        unit: z.string().max(20),
        /** for a Jc: where it was measured; null or left out: not stated */
        at: z
          .strictObject({ temperatureK: z.number().min(0).max(400), fieldT: z.number().min(0).max(100) })
          .nullable()
          .optional(),
      }),
    )
    .max(60),
});
export type FilmTableMapping = z.infer<typeof filmTableMappingSchema>;
export type FilmTableColumn = FilmTableMapping['columns'][number];

/** One row: a film, or a piece of it, with what the table states; null where it states nothing that could be read. */
export interface TableFilm {
  /** row of the table, from 1 */
  readonly row: number;
  readonly label: string;
  readonly pieceLabel: string | null;
  /** amount of each cation, as stated */
  readonly cations: Record<string, number> | null;
  readonly substrate: string | null;
  readonly route: 'in situ' | 'ex situ' | null;
  readonly temperatureC: number | null;
  readonly po2Pa: number | null;
  readonly thicknessNm: number | null;
  readonly overallRateNmPerS: number | null;
  readonly tcMidpointK: number | null;
  readonly tcOnsetK: number | null;
  readonly transitionWidthK: number | null;
  readonly jc: readonly { jcAPerM2: number; at: { temperatureK: number; fieldT: number } | null }[];
  readonly phases: readonly string[];
  readonly note: string | null;
}

/** A question about a cell; row 0: about the whole column. */
export interface TableDoubt {
  readonly row: number;
  readonly column: string;
  readonly found: string;
  readonly expected: string;
  readonly message: string;
}
