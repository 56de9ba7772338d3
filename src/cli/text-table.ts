// Rows as a table of text: columns parted by two blanks, numbers to the right.

export interface TextColumn {
  readonly heading: string;
  readonly isNumber?: boolean;
}

/** Signs that move the cursor, colour the screen or turn the direction of writing. */
const CONTROL = /[\p{Cc}\u202a-\u202e\u2066-\u2069]/gu;

/** Text from a record as a harmless piece of a line. */
export function plainText(text: string): string {
  return text.replaceAll(CONTROL, ' ');
}

/** The table, heading first; trailing blanks are cut. */
export function textTable(columns: readonly TextColumn[], rows: readonly (readonly string[])[]): string {
  const cells = [columns.map(({ heading }) => heading), ...rows.map((row) => row.map(plainText))];
  const widths = columns.map((_, i) => Math.max(...cells.map((row) => [...(row[i] ?? '')].length)));
  return cells
    .map((row) =>
      columns
        .map(({ isNumber }, i) => {
          const text = row[i] ?? '';
          const blanks = ' '.repeat(widths[i]! - [...text].length);
          return isNumber ? blanks + text : text + blanks;
        })
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
}
