import { afterEach, describe, expect, it } from 'vitest';
import { importTable, lookAtTable } from '../../src/jobs/past-films.ts';
import { seriesViewFrom } from '../../src/jobs/series-view.ts';
import type { Workbench } from '../../src/jobs/workbench.ts';
import { newId } from '../../src/logbook/ids.ts';
import { filmRows } from '../../src/records/film-rows.ts';
import { filmCondition } from '../../src/records/growth-condition.ts';
import { addedSeries, clearStores, errorOf } from '../logbook/opened-store.ts';
import { benchHere } from './bench.ts';

afterEach(clearStores);

const TABLE = [
  'Film,Piece,RE,Composition,T (degC),Thickness (nm),Jc 77 K sf (MA/cm2),Note',
  'A,A-1,Y,1:2:3,790,300,3.1,first',
  'A,A-2,Y,1:2:3,790,300,2.9,',
  'B,,Y,1:2.2:3.4,810,250,,no current',
].join('\n');

async function sentTable(bench: Workbench, text = TABLE) {
  const seriesId = await addedSeries(bench.store);
  const { sha256 } = await bench.uploads.take(new TextEncoder().encode(text), 1 << 20);
  return { seriesId, sha256, fileName: 'past.csv', mapping: null };
}

describe('a table of past films', () => {
  it('is looked at without anything being recorded', async () => {
    const bench = await benchHere();
    const order = await sentTable(bench);
    const look = await lookAtTable(bench, order);
    expect(look).toMatchObject({ rowCount: 3, headings: TABLE.split('\n')[0]!.split(',') });
    expect(look.films).toHaveLength(3);
    expect((await bench.store.read.seriesRecords(order.seriesId)).map(({ kind }) => kind)).toEqual([
      'series',
    ]);
  });

  it('becomes films, pieces and typed numbers in SI in one change, once, and is taken back as one', async () => {
    const bench = await benchHere();
    const order = { ...(await sentTable(bench)), changeId: newId() };
    const answer = await importTable(bench, order);
    expect(answer).toEqual({ changeId: order.changeId, filmCount: 2, pieceCount: 3 });
    expect(await importTable(bench, order)).toEqual(answer);
    const { read } = bench.store;
    expect((await read.list('film')).map(({ body }) => body.label).sort()).toEqual(['A', 'B']);
    const facts = (await read.list('typedFacts')).flatMap(({ body }) => body.numbers);
    const jcs = facts.filter(({ name }) => name === 'jcAPerM2').map(({ value }) => value);
    expect(jcs.sort()).toEqual([2.9e10, 3.1e10]);
    expect(
      facts.every(({ origin, standardUncertainty }) => origin === 'typed' && standardUncertainty === null),
    ).toBe(true);
    await bench.store.undo({ changeId: newId(), ofChange: order.changeId });
    expect(await read.list('film')).toEqual([]);
    expect(await read.list('piece')).toEqual([]);
    expect(await read.list('typedFacts')).toEqual([]);
  });

  it('that states no route leaves it not stated, and keeps the growth condition', async () => {
    const bench = await benchHere();
    const order = await sentTable(bench, 'Film,T (degC),pO2 (Pa),Route\nA,790,80,\nB,800,80,ex situ\n');
    await importTable(bench, { ...order, changeId: newId() });
    const view = seriesViewFrom(await bench.store.read.seriesRecords(order.seriesId));
    const rows = filmRows(view);
    expect(Object.fromEntries(rows.map(({ film, route }) => [film.body.label, route]))).toEqual({
      A: 'not stated',
      B: 'ex situ',
    });
    const [a] = rows.filter(({ film }) => film.body.label === 'A');
    expect(filmCondition(view, a!)).toEqual({ temperatureC: 790, po2Atm: 80 / 101_325 });
    expect(a!.run!.body.note).toBe('');
  });

  it('makes one film of the rows of its pieces, with what any of them states, and keeps the note of each', async () => {
    const bench = await benchHere();
    const order = await sentTable(
      bench,
      [
        'Film,Piece,Composition,Substrate,T (degC),Thickness (nm),Note',
        'A,A-1,,,,300,left half',
        'a,A-2,YBa2.2Cu3.4,tape,790,,right half',
        'B,B-1,YBa2Cu3,tape,800,250,same',
        'B,B-2,YBa2Cu3,tape,800,250,same',
      ].join('\n'),
    );
    const { doubts } = await lookAtTable(bench, order);
    expect(doubts).toMatchObject([
      { row: 2, column: 'Film', message: expect.stringMatching(/row 1 says A, row 2 says a/) },
    ]);
    await importTable(bench, { ...order, changeId: newId() });
    const view = seriesViewFrom(await bench.store.read.seriesRecords(order.seriesId));
    const [a, b] = filmRows(view).sort((one, other) =>
      one.film.body.label < other.film.body.label ? -1 : 1,
    );
    expect(a!.film.body).toMatchObject({
      label: 'A',
      cations: { Y: 1, Ba: 2.2, Cu: 3.4 },
      substrate: 'tape',
      thicknessNm: { value: 300 },
      note: '',
    });
    expect(a!.temperatureC).toBe(790);
    expect(b!.film.body.note).toBe('same');
    const notes = view.pieces.map(({ body }) => `${body.label}: ${body.note}`).sort();
    expect(notes).toEqual(['A-1: left half', 'A-2: right half', 'B-1: ', 'B-2: ']);
  });

  it('of numbers that could be parted thousands is read, looked at and recorded, by the decimal mark that a person names', async () => {
    const bench = await benchHere();
    const asked = await sentTable(bench, 'Film;thickness (nm)\nA;251,234\nB;252,345\n');
    expect(await errorOf(lookAtTable(bench, asked))).toMatchObject({ code: 'READ_DECIMAL_DOUBT' });
    const order = { ...asked, reading: { decimalMark: ',' as const } };
    expect((await lookAtTable(bench, order)).films).toMatchObject([
      { thicknessNm: 251.234 },
      { thicknessNm: 252.345 },
    ]);
    await importTable(bench, { ...order, changeId: newId() });
    const recorded = await bench.store.read.list('film');
    expect(recorded.map(({ body }) => body.thicknessNm?.value).sort()).toEqual([251.234, 252.345]);
  });

  it('whose headings hold more commas than semicolons is read by the delimiter that a person names', async () => {
    const bench = await benchHere();
    const asked = await sentTable(bench, 'Film;Note, first, second\nA;good\n');
    expect(await errorOf(lookAtTable(bench, asked))).toMatchObject({ code: 'READ_COLUMN_COUNT' });
    const look = await lookAtTable(bench, { ...asked, reading: { delimiter: 'semicolon' } });
    expect(look.headings).toEqual(['Film', 'Note, first, second']);
  });

  it('that cannot be read, or whose mapping is none, is refused in words and leaves nothing', async () => {
    const bench = await benchHere();
    const open = await sentTable(bench, 'Film,Note\nA,"never closed\n');
    expect(await errorOf(lookAtTable(bench, open))).toMatchObject({
      message: expect.stringMatching(/past\.csv/),
    });
    const order = await sentTable(bench);
    const odd = { ...order, mapping: { columns: 7 } };
    expect(await errorOf(lookAtTable(bench, odd))).toMatchObject({ code: 'TABLE_FIELD' });
    expect(await bench.store.read.list('film')).toEqual([]);
  });
});
