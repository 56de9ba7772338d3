// Tables as text, in the many ways in which programs write them: separators, decimal signs, where units stand, comment
// marks, encodings. Numbers come in already in the unit of the file.

export interface TextStyle {
  readonly extension: 'txt' | 'csv' | 'dat' | 'tsv';
  readonly delimiter: string;
  readonly decimal: '.' | ',';
  readonly newline: '\n' | '\r\n';
  readonly encoding: 'utf-8' | 'utf-16le' | 'latin-1';
  /** stands before each line above the table */
  readonly comment: string;
  /** between the name and the value of a line above the table */
  readonly assign: string;
  /** stands before the line of headings */
  readonly headingMark: string;
  /** how a unit is written beside a heading; `line below`: units have their own line */
  readonly unitIn: 'round brackets' | 'square brackets' | 'slash' | 'line below';
}

export interface TextColumn {
  readonly heading: string;
  readonly unit: string;
  /** digits after the decimal sign; `power`: six significant digits with a power of ten */
  readonly digits: number | 'power';
}

export interface TextBlock {
  /** line above the block's headings */
  readonly title?: string;
  readonly rows: readonly (readonly number[])[];
}

function headingText(column: TextColumn, unitIn: TextStyle['unitIn']): string {
  if (column.unit === '' || unitIn === 'line below') return column.heading;
  if (unitIn === 'round brackets') return `${column.heading} (${column.unit})`;
  if (unitIn === 'square brackets') return `${column.heading} [${column.unit}]`;
  return `${column.heading}/${column.unit}`;
}

function numberText(value: number, digits: TextColumn['digits'], decimal: '.' | ','): string {
  const text = digits === 'power' ? value.toExponential(5) : value.toFixed(digits);
  return decimal === ',' ? text.replace('.', ',') : text;
}

/** Bytes of a text; a letter that the encoding lacks is a fault of the generator. */
function encodedText(text: string, encoding: TextStyle['encoding']): Uint8Array {
  if (encoding === 'utf-8') return new TextEncoder().encode(text);
  if (encoding === 'latin-1') {
    return Uint8Array.from(text, (letter) => {
      const code = letter.codePointAt(0)!;
      if (code > 0xff) throw new RangeError(`The letter ${letter} has no place in Latin-1.`);
      return code;
    });
  }
  const marked = `\uFEFF${text}`;
  const bytes = new Uint8Array(2 * marked.length);
  const view = new DataView(bytes.buffer);
  for (let i = 0; i < marked.length; i++) view.setUint16(2 * i, marked.charCodeAt(i), true);
  return bytes;
}

/** A file: lines of facts, then one table or several under titles. */
export function tableBytes(
  style: TextStyle,
  facts: readonly (readonly [name: string, value: string])[],
  columns: readonly TextColumn[],
  blocks: readonly TextBlock[],
): Uint8Array {
  const lines = facts.map(([name, value]) => `${style.comment}${name}${style.assign}${value}`);
  for (const block of blocks) {
    if (block.title !== undefined) lines.push('', `${style.comment}${block.title}`);
    const headings = columns.map((column) => headingText(column, style.unitIn)).join(style.delimiter);
    lines.push(`${style.headingMark}${headings}`);
    if (style.unitIn === 'line below') lines.push(columns.map(({ unit }) => unit).join(style.delimiter));
    for (const row of block.rows) {
      lines.push(
        row.map((value, i) => numberText(value, columns[i]!.digits, style.decimal)).join(style.delimiter),
      );
    }
  }
  return encodedText(lines.map((line) => line + style.newline).join(''), style.encoding);
}
