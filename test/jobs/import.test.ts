import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { importFile } from '../../src/jobs/import-file.ts';
import { lookAtUpload } from '../../src/jobs/look-at-upload.ts';
import { measurementView, reduceAgain } from '../../src/jobs/measurement-view.ts';
import { seriesViewFrom } from '../../src/jobs/series-view.ts';
import { readColumns } from '../../src/logbook/columns.ts';
import { newId } from '../../src/logbook/ids.ts';
import type { Runner } from '../../src/runner/runner.ts';
import { change, clearStores, errorOf, newFolder, openedStore } from '../logbook/opened-store.ts';
import {
  currentFile,
  loopFile,
  resistanceFile,
  type SimulatedFile,
  scanFile,
} from '../simulate/instrument-files.ts';
import { addedPiece, benchHere, bytesOfFile, sent } from './bench.ts';

afterEach(clearStores);

const MAX_BYTES = 1 << 24;

const RT = { pieceLabel: 'P1', midpointK: 90, widthK: 1, resistanceAt300Ohm: 12 };
const IV = { pieceLabel: 'P1', icA: 0.8, powerIndex: 20, tapDistanceM: 2e-3 };
const LOOP = { pieceLabel: 'P1', jcAPerM2: 2e10, lengthM: 3e-3, widthM: 2e-3, thicknessM: 200e-9 };

describe('a file read in', () => {
  it('of a transition becomes a measurement, an analysis with the true midpoint, its raw bytes and its columns in SI', async () => {
    const bench = await benchHere();
    const piece = await addedPiece(bench.store);
    const file = resistanceFile(RT);
    const { order, look, sha256 } = await sent(bench, piece, file);
    expect(look).toMatchObject({ mappingIs: 'guessed', doubts: [], pieceId: piece.pieceId });
    const { measurement, analysis } = await importFile(bench, order);
    expect(measurement.body).toMatchObject({
      fileName: file.name,
      fileSha256: sha256,
      pieceId: piece.pieceId,
    });
    expect(analysis.body).toMatchObject({ failure: null, computation: 'transition.resistive' });
    const midpoint = analysis.body.facts.numbers.find(({ name }) => name === 'tcMidpointK')!;
    expect(midpoint.measurementId).toBe(order.id);
    expect(Math.abs(midpoint.value - RT.midpointK)).toBeLessThan(4 * midpoint.standardUncertainty!);
    expect(await bench.store.fileBytes(sha256)).toEqual(Buffer.from(bytesOfFile(file)));
    const [temperatureK, resistanceOhm] = await readColumns(bench.store, measurement.body.columns.blob);
    expect(measurement.body.columns).toMatchObject({
      roles: ['temperatureK', 'resistanceOhm'],
      rows: temperatureK!.length,
    });
    const truthOhm = RT.resistanceAt300Ohm * (0.1 + (0.9 * temperatureK!.at(-1)!) / 300);
    expect(Math.abs(resistanceOhm!.at(-1)! / truthOhm - 1)).toBeLessThan(1e-3); // the file states kOhm
  });

  it('of a scan gives the c axis that the scan was made with', async () => {
    const bench = await benchHere();
    const piece = await addedPiece(bench.store);
    const { order } = await sent(
      bench,
      piece,
      scanFile({ pieceLabel: 'P1', cAxisAngstrom: 11.69, peakCounts: 4e4 }),
    );
    const { analysis } = await importFile(bench, order);
    const c = analysis.body.facts.numbers.find(({ name }) => name === 'cAxisAngstrom')!;
    expect(Math.abs(c.value - 11.69)).toBeLessThan(4 * c.standardUncertainty!);
  });

  it('of a ramp gives the current density of the bridge, at the temperature and field of its settings', async () => {
    const bench = await benchHere();
    const thicknessNm = { value: 200, standardUncertainty: 4 };
    const piece = await addedPiece(bench.store, { film: { thicknessNm } });
    const settings = { tapDistanceM: 2e-3, bridgeWidthM: 1e-4, temperatureK: 77, fieldT: -0.5 };
    const { order } = await sent(bench, piece, currentFile(IV), { settings });
    const { analysis } = await importFile(bench, order);
    const jc = analysis.body.facts.numbers.find(({ name }) => name === 'jcAPerM2')!;
    expect(jc.at).toEqual({ temperatureK: 77, fieldT: 0.5 }); // the field's size; its sign is the magnet's
    expect(Math.abs(jc.value / (0.8 / (1e-4 * 200e-9)) - 1)).toBeLessThan(0.02);
    expect(jc.standardUncertainty! / jc.value).toBeGreaterThan(0.02); // the thickness alone has 2 %
  });

  it('of a transition in a field keeps the field beside each temperature, so that it is not taken for that of self-field', async () => {
    const bench = await benchHere();
    const piece = await addedPiece(bench.store);
    const settings = { temperatureK: 300, fieldT: -9, thetaDeg: 0 };
    const { order } = await sent(bench, piece, resistanceFile(RT), { settings });
    const { analysis } = await importFile(bench, order);
    const { numbers } = analysis.body.facts;
    expect(numbers.length).toBeGreaterThan(2);
    for (const fact of numbers) expect(fact.at).toEqual({ fieldT: 9, thetaDeg: 0 });
  });

  it('under the same change a second time is answered as the first, and nothing is written twice', async () => {
    const bench = await benchHere();
    const piece = await addedPiece(bench.store);
    const { order } = await sent(bench, piece, resistanceFile(RT));
    const first = await importFile(bench, order);
    await bench.uploads.take(bytesOfFile(resistanceFile(RT)), MAX_BYTES); // the sender sends again, too
    expect(await importFile(bench, order)).toEqual(first);
    expect(await bench.store.read.list('measurement')).toHaveLength(1);
    expect(await bench.store.read.list('analysis')).toHaveLength(1);
    expect(bench.uploads.claimOf(order.fileSha256)).toBeUndefined(); // and nothing waits
  });

  it('twice at once under the same change is one measurement', async () => {
    const bench = await benchHere();
    const piece = await addedPiece(bench.store);
    const { order } = await sent(bench, piece, resistanceFile(RT));
    const [one, other] = await Promise.all([importFile(bench, order), importFile(bench, order)]);
    expect(other).toEqual(one);
    expect(await bench.store.read.list('measurement')).toHaveLength(1);
  });

  it('under a change that was for another file is refused', async () => {
    const bench = await benchHere();
    const piece = await addedPiece(bench.store);
    const { order } = await sent(bench, piece, resistanceFile(RT));
    await importFile(bench, order);
    const other = await sent(bench, piece, resistanceFile({ ...RT, pieceLabel: 'P2' }), {
      changeId: order.changeId,
    });
    expect(await errorOf(importFile(bench, other.order))).toMatchObject({ code: 'CHANGE_ID_TAKEN' });
  });
});

describe('a file that cannot be read', () => {
  it.each([
    ['no numbers', 'only words\nand more of them\n', /no numbers|numbers/i],
    ['nothing', '', /empty/i],
    ['bytes of a program', '\u0000\u0001\u0002\u0003'.repeat(200), /text/i],
  ])('holding %s leaves no record, no row and, once swept, no byte', async (_, text, said) => {
    const folder = await newFolder();
    const store = await openedStore({ folder });
    const bench = await benchHere(store);
    const piece = await addedPiece(store);
    const { sha256 } = await bench.uploads.take(new TextEncoder().encode(text), MAX_BYTES);
    const order = { sha256, fileName: 'bad.txt', seriesId: piece.seriesId };
    const error = await errorOf(lookAtUpload(bench, order));
    expect(error.message).toMatch(/^READ_[A-Z_]+: bad\.txt/);
    expect(error.message).toMatch(said);
    expect(await store.read.list('measurement')).toEqual([]);
    expect(await store.read.files()).toEqual([]);
    await bench.uploads.forget(sha256);
    expect(await store.sweepFiles()).toEqual({ files: 1, leftovers: 0 });
    expect(readdirSync(join(folder, 'files', 'claims'))).toEqual([]);
  });

  it('with the mapping named is refused in words, and its table is not claimed', async () => {
    const folder = await newFolder();
    const store = await openedStore({ folder });
    const bench = await benchHere(store);
    const piece = await addedPiece(store);
    const { order } = await sent(bench, piece, resistanceFile(RT));
    const [temperature] = order.mapping.columns;
    const mapping = {
      ...order.mapping,
      columns: [temperature!, { role: 'resistanceOhm', column: 7, unit: 'Ohm' }],
    };
    expect(await errorOf(importFile(bench, { ...order, mapping }))).toMatchObject({ code: 'MAP_COLUMN' });
    const other = await addedPiece(store);
    const elsewhere = { ...order, pieceId: other.pieceId };
    expect(await errorOf(importFile(bench, elsewhere))).toMatchObject({ code: 'RECORD_SERIES' });
    expect(await store.read.list('measurement')).toEqual([]);
    expect(readdirSync(join(folder, 'files', 'claims'))).toHaveLength(1); // the upload's, which waits for its mapping
    await importFile(bench, order);
    expect(readdirSync(join(folder, 'files', 'claims'))).toEqual([]);
  });
});

describe('a file that reads but cannot be reduced', () => {
  it('is kept with what is missing in words, and reduced again once the thickness is written on the film', async () => {
    const bench = await benchHere();
    const { store } = bench;
    const piece = await addedPiece(store, { piece: { lengthMm: 3, widthMm: 2 } });
    const { order } = await sent(bench, piece, loopFile(LOOP), { settings: { temperatureK: 30 } });
    const { analysis } = await importFile(bench, order);
    expect(analysis.body.failure).toMatchObject({
      code: 'SETTING_MISSING',
      message: expect.stringMatching(/thickness.*on the film.*reduce again/),
    });
    expect(analysis.body.facts).toEqual({ numbers: [], phases: [] });
    const film = await store.read.findOrThrow('film', piece.filmId);
    const thicknessNm = { value: 200, standardUncertainty: 2 };
    await store.write(change('write the thickness'), (tx) =>
      tx.revise('film', film.id, film.revision, { ...film.body, thicknessNm }),
    );
    const changeId = newId();
    const again = { measurementId: order.id, changeId, settings: { temperatureK: 30 } };
    const view = await reduceAgain(bench, again);
    expect(view.analysis!.body.failure).toBeNull();
    const jcs = view.analysis!.body.facts.numbers.filter(({ name }) => name === 'jcAPerM2');
    const atOneTesla = jcs.find(({ at }) => Math.abs(at!.fieldT! - 1) < 0.05)!;
    expect(Math.abs(atOneTesla.value / LOOP.jcAPerM2 - 1)).toBeLessThan(0.03);
    expect(await reduceAgain(bench, again)).toEqual(view); // a repeat reduces nothing anew
    expect(await store.read.list('analysis', { parentId: order.id })).toHaveLength(2); // the first stays in the history
    expect(await measurementView(bench, order.id)).toEqual(view);
  });

  it('names the distance of the taps, which no file states', async () => {
    const bench = await benchHere();
    const piece = await addedPiece(bench.store);
    const { order } = await sent(bench, piece, currentFile(IV));
    const { tapDistanceM: _stated, ...settings } = order.settings;
    const { analysis } = await importFile(bench, { ...order, settings });
    expect(analysis.body.failure?.message).toMatch(/distance of the voltage taps/);
  });

  it('at more fields than facts can be kept is kept all the same', async () => {
    const bench = await benchHere();
    const thicknessNm = { value: 200, standardUncertainty: 2 };
    const piece = await addedPiece(bench.store, {
      film: { thicknessNm },
      piece: { lengthMm: 3, widthMm: 2 },
    });
    const { order } = await sent(bench, piece, finelySteppedLoop());
    const { analysis } = await importFile(bench, order);
    expect(analysis.body.failure).toBeNull();
    expect(analysis.body.facts.numbers.length).toBeGreaterThan(20);
    expect(analysis.body.facts.numbers.length).toBeLessThanOrEqual(500);
  });

  it('is kept where the answer is too large to keep, with what to do', async () => {
    const store = await openedStore();
    const runner: Runner = { run: async () => ({ counts: new Array(600_000).fill(1) }) };
    const bench = { ...(await benchHere(store)), runner };
    const piece = await addedPiece(store);
    const { order } = await sent(
      bench,
      piece,
      scanFile({ pieceLabel: 'P1', cAxisAngstrom: 11.69, peakCounts: 100 }),
    );
    const { analysis } = await importFile(bench, order);
    expect(analysis.body).toMatchObject({
      response: null,
      failure: { code: 'ANALYSIS_TOO_LARGE', message: expect.stringMatching(/600000 numbers.*fewer points/) },
    });
  });
});

describe('a measurement that was reduced', () => {
  it('is old in the series and on its own once the thickness it was divided by is corrected, and new again once reduced', async () => {
    const bench = await benchHere();
    const { store } = bench;
    const piece = await addedPiece(store, { film: { thicknessNm: { value: 200, standardUncertainty: 4 } } });
    const settings = { tapDistanceM: 2e-3, bridgeWidthM: 1e-4, temperatureK: 77, fieldT: 0 };
    const { order } = await sent(bench, piece, currentFile(IV), { settings });
    await importFile(bench, order);
    const isOld = async () => [
      (await measurementView(bench, order.id)).isStale,
      ...seriesViewFrom(await store.read.seriesRecords(piece.seriesId)).analyses.map((each) => each.isStale),
    ];
    expect(await isOld()).toEqual([false, false]);
    const film = await store.read.findOrThrow('film', piece.filmId);
    await store.write(change('measure the thickness again'), (tx) =>
      tx.revise('film', film.id, film.revision, {
        ...film.body,
        thicknessNm: { value: 400, standardUncertainty: 4 },
      }),
    );
    expect(await isOld()).toEqual([true, true]);
    await reduceAgain(bench, { measurementId: order.id, changeId: newId(), settings: order.settings });
    expect(await isOld()).toEqual([false, false]);
  });
});

describe('a long file', () => {
  it('of a transition in 140,000 rows is read in and reduced like a short one', async () => {
    const bench = await benchHere();
    const piece = await addedPiece(bench.store);
    const rows = Array.from({ length: 140_000 }, (_, i) => {
      const kelvin = 80 + i * 2e-4;
      const share = Math.min(1, Math.max(0, 0.5 + 0.8 * (kelvin - 90)));
      return `${kelvin.toFixed(4)},${(10 * share * (0.1 + (0.9 * kelvin) / 300) + 1e-3 * Math.sin(i * 12.9898)).toFixed(5)}`;
    });
    const file = { name: 'P1.csv', text: `T (K),R (Ohm)\n${rows.join('\n')}\n` };
    const { order } = await sent(bench, piece, file);
    const { analysis } = await importFile(bench, order);
    expect(analysis.body.failure).toBeNull();
    const midpoint = analysis.body.facts.numbers.find(({ name }) => name === 'tcMidpointK')!;
    expect(Math.abs(midpoint.value - 90)).toBeLessThan(0.05);
  }, 120_000);
});

/** A loop of 4,800 points: what a sweeping magnet writes. */
function finelySteppedLoop(): SimulatedFile {
  const lines = ['mu0H/T    m/(A*m^2)'];
  const half = (LOOP.jcAPerM2 * LOOP.thicknessM * LOOP.widthM ** 2 * LOOP.lengthM * (1 - 2 / 9)) / 4;
  for (let i = 1200; i >= -1200; i--) lines.push(`${(i / 200).toFixed(4)} ${half.toExponential(6)}`);
  for (let i = -1199; i <= 1200; i++) lines.push(`${(i / 200).toFixed(4)} ${(-half).toExponential(6)}`);
  return { name: 'loop_P1.dat', text: `${lines.join('\n')}\n` };
}

describe('a mapping that is remembered', () => {
  it('is proposed for the next file of the same shape, without the condition the first was taken at', async () => {
    const bench = await benchHere();
    const piece = await addedPiece(bench.store);
    const first = await sent(bench, piece, currentFile(IV), {
      isRemembered: true,
      settings: { tapDistanceM: 2e-3, temperatureK: 65, fieldT: 3 },
    });
    const columns = first.order.mapping.columns.map((each) =>
      each.role === 'voltageV' ? { ...each, unit: 'uV' } : each,
    );
    const mapping = { ...first.order.mapping, columns };
    await importFile(bench, { ...first.order, mapping });
    const next = await sent(bench, piece, currentFile({ ...IV, icA: 0.5, seed: 9 }));
    expect(next.look).toMatchObject({ mappingIs: 'remembered', mapping, doubts: [] });
    expect(next.look.settings).toMatchObject({ tapDistanceM: 2e-3 });
    expect(next.look.settings.temperatureK).toBeUndefined();
    const unlike = await sent(bench, piece, resistanceFile(RT));
    expect(unlike.look.mappingIs).toBe('guessed');
    // remembered again, it is the same record with a new revision
    await importFile(bench, { ...next.order, isRemembered: true });
    expect(await bench.store.read.list('rememberedMapping')).toMatchObject([{ revision: 2 }]);
  });
});
