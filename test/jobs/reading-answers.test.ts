// A file that can be read in two ways is refused; what a person then says settles it, for this file and the next alike.
import { afterEach, describe, expect, it } from 'vitest';
import { importFile } from '../../src/jobs/import-file.ts';
import { lookAtUpload } from '../../src/jobs/look-at-upload.ts';
import { readColumns } from '../../src/logbook/columns.ts';
import { newId } from '../../src/logbook/ids.ts';
import type { ReadingAnswers } from '../../src/records/kinds.ts';
import { clearStores } from '../logbook/opened-store.ts';
import { addedPiece, benchHere } from './bench.ts';

/** A transition from 100 K down to 80 K, a row each 0.1 K; the middle at 90 K. */
function rows(cell: (temperatureK: number, resistanceOhm: number) => string): string {
  const lines = Array.from({ length: 200 }, (_, i) => {
    const temperatureK = 100 - 0.1 * i;
    return cell(temperatureK, (0.05 * temperatureK) / (1 + Math.exp((90 - temperatureK) / 0.2)));
  });
  return ['Temperature (K)\tResistance (ohm)', ...lines, ''].join('\n');
}

async function readIn(text: string, reading: ReadingAnswers | undefined) {
  const bench = await benchHere();
  const { seriesId, pieceId } = await addedPiece(bench.store);
  const { sha256 } = await bench.uploads.take(new TextEncoder().encode(text), 1e6);
  const asked = { sha256, fileName: 'P1_RT.txt', seriesId };
  const look = await lookAtUpload(bench, { ...asked, reading });
  const { measurement } = await importFile(bench, {
    id: newId(),
    changeId: newId(),
    seriesId,
    pieceId,
    stateTreatmentId: null,
    fileSha256: sha256,
    fileName: 'P1_RT.txt',
    mapping: look.mapping!,
    settings: {},
    isRemembered: true,
  });
  const columns = await readColumns(bench.store, measurement.body.columns.blob);
  return { bench, measurement, columns };
}

describe('an answer about the text of a file', () => {
  afterEach(clearStores);

  const thousandsOrDecimals = rows(
    (t, r) => `${t.toFixed(3).replace('.', ',')}\t${r.toFixed(3).replace('.', ',')}`,
  );

  it('is asked for where every number could be parted thousands', async () => {
    await expect(readIn(thousandsOrDecimals, undefined)).rejects.toThrow(/decimal mark/);
  });

  it('makes the comma the decimal mark, and stays with the measurement', async () => {
    const { measurement, columns } = await readIn(thousandsOrDecimals, { decimalMark: ',' });
    expect(columns[0]![0]).toBe(100);
    expect(columns[0]![1]).toBeCloseTo(99.9, 10);
    expect(measurement.body.mapping.reading).toEqual({ decimalMark: ',' });
  });

  it('leaves a cut row out once that is wanted, and says how many', async () => {
    const whole = rows((t, r) => `${t.toFixed(2)}\t${r.toFixed(6)}`);
    const cut = whole.replace(/^98\.00\t.*$/m, '98.00');
    await expect(readIn(cut, undefined)).rejects.toThrow(/column/);
    const { measurement, columns } = await readIn(cut, { wholeRows: true });
    expect(columns[0]).toHaveLength(199);
    expect(measurement.body.warnings.join(' ')).toMatch(/left out/);
  });
});
