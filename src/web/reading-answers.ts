// What a person may answer where a reader could not tell how a text is written, by the code of its refusal. Pure.
import type { ReadingAnswers, TableReading } from '../records/kinds.ts';

export interface TextAnswer<Reading> {
  readonly label: string;
  readonly reading: Reading;
}
type AnswersByCode<Reading> = Readonly<Record<string, readonly TextAnswer<Reading>[]>>;

const DECIMAL_MARKS: readonly TextAnswer<Pick<TableReading, 'decimalMark'>>[] = [
  { label: 'The comma is the decimal mark', reading: { decimalMark: ',' } },
  { label: 'The point is the decimal mark', reading: { decimalMark: '.' } },
];
const partedBy = <Delimiter extends string>(delimiter: Delimiter) => ({
  label: `Columns are parted by ${delimiter}`,
  reading: { delimiter },
});
const TABLE_DELIMITERS = [partedBy('tab'), partedBy('semicolon'), partedBy('comma')] as const;

/** For an instrument file. */
export const FILE_ANSWERS: AnswersByCode<ReadingAnswers> = {
  READ_COLUMN_COUNT: [{ label: 'Read the whole rows only', reading: { wholeRows: true } }],
  READ_DATE_DOUBT: [
    { label: 'The day stands first', reading: { dateOrder: 'day first' } },
    { label: 'The month stands first', reading: { dateOrder: 'month first' } },
  ],
  READ_DECIMAL_DOUBT: DECIMAL_MARKS,
  READ_NUMBER_DOUBT: DECIMAL_MARKS,
  READ_DELIMITER_CHANGED: [...TABLE_DELIMITERS, partedBy('blanks')],
};

/** For a table of past films: rows of unequal length, or none, may mean that another mark parts its columns. */
export const TABLE_ANSWERS: AnswersByCode<TableReading> = {
  READ_DECIMAL_DOUBT: DECIMAL_MARKS,
  READ_NUMBER_DOUBT: DECIMAL_MARKS,
  READ_COLUMN_COUNT: TABLE_DELIMITERS,
  TABLE_NO_ROWS: TABLE_DELIMITERS,
  TABLE_QUOTE: TABLE_DELIMITERS,
};
