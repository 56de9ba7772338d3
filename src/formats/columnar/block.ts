// A block of numbers while it grows, and once it is whole. Pure.
import type { FinishedClock } from './clock-column.ts';
import { blockShape, type FoundHeadings } from './headings.ts';
import type { ColumnarBlock } from './schema.ts';

/** Columns of doubles that double their room as rows come. */
export class GrowingBlock {
  rows = 0;
  readonly firstLine: number;
  lastLine: number;
  readonly textColumns: ReadonlySet<number>;
  readonly #columns: Float64Array[];
  #room = 16;

  constructor(columns: number, firstLine: number, textColumns: Iterable<number>) {
    this.firstLine = firstLine;
    this.lastLine = firstLine;
    this.textColumns = new Set(textColumns);
    this.#columns = Array.from({ length: columns }, () => new Float64Array(this.#room));
  }

  get columnCount(): number {
    return this.#columns.length;
  }

  /** Adds a row of which `values` holds the numbers, NaN for missing. */
  add(values: Float64Array, line: number): void {
    if (this.rows === this.#room) {
      this.#room *= 2;
      for (let i = 0; i < this.#columns.length; i++) {
        const grown = new Float64Array(this.#room);
        grown.set(this.#columns[i]!);
        this.#columns[i] = grown;
      }
    }
    for (let i = 0; i < this.#columns.length; i++) this.#columns[i]![this.rows] = values[i]!;
    this.rows++;
    this.lastLine = line;
  }

  /** The columns at their length. */
  finished(): Float64Array[] {
    return this.#columns.map((column) => column.slice(0, this.rows));
  }
}

/**
 * The block with its headings, or those of the block before where it has none and as many columns. Empty columns at the
 * end without a heading, left by a delimiter that ends each row, are cut.
 */
export function finishedBlock(
  block: GrowingBlock,
  found: FoundHeadings,
  before: ColumnarBlock | undefined,
  headerLines: readonly string[],
  clocks: readonly FinishedClock[],
): ColumnarBlock {
  const columns = block.finished();
  for (const { place, values } of clocks) if (values !== null) columns[place.time] = values;
  const isClock = (column: number): boolean =>
    clocks.some(({ place, values }) => place.time === column && values !== null);
  let count = columns.length;
  while (count > 1 && !found.headings[count - 1] && !found.units[count - 1] && isEmpty(columns[count - 1]!))
    count--;
  const hasInheritedHeadings = found.line === undefined && before?.columns.length === count;
  const headings = hasInheritedHeadings ? before!.headings : found.headings.slice(0, count);
  const units = hasInheritedHeadings ? before!.units : found.units.slice(0, count);
  return {
    firstLine: block.firstLine,
    lastLine: block.lastLine,
    headings,
    units: units.map((unit, column) => (isClock(column) ? 's' : unit)),
    columns: columns.slice(0, count),
    rows: block.rows,
    textColumns: [...block.textColumns].filter((column) => column < count && !isClock(column)),
    clocks: clocks.map(({ place, fault }) => ({ column: place.time, fault })),
    headerLines,
    hasInheritedHeadings,
    shape: hasInheritedHeadings ? before!.shape : blockShape(headings, units),
  };
}

function isEmpty(column: Float64Array): boolean {
  return column.every((value) => Number.isNaN(value));
}
