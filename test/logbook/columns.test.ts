import { afterEach, describe, expect, it } from 'vitest';
import { columnsFrom, putTable, readColumn, readColumns, tableBytes } from '../../src/logbook/columns.ts';
import { change, clearStores, errorOf, openedStore } from './opened-store.ts';

afterEach(clearStores);

describe('a stored table', () => {
  it('is little-endian float64: columns, rows, then column after column', () => {
    const bytes = tableBytes([
      [1, 2],
      [-0.5, Number.NaN],
    ]);
    // IEEE 754 binary64 written out by hand: 2 = 0x4000..., 1 = 0x3ff0..., -0.5 = 0xbfe0..., NaN = 0x7ff8...
    const ends = ['0040', '0040', 'f03f', '0040', 'e0bf', 'f87f'];
    expect(Buffer.from(bytes).toString('hex')).toBe(ends.map((end) => '0'.repeat(12) + end).join(''));
  });

  it('gives back each column, bit for bit, NaN and signed zero included', async () => {
    const store = await openedStore();
    const columns = [
      Float64Array.of(4.2, Number.NaN, -0),
      Float64Array.of(Number.MIN_VALUE, Number.MAX_VALUE, 1e-300),
    ];
    const claim = await putTable(store, columns);
    await store.write(change('a table'), (tx) =>
      tx.addFile(claim, { name: 'table', media: 'application/octet-stream' }).then(() => null),
    );
    expect(await readColumns(store, claim.sha256)).toEqual(columns);
    expect(Object.is((await readColumn(store, claim.sha256, 0))[2], -0)).toBe(true);
    for (const column of [2, -1, 0.5]) {
      const error = await errorOf(readColumn(store, claim.sha256, column));
      expect(error.message).toContain(`COLUMN_INDEX: Column ${column} was asked of the table`);
      expect(error.message).toContain('which has columns 0 to 1');
    }
  });

  it('of the same numbers has the same bytes, whatever bits its NaN had', () => {
    const odd = new Float64Array(new BigUint64Array([0xfff8000000000123n]).buffer);
    expect(odd[0]).toBeNaN();
    expect(tableBytes([odd])).toEqual(tableBytes([[Number.NaN]]));
  });

  it('is refused where columns differ in length, are missing or are cut short', () => {
    expect(() => tableBytes([[1, 2], [1]])).toThrow(/Column 1 has 1 rows and column 0 has 2/);
    expect(() => tableBytes([])).toThrow(/A table of 0 columns/);
    const bytes = tableBytes([[1, 2, 3]]);
    expect(() => columnsFrom(bytes.subarray(0, 32), 'x')).toThrow(/of 32 bytes says 1 columns of 3 rows/);
    expect(() => columnsFrom(bytes.subarray(0, 7), 'x')).toThrow(/has no head of a table/);
    expect(() => columnsFrom(new TextEncoder().encode('temperature,resistance\n'), 'x')).toThrow(
      /has no head/,
    );
    expect(columnsFrom(tableBytes([[]]), 'x')).toEqual([new Float64Array(0)]);
  });
});
