import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { applyMapping } from '../../../src/formats/curves/apply-mapping.ts';
import { guessMapping } from '../../../src/formats/curves/guess-mapping.ts';
import { pieceFromFileName } from '../../../src/formats/curves/piece-from-file-name.ts';
import { rolesOfKinds, unitOfRole, unitsFor } from '../../../src/formats/curves/roles.ts';
import { type ColumnMapping, CURVE_ROLES, type CurveRole } from '../../../src/formats/curves/schema.ts';
import { settingsFromFile, settingsFromFileName } from '../../../src/formats/curves/settings.ts';
import { columnMappingSchema, measurementSettingsSchema } from '../../../src/records/kinds.ts';
import { readWhole } from '../columnar/reading.ts';

const read = (name: string) =>
  readWhole(readFileSync(new URL(`../../data/columnar/${name}`, import.meta.url)));
const guess = (text: string) => {
  const { blocks, comments } = readWhole(text);
  return guessMapping(blocks[0]!, 0, comments);
};
const guessed = (name: string, block = 0) => {
  const { blocks, comments } = read(name);
  return guessMapping(blocks[block]!, block, comments);
};
const apply = (text: string, mapping: ColumnMapping) => applyMapping(readWhole(text).blocks, mapping);
const columnsOf = (applied: ReturnType<typeof applyMapping>): number[][] => {
  if (!applied.ok) throw new Error(applied.message);
  return applied.value.columns.map((column) => [...column]);
};

describe('guessMapping', () => {
  it.each([
    ['scan-comma.csv', 'diffraction scan', ['twoThetaDeg', 'counts'], ['deg 2theta', 'counts']],
    ['scan-german.txt', 'diffraction scan', ['twoThetaDeg', 'counts'], ['deg 2theta', 'counts/s']],
    ['resistance-tab.dat', 'resistance', ['temperatureK', 'resistanceOhm'], ['K', 'ohm']],
    ['resistance-units-line.txt', 'resistance', ['temperatureK', 'resistanceOhm'], ['K', 'mohm']],
    ['moment-semicolon.csv', 'magnetic transition', ['temperatureK', 'momentAmpereM2'], ['K', 'emu']],
    ['current-voltage-blocks.txt', 'current-voltage', ['currentA', 'voltageV'], ['mA', 'uV']],
    ['loop-quoted.csv', 'magnetisation loop', ['fieldT', 'momentAmpereM2'], ['Oe', 'emu']],
    ['loop-fixed-width.txt', 'magnetisation loop', ['fieldT', 'momentAmpereM2'], ['kOe', 'memu']],
    ['odd-marks.txt', 'magnetisation loop', ['fieldT', 'momentAmpereM2'], ['T', 'A m2']],
  ])('knows %s as a %s by its headings and units, without a question', (name, kind, roles, units) => {
    const { mapping, doubts, confidence } = guessed(name);
    expect(doubts).toEqual([]);
    expect(confidence).toBe(1);
    expect(mapping?.kind).toBe(kind);
    expect(mapping?.columns.map(({ role }) => role)).toEqual(roles);
    expect(mapping?.columns.map(({ unit }) => unit)).toEqual(units);
    expect(columnMappingSchema.parse(mapping)).toEqual(mapping);
  });

  it('asks for the unit of a moment that has none, and does not guess it', () => {
    const { mapping, doubts } = guess('H (Oe),Moment\n0,1e-3\n1000,2e-3\n2000,3e-3\n');
    expect(mapping?.columns[1]).toEqual({ role: 'momentAmpereM2', column: 1, unit: '' });
    expect(doubts).toEqual(['Column 2 ("Moment") states no unit: in which unit is the moment?']);
  });

  it('takes a loop for a loop and a transition for a transition when temperature and field are both there', () => {
    const table = (rows: string) => guess(`T (K),H (Oe),M (emu)\n${rows}`).mapping?.kind;
    expect(table('77,0,1\n77.02,1000,2\n76.99,2000,3\n')).toBe('magnetisation loop');
    expect(table('77,10,1\n85,10.01,2\n95,9.99,3\n')).toBe('magnetic transition');
    expect(guess('T (K),H (Oe),M (emu)\n77,0,1\n85,1000,2\n95,2000,3\n').mapping).toBeNull();
  });

  it('asks which of two columns holds the temperature', () => {
    const { mapping, doubts } = guess(
      'Temp. stage (K),Temp. sample (K),R (ohm)\n90,91,1\n95,96,2\n99,99.5,3\n',
    );
    expect(mapping?.columns[0]?.column).toBe(0);
    expect(doubts[0]).toContain('columns 1 and 2');
  });

  it('asks when heading and unit contradict each other', () => {
    const { doubts } = guess('Temperature (Oe),R (ohm)\n90,1\n95,2\n99,3\n');
    expect(doubts[0]).toContain('"Temperature"');
  });

  it('reads resistance from voltage and current where temperature runs', () => {
    const { mapping } = guess('T (K),V (nV),I (mA)\n90,150,1\n100,170,1\n110,190,1\n');
    expect(mapping).toMatchObject({ kind: 'resistance' });
    expect(mapping?.columns.map(({ role }) => role).sort()).toEqual(['currentA', 'temperatureK', 'voltageV']);
  });

  it('says that two columns without headings run like a scan, but asks', () => {
    const rows = Array.from({ length: 30 }, (_, i) => `${(20 + 0.02 * i).toFixed(2)} ${100 + i}`).join('\n');
    const { mapping, doubts, confidence } = guess(rows);
    expect(mapping?.kind).toBe('diffraction scan');
    expect(doubts).toHaveLength(1);
    expect(confidence).toBeLessThan(0.5);
  });

  it('has no mapping for numbers that say nothing', () => {
    expect(guess('a b\n1 2\n3 4\n').mapping).toBeNull();
  });
});

describe('applyMapping', () => {
  const loop = (unit: string, moment = 'emu'): ColumnMapping => ({
    kind: 'magnetisation loop',
    block: 0,
    columns: [
      { role: 'fieldT', column: 0, unit },
      { role: 'momentAmpereM2', column: 1, unit: moment },
    ],
  });

  it('turns oersted into tesla of vacuum and emu into A m2', () => {
    const [field, moment] = columnsOf(apply('1e4 1\n-2e4 2\n', loop('Oe')));
    expect(field).toEqual([1, -2]);
    expect(moment).toEqual([1e-3, 2e-3]);
  });

  // 1 Oe = 1000/(4 pi) A/m by definition, so the two ways of stating one field must agree
  it('gives one field whether it is stated in oersted or in A/m', () => {
    const inAPerM = 1000 / (4 * Math.PI);
    const [field] = columnsOf(apply(`${inAPerM} 1\n${2 * inAPerM} 2\n`, loop('A/m')));
    expect(field![0]! / 1e-4).toBeCloseTo(1, 8);
  });

  it('turns degrees Celsius into kelvin and theta into 2theta', () => {
    const celsius: ColumnMapping = {
      kind: 'resistance',
      block: 0,
      columns: [
        { role: 'temperatureK', column: 0, unit: '\u00b0C' },
        { role: 'resistanceOhm', column: 1, unit: 'm\u03a9' },
      ],
    };
    const [temperature, resistance] = columnsOf(apply('-196.15 5\n0 6\n', celsius));
    expect(temperature![0]).toBeCloseTo(77, 12);
    expect(temperature![1]).toBe(273.15);
    expect(resistance![0]).toBeCloseTo(5e-3, 15);
    const scan: ColumnMapping = {
      kind: 'diffraction scan',
      block: 0,
      columns: [
        { role: 'twoThetaDeg', column: 0, unit: 'rad theta' },
        { role: 'counts', column: 1, unit: 'counts' },
      ],
    };
    expect(columnsOf(apply(`${Math.PI / 8} 5\n${Math.PI / 4} 6\n`, scan))[0]![0]).toBeCloseTo(45, 12);
  });

  it('keeps a field of 5000 T but asks whether it is in Oe', () => {
    const applied = apply('0 1\n5000 2\n', loop('T'));
    expect(applied).toMatchObject({ ok: true, warnings: [{ code: 'MAP_RANGE' }] });
    expect(applied.ok && applied.warnings[0]!.message).toContain('Is this in Oe?');
  });

  it('doubts temperatures of -400', () => {
    const applied = apply('-400 1\n5 2\n', {
      kind: 'resistance',
      block: 0,
      columns: [
        { role: 'temperatureK', column: 0, unit: 'K' },
        { role: 'resistanceOhm', column: 1, unit: 'ohm' },
      ],
    });
    expect(applied.ok && applied.warnings.map(({ code }) => code)).toEqual(['MAP_RANGE']);
  });

  it('leaves out rows without a number and takes the overload mark as missing', () => {
    const applied = apply('H,M\n0,1\n10,NaN\n20,9.9E37\n30,4\n', loop('Oe'));
    expect(columnsOf(applied)[1]).toEqual([1e-3, 4e-3]);
    expect(applied.ok && applied.warnings.map(({ code }) => code)).toEqual([
      'MAP_OVERRANGE',
      'MAP_MISSING_VALUES',
    ]);
  });

  it.each([
    [{ ...loop('Oe'), block: 3 }, 'MAP_BLOCK'],
    [loop('parsec'), 'MAP_UNIT'],
    [loop('Oe', ''), 'MAP_UNIT'],
    [loop('K'), 'MAP_UNIT'],
    [{ ...loop('Oe'), columns: loop('Oe').columns.slice(0, 1) }, 'MAP_ROLE'],
    [
      { ...loop('Oe'), columns: [...loop('Oe').columns, { role: 'counts', column: 0, unit: '' }] },
      'MAP_ROLE',
    ],
    [{ ...loop('Oe'), columns: [{ role: 'fieldT', column: 9, unit: 'T' }] }, 'MAP_COLUMN'],
  ] satisfies [ColumnMapping, string][])('refuses the mapping %j with %s', (mapping, code) => {
    expect(apply('1 2\n3 4\n', mapping)).toMatchObject({ ok: false, code });
  });

  it('names the units it would take', () => {
    expect(apply('1 2\n3 4\n', loop('parsec'))).toMatchObject({
      message: expect.stringContaining('"parsec" is no unit of fieldT; accepted are T, mT, Oe'),
    });
  });
});

describe('units', () => {
  it('finds every listed unit by its own symbol, for every role', () => {
    for (const role of Object.keys(CURVE_ROLES) as CurveRole[]) {
      for (const unit of unitsFor(role)) expect(unitOfRole(role, unit.symbol)).toBe(unit);
    }
  });

  it('lists for each kind its roles, of which temperature alone is required for a resistance', () => {
    const resistance = rolesOfKinds().find(({ kind }) => kind === 'resistance');
    expect(resistance?.roles.filter(({ isRequired }) => isRequired).map(({ role }) => role)).toEqual([
      'temperatureK',
    ]);
  });

  it('keeps milli and mega apart, and takes any case only where one unit is meant', () => {
    expect(unitOfRole('voltageV', 'mV')?.factor).toBe(1e-3);
    expect(unitOfRole('voltageV', 'MV')?.factor).not.toBe(1e6);
    expect(unitOfRole('resistanceOhm', 'OHM')?.factor).toBe(1);
    expect(unitOfRole('fieldT', 'koe')?.factor).toBe(0.1);
  });
});

describe('pieceFromFileName', () => {
  const labels = ['F012', 'F012-a', 'F013-b', 'F0123', 'tape 7'].map((label, i) => ({
    pieceId: `p${i}`,
    label,
  }));

  it.each([
    ['F012-a_RT.dat', 'p1'],
    ['2031-04-01 f012A 77K.csv', 'p1'],
    ['F012_77K.csv', 'p0'],
    ['F0123.txt', 'p3'],
    ['scan_tape7.xy', 'p4'],
    ['C:\\data\\F013_b.dat', 'p2'],
    ['F01.dat', null],
    ['F012-ab.dat', 'p0'],
    ['xF012.dat', null],
    ['F012-a and F013-b.dat', null],
  ])('finds in %j the piece %s', (name, pieceId) => {
    expect(pieceFromFileName(name, labels).pieceId).toBe(pieceId);
  });

  it('names the candidates when two pieces are meant', () => {
    expect(pieceFromFileName('F012-a_F013-b.dat', labels).how).toContain('F012-a, F013-b');
  });
});

describe('settings of a file', () => {
  it('reads temperature, field and angle from whole words of the name', () => {
    expect(settingsFromFileName('F012-a_77K_0p5T_45deg.dat')).toEqual({
      temperatureK: 77,
      fieldT: 0.5,
      thetaDeg: 45,
    });
    expect(settingsFromFileName('loop-5T_4.2K.csv')).toEqual({ temperatureK: 4.2, fieldT: 5 });
    expect(settingsFromFileName('F012K5.dat')).toEqual({});
  });

  it('reads them from header pairs that state the unit, and leaves out what is stated twice and differently', () => {
    const settings = settingsFromFile('F021-c.csv', {
      'Field / Oe': '10',
      Temperature: '77 K',
      Anode: 'Cu K-alpha',
      T2: '5',
    });
    expect(settings).toEqual({ fieldT: 1e-3, temperatureK: 77, anode: 'Cu' });
    expect(measurementSettingsSchema.parse(settings)).toEqual(settings);
    expect(settingsFromFile('a_4K.csv', { Temperature: '77 K' })).toEqual({});
    expect(settingsFromFileName('a_4K_to_77K.csv')).toEqual({});
    expect(settingsFromFile('a.csv', { Temperature: '77' })).toEqual({});
  });
});
