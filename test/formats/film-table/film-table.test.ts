import { readFileSync } from 'node:fs';
import { csvParseRows } from 'd3-dsv';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { guessFilmColumns } from '../../../src/formats/film-table/guess-columns.ts';
import { type FilmTableOptions, filmTableReader, recordsOf } from '../../../src/formats/film-table/read.ts';
import { readFilms } from '../../../src/formats/film-table/read-films.ts';
import { filmTableMappingSchema } from '../../../src/formats/film-table/schema.ts';

const GERMAN = readFileSync(new URL('../../data/film-table/german.csv', import.meta.url), 'utf8');

function table(text: string, options: FilmTableOptions = {}, piece = 17) {
  const bytes = new TextEncoder().encode(text);
  const reader = filmTableReader.open(options);
  for (let at = 0; at < bytes.length; at += piece) reader.push(bytes.subarray(at, at + piece));
  return reader.end();
}
function read(text: string) {
  const result = table(text);
  if (!result.ok) throw new Error(result.message);
  return result.value;
}
function films(text: string, usualRareEarth: string | null = null) {
  const whole = read(text);
  const { mapping, doubts } = guessFilmColumns(whole);
  const answer = readFilms(whole, filmTableMappingSchema.parse(mapping), usualRareEarth);
  if (!answer.ok) throw new Error(answer.message);
  return { films: answer.films, doubts: [...doubts, ...answer.doubts] };
}

describe('table of past films', () => {
  it('reads a film with its numbers in SI from a table of decimal commas', () => {
    const { films: all } = films(GERMAN.replace(/;RE;/, ';Rare earth;').replace(/-a;1;/g, '-a;Y;'));
    // no amount of rare earth is left: the ratio is not made up
    expect(all[0]!.cations).toBeNull();
    expect(all[0]).toMatchObject({
      label: 'F001',
      pieceLabel: 'F001-a',
      substrate: 'STO',
      temperatureC: 790,
      thicknessNm: 300,
      overallRateNmPerS: 0.5,
      tcMidpointK: 91.2,
      transitionWidthK: 0.8,
      phases: ['123'],
      note: 'benchmark',
    });
    expect(all[0]!.po2Pa).toBeCloseTo((0.6 * 101325) / 760, 9);
    expect(all[0]!.jc[0]!.jcAPerM2).toBeCloseTo(3.1e10, -2);
    expect(all[0]!.jc[0]!.at).toEqual({ temperatureK: 77, fieldT: 0 });
    expect(all[1]!.phases).toEqual(['123', 'BaCuO2']);
    expect(all[1]!.note).toBe('fast, liquid "seen"');
  });

  it('asks about 0.3 nm, about 2.5e10 MA/cm2, about a text where a number belongs and about a piece given twice', () => {
    const { films: all, doubts } = films(GERMAN);
    const asked = doubts.map(({ row, column }) => `${row} ${column}`);
    const expected = ['3 Thickness (nm)', '3 Jc 77 K, sf (MA/cm2)', '4 Tc (K)', '4 Film'];
    expect(asked).toEqual(expect.arrayContaining(expected));
    expect(doubts.find(({ column }) => column === 'Thickness (nm)')!.message).toContain('Is it in um?');
    // a value that no film has would lead the ranking
    expect(all[2]).toMatchObject({ thicknessNm: null, jc: [] });
    for (const { column, message } of doubts.filter(({ row }) => row === 3)) {
      expect(message, column).toContain('left out: correct the unit of the column, or the cell');
    }
    expect(doubts.find(({ column }) => column === 'Tc (K)')).toMatchObject({ found: 'abc', row: 4 });
  });

  it('takes a bare ratio as that of the usual rare earth and says so once, and takes none where it is not known', () => {
    const text = 'Film,Composition\nA,YBa2Cu3O7\nB,1:2.3:3.8\nC,1:2:3\n';
    const known = films(text, 'Gd');
    expect(known.films.map(({ cations }) => cations)).toEqual([
      { Y: 1, Ba: 2, Cu: 3 },
      { Gd: 1, Ba: 2.3, Cu: 3.8 },
      { Gd: 1, Ba: 2, Cu: 3 },
    ]);
    expect(known.doubts).toMatchObject([{ row: 2, message: expect.stringContaining('taken as Gd') }]);
    const unknown = films(text);
    expect(unknown.films.map(({ cations }) => cations)).toEqual([{ Y: 1, Ba: 2, Cu: 3 }, null, null]);
    expect(unknown.doubts).toMatchObject([
      { row: 2, message: expect.stringContaining('no bare ratio was taken') },
    ]);
  });

  it('takes a unit that stands in the cell before that of the heading', () => {
    const { films: all, doubts } = films(
      'Film;T growth (\u00b0C);p(O2) [mTorr];thickness (nm)\nA;1108 K;0,15 Torr;250,5\nB;820;150 mTorr;0,3 um\nC;;;200,5\n',
    );
    expect(all).toMatchObject([
      { temperatureC: 834.85, thicknessNm: 250.5 },
      { temperatureC: 820, thicknessNm: 300 },
      { temperatureC: null, thicknessNm: 200.5 },
    ]);
    for (const { po2Pa } of all.slice(0, 2)) expect(po2Pa).toBeCloseTo((0.15 * 101325) / 760, 9);
    expect(doubts).toEqual([]);
  });

  it.each([
    ['Tc on (K)', 'tcOnsetK'],
    ['Tc,onset (K)', 'tcOnsetK'],
    ['Tc (K)', 'tcMidpointK'],
    ['Tc 50 % (K)', 'tcMidpointK'],
    ['Tc zero (K)', undefined],
    ['Tc (R=0) (K)', undefined],
    ['Tc magnetic (K)', undefined],
    ['T growth (\u00b0C)', 'temperatureC'],
    ['T_dep [degC]', 'temperatureC'],
    ['Substrate T (K)', 'temperatureC'],
    ['substrate temperature (K)', 'temperatureC'],
    ['growth T (K)', 'temperatureC'],
    ['growth-T (K)', 'temperatureC'],
    ['dep. T (C)', 'temperatureC'],
    ['T_s (degC)', 'temperatureC'],
    ['growth temperature T (K)', 'temperatureC'],
    ['anneal T (K)', undefined],
    ['Substrate', 'substrate'],
    ['Dy:Ba:Cu', 'formula'],
    ['Ba at%', 'amountBa'],
    ['Ba/Y', undefined], // a ratio of two is no amount
    ['Cu target', undefined],
    ['Y', undefined], // alone it may be a place
  ])('takes the heading %s as %s', (heading, field) => {
    const { mapping } = guessFilmColumns(read(`Film\t${heading}\nA\t90\n`));
    expect(mapping.columns.find(({ column }) => column === 1)?.field).toBe(field);
  });

  it('takes the ratio of three columns with the rare earth of a fourth', () => {
    const { films: all } = films('Sample,Rare earth,RE amount,Ba,Cu\nA,Y0.5Gd0.5,1,2.5,4\nB,Gd,1,2,3\n');
    expect(all[0]!.cations).toEqual({ Y: 0.5, Gd: 0.5, Ba: 2.5, Cu: 4 });
    expect(all[1]!.cations).toEqual({ Gd: 1, Ba: 2, Cu: 3 });
  });

  it.each([
    ['Y,Ba,Cu', '1,2.3,3.8', { Y: 1, Ba: 2.3, Cu: 3.8 }],
    ['Y at%,Ba at%,Cu at%', '16,34,50', { Y: 16, Ba: 34, Cu: 50 }],
    ['Gd (at.%),Ba (at.%),Cu (at.%)', '16,34,50', { Gd: 16, Ba: 34, Cu: 50 }],
    ['Y,Gd,Ba,Cu', '0.4,0.6,2,3', { Y: 0.4, Gd: 0.6, Ba: 2, Cu: 3 }],
    ['Y,Gd,Ba,Cu', '1,,2,3', { Y: 1, Ba: 2, Cu: 3 }], // a blank of several: none of it
    ['Y,Gd,Ba,Cu', ',,2,3', null],
    ['Y,Gd,Ba,Cu', '1,much,2,3', null],
    ['Dy:Ba:Cu,Note', '1:2.2:3.4,', { Dy: 1, Ba: 2.2, Cu: 3.4 }],
    ['X,Y,Ba,Cu', '3,4,2,3', null],
  ])('takes the rare earth of a ratio from the headings %s', (headings, cells, cations) => {
    const { films: all, doubts } = films(`Film,${headings}\nA,${cells}\n`, 'Sm');
    expect(all[0]!.cations).toEqual(cations);
    expect(doubts.length === 0).toBe(cations !== null);
  });

  it('takes no ratio where a cell names another rare earth than the headings do, and asks', () => {
    const { films: all, doubts } = films('Film,RE,Y,Ba,Cu\nA,Y,1,2,3\nB,Gd,1,2,3\n');
    expect(all.map(({ cations }) => cations)).toEqual([{ Y: 1, Ba: 2, Cu: 3 }, null]);
    expect(doubts).toMatchObject([
      { row: 2, column: 'RE', message: expect.stringContaining('name Y, this cell Gd') },
    ]);
  });

  it('asks for the amounts that are missing where only Ba and Cu have columns', () => {
    const { films: all, doubts } = films('Film,Ba,Cu\nA,2,3\n', 'Y');
    expect(all[0]!.cations).toBeNull();
    expect(doubts).toMatchObject([
      { row: 0, column: 'Ba', message: expect.stringContaining('amount of rare earth') },
    ]);
  });

  it('lists every column that is not read and holds something, with its first cell', () => {
    const { doubts } = films('Film,Date,Empty,Operator\nA,,,\nB,2 March,,night shift\n');
    expect(doubts.map(({ row, column, found }) => [row, column, found])).toEqual([
      [0, 'Date', '2 March'],
      [0, 'Operator', 'night shift'],
    ]);
    expect(doubts[0]!.message).toContain('Column 2 is not read');
  });

  it('reads a formula and leaves oxygen out of the cations', () => {
    const { films: all } = films('Film,Composition\nA,YBa2.3Cu3.8O7\nB,nonsense!\n');
    expect(all[0]!.cations).toEqual({ Y: 1, Ba: 2.3, Cu: 3.8 });
    expect(all[1]!.cations).toBeNull();
  });

  it('asks about an unknown rare earth and about per cent that do not add up', () => {
    const { films: all, doubts } = films(
      'Film,Rare earth,RE share (%),Ba (%),Cu (%)\nA,Y,16,33,40\nB,Fe,17,33,50\n',
    );
    expect(doubts.some(({ row, message }) => row === 1 && message.includes('add up to 89.00 %'))).toBe(true);
    expect(doubts.some(({ row, message }) => row === 2 && message.includes('Fe is no rare earth'))).toBe(
      true,
    );
    expect(all[1]!.cations).toBeNull();
  });

  it('asks where two rows of a film disagree about it, and names both rows and values', () => {
    const { doubts } = films(
      [
        'Film,Piece,Composition,Route,Thickness (nm),Tc (K)',
        'A,1,,in situ,300,90',
        'A,2,YBa2Cu3,,250,91',
        'A,3,Y16.7Ba33.3Cu50,ex situ,300,92', // the ratio of row 2, rounded
        'A,4,YBa2.4Cu3,in situ,,',
      ].join('\n'),
    );
    const shown = doubts.map(({ row, column, message }) => `${row} ${column}: ${message}`).sort();
    expect(shown).toEqual([
      '2 Thickness (nm): Film A, thickness: row 1 says 300 nm, row 2 says 250 nm. That of row 1 is recorded; correct the other.',
      '3 Route: Film A, route (in situ, ex situ): row 1 says in situ, row 3 says ex situ. That of row 1 is recorded; correct the other.',
      '4 Composition: Film A, cation ratio: row 2 says Y1 Ba2 Cu3, row 4 says Y1 Ba2.4 Cu3. That of row 2 is recorded; correct the other.',
    ]);
  });

  it('does not read a column whose unit is not stated, and asks for it', () => {
    const { films: all, doubts } = films('Film,Thickness\nA,300\n');
    expect(all[0]!.thicknessNm).toBeNull();
    expect(doubts).toEqual([expect.objectContaining({ row: 0, column: 'Thickness', found: 'no unit' })]);
  });

  it('leaves out a row without a film label and says so', () => {
    const { films: all, doubts } = films('Film,Tc (K)\nA,90\n,91\n');
    expect(all).toHaveLength(1);
    expect(doubts[0]).toMatchObject({ row: 2, message: 'This row names no film and was left out.' });
  });

  it.each([
    ['', 'READ_EMPTY', 0],
    ['Film;Tc (K)\n', 'TABLE_NO_ROWS', 1],
    ['only words\nand more\n', 'TABLE_NO_ROWS', 1],
    ['Film,"Tc\nA,1\n', 'TABLE_QUOTE', 1],
    ['Film,Tc (K),Note\nA,90,x\nB,91\n', 'READ_COLUMN_COUNT', 3],
    ['Film;Tc (K);Note\nA;90,5;1\nB;91.5;2,5\n', 'READ_NUMBER_DOUBT', 2],
    ['Film;d (nm)\nA;1,234\nB;2,345\n', 'READ_DECIMAL_DOUBT', 2],
    [`Film,Tc (K)\n${'A,90\n'.repeat(5001)}`, 'TABLE_TOO_LARGE', 1],
    ['PK\u0003\u0004 zip', 'READ_BINARY', 1],
  ])('refuses %j with %s', (text, code, line) => {
    expect(table(text)).toMatchObject({ ok: false, code, line });
  });

  it('takes the decimal mark that a person names', () => {
    const result = table('Film;d (nm)\nA;1,234\nB;2,345\n', { decimalMark: ',' });
    expect(result).toMatchObject({ ok: true, value: { decimalMark: ',' } });
  });

  it('refuses a mapping with a wrong column, a field given twice or a wrong unit', () => {
    const whole = read('Film,Tc (K)\nA,90\n');
    const label = { field: 'label', column: 0, unit: '' } as const;
    const answer = (column: number, unit: string, field: 'tcOnsetK' | 'label' = 'tcOnsetK') =>
      readFilms(whole, { columns: [label, { field, column, unit }] });
    expect(answer(7, 'K')).toMatchObject({ code: 'TABLE_COLUMN' });
    expect(answer(1, '', 'label')).toMatchObject({ code: 'TABLE_FIELD' });
    const twoAmounts = [0, 1].map((column) => ({ field: 'amountRe' as const, column, unit: '1' }));
    expect(readFilms(whole, { columns: twoAmounts })).toMatchObject({ code: 'TABLE_FIELD' });
    expect(answer(1, 'Oe')).toMatchObject({ code: 'MAP_UNIT' });
    expect(answer(1, 'K')).toMatchObject({ ok: true });
  });
});

// A comparison with a reference library (d3-dsv 3.0.2), not with a published value.
describe('recordsOf beside d3-dsv', () => {
  it('finds the same cells in any quoted table, line ends inside cells included', () => {
    const cell = fc.string({ unit: fc.constantFrom('a', '"', ',', '\n', '1', ';'), maxLength: 6 });
    const rows = fc.array(fc.array(cell, { minLength: 2, maxLength: 4 }), { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(rows, (cells) => {
        const quoted = cells
          .map((row) => row.map((text) => `"${text.replaceAll('"', '""')}"`).join(','))
          .join('\n');
        const ours = recordsOf(quoted, ',');
        if (!Array.isArray(ours)) throw new Error(ours.message);
        expect(ours.map((record) => record.cells)).toEqual(
          csvParseRows(quoted).map((row) => row.map((x) => x.trim())),
        );
      }),
      { numRuns: 500, seed: 2 },
    );
  });
});

describe('phases of a table', () => {
  it('are not seen where the cell denies them, and the denial is asked', () => {
    const reading = filmTableReader.open();
    reading.push(new TextEncoder().encode('film,phases\nF1,"123, no CuO"\nF2,BaCuO2 absent\n'));
    const table = reading.end();
    if (!table.ok) throw new Error(table.message);
    const read = readFilms(table.value, guessFilmColumns(table.value).mapping);
    if (!read.ok) throw new Error(read.message);
    expect(read.films.map(({ phases }) => phases)).toEqual([['123'], []]);
    expect(read.doubts.map(({ row }) => row)).toEqual([1, 2]);
  });
});
