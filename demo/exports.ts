// The invented instruments: how each writes its file. A piece's curve goes in, one instrument file comes out.
import {
  CRITERION_V_PER_M,
  type CurrentRow,
  currentRamp,
  type LoopRow,
  magnetisationLoop,
} from './currents.ts';
import { diffractionScan, type ScanOptions } from './diffraction.ts';
import { type TextColumn, type TextStyle, tableBytes } from './file-text.ts';
import type { RandomStream } from './random.ts';
import { type DemoColumn, type DemoFile, type DemoSettings, INVENTED_NOTE } from './records.ts';
import type { Oddity, PlannedPiece } from './roster.ts';
import { type MomentRow, magneticTransition, type ResistanceRow, resistanceSweeps } from './transition.ts';
import type { FilmTruth } from './world.ts';

/** What every export needs to know of what is measured. */
export interface Subject {
  readonly pieceLabel: string;
  readonly stateLabel: string | null;
  readonly takenAt: string;
  readonly truth: FilmTruth;
  readonly piece: PlannedPiece;
  readonly oddity: Oddity | 'plain';
  /** which of the group's instruments of a kind it went to */
  readonly instrument: number;
  readonly random: RandomStream;
}

interface Column<Row> extends TextColumn {
  readonly quantity: DemoColumn['quantity'];
  readonly unitStated?: string;
  readonly read: (row: Row) => number;
}

interface Instrument<Row> {
  readonly style: TextStyle;
  readonly columns: readonly Column<Row>[];
}

const PLAIN: TextStyle = {
  extension: 'txt',
  delimiter: '\t',
  decimal: '.',
  newline: '\n',
  encoding: 'utf-8',
  comment: '# ',
  assign: ': ',
  headingMark: '',
  unitIn: 'round brackets',
};
const COMMA_SIGN: TextStyle = {
  ...PLAIN,
  extension: 'csv',
  delimiter: ';',
  decimal: ',',
  newline: '\r\n',
  encoding: 'latin-1',
  comment: '',
  assign: ';',
};
const COMMA_FILE: TextStyle = { ...PLAIN, extension: 'csv', delimiter: ',' };
const BLANKS: TextStyle = { ...PLAIN, extension: 'dat', delimiter: '  ', comment: '! ', headingMark: '! ' };

type ScanRow = ReturnType<typeof diffractionScan>[number];
const scanColumns = (heading: string, unit: string, counts: string): Column<ScanRow>[] => [
  { heading, unit, digits: 2, quantity: 'two theta', unitStated: 'deg', read: (row) => row.twoThetaDeg },
  { heading: counts, unit: '', digits: 0, quantity: 'counts', unitStated: '1', read: (row) => row.counts },
];
const DIFFRACTOMETERS: readonly Instrument<ScanRow>[] = [
  { style: PLAIN, columns: scanColumns('2theta', 'deg', 'counts') },
  { style: COMMA_SIGN, columns: scanColumns('2Theta', '°', 'Counts') },
  {
    style: { ...BLANKS, unitIn: 'slash' },
    columns: scanColumns('two-theta', 'deg', 'counts'),
  },
];

const RESISTANCE_BRIDGES: readonly Instrument<ResistanceRow>[] = [
  {
    style: COMMA_FILE,
    columns: [
      { heading: 'Temperature', unit: 'K', digits: 3, quantity: 'temperature', read: (r) => r.temperatureK },
      { heading: 'Resistance', unit: 'Ohm', digits: 5, quantity: 'resistance', read: (r) => r.resistanceOhm },
    ],
  },
  {
    style: { ...PLAIN, unitIn: 'line below', comment: '; ', newline: '\r\n' },
    columns: [
      { heading: 'Temperature', unit: 'K', digits: 3, quantity: 'temperature', read: (r) => r.temperatureK },
      {
        heading: 'Resistance',
        unit: 'mOhm',
        digits: 2,
        quantity: 'resistance',
        read: (r) => 1e3 * r.resistanceOhm,
      },
    ],
  },
  {
    style: { ...COMMA_SIGN, unitIn: 'slash' },
    columns: [
      { heading: 'T', unit: 'K', digits: 3, quantity: 'temperature', read: (r) => r.temperatureK },
      { heading: 'R', unit: 'Ohm', digits: 5, quantity: 'resistance', read: (r) => r.resistanceOhm },
    ],
  },
];

const CURRENT_SOURCES: readonly Instrument<CurrentRow>[] = [
  {
    style: { ...COMMA_SIGN, extension: 'txt', delimiter: '\t', decimal: '.', comment: '% ', assign: ' = ' },
    columns: [
      { heading: 'I', unit: 'A', digits: 6, quantity: 'current', read: (r) => r.currentA },
      {
        heading: 'U',
        unit: '\u00b5V',
        unitStated: 'uV',
        digits: 4,
        quantity: 'voltage',
        read: (r) => 1e6 * r.voltageV,
      },
    ],
  },
  {
    style: COMMA_FILE,
    columns: [
      { heading: 'Time', unit: 's', digits: 1, quantity: 'time', read: (r) => r.timeS },
      { heading: 'Current', unit: 'mA', digits: 3, quantity: 'current', read: (r) => 1e3 * r.currentA },
      { heading: 'Voltage', unit: 'nV', digits: 2, quantity: 'voltage', read: (r) => 1e9 * r.voltageV },
    ],
  },
  {
    style: { ...BLANKS, headingMark: '', unitIn: 'square brackets' },
    columns: [
      { heading: 'current', unit: 'A', digits: 'power', quantity: 'current', read: (r) => r.currentA },
      { heading: 'voltage', unit: 'V', digits: 'power', quantity: 'voltage', read: (r) => r.voltageV },
    ],
  },
];

const MAGNETOMETERS: readonly Instrument<LoopRow>[] = [
  {
    style: { ...COMMA_FILE, unitIn: 'line below', newline: '\r\n' },
    columns: [
      { heading: 'Field', unit: 'Oe', digits: 1, quantity: 'field', read: (r) => r.fieldOe },
      { heading: 'Moment', unit: 'emu', digits: 'power', quantity: 'moment', read: (r) => r.momentEmu },
    ],
  },
  {
    style: { ...PLAIN, extension: 'dat' },
    columns: [
      { heading: 'Magnetic field', unit: 'Oe', digits: 1, quantity: 'field', read: (r) => r.fieldOe },
      { heading: 'Moment', unit: 'emu', digits: 'power', quantity: 'moment', read: (r) => r.momentEmu },
    ],
  },
];

const WARMING_IN_FIELD: Instrument<MomentRow> = {
  style: { ...PLAIN, extension: 'tsv' },
  columns: [
    { heading: 'Temperature', unit: 'K', digits: 3, quantity: 'temperature', read: (r) => r.temperatureK },
    { heading: 'Moment', unit: 'emu', digits: 'power', quantity: 'moment', read: (r) => r.momentEmu },
  ],
};

/** Writes blocks of rows as the instrument does, with the sentence that they are invented first. */
function exported<Row>(
  subject: Subject,
  instrument: Instrument<Row>,
  name: string,
  kind: DemoFile['kind'],
  settings: DemoSettings,
  conditions: readonly (readonly [string, string])[],
  blocks: readonly { readonly title?: string; readonly rows: readonly Row[] }[],
): DemoFile {
  const facts: (readonly [string, string])[] = [
    ['Note', INVENTED_NOTE],
    ['Piece', subject.pieceLabel],
    ['State', subject.stateLabel ?? 'as grown'],
    ['Started', subject.takenAt],
    ...conditions,
  ];
  const { style, columns } = instrument;
  const bytes = tableBytes(
    style,
    facts,
    columns,
    blocks.map(({ title, rows }) => ({
      ...(title === undefined ? {} : { title }),
      rows: rows.map((row) => columns.map((column) => column.read(row))),
    })),
  );
  return {
    name: `${name}.${style.extension}`,
    bytes,
    pieceLabel: subject.pieceLabel,
    stateLabel: subject.stateLabel,
    kind,
    settings,
    block: 0,
    columns: columns.map(({ quantity, unit, unitStated }) => ({ quantity, unit: unitStated ?? unit })),
    takenAt: subject.takenAt,
  };
}

const pick = <Item>(items: readonly Item[], number: number): Item => items[number % items.length]!;

/** A theta-2theta scan; `as grown` is told from the treated piece by the file's name as well. */
export function scanFile(subject: Subject, options: ScanOptions): DemoFile {
  const suffix = subject.stateLabel === null ? '_asgrown' : '';
  return exported(
    subject,
    pick(DIFFRACTOMETERS, subject.instrument),
    `xrd_${subject.pieceLabel}${suffix}`,
    'diffraction scan',
    { anode: 'Cu' },
    [
      ['Radiation', 'Cu K-alpha, filtered'],
      ['Scan', 'theta-2theta, 5 to 80 degrees in steps of 0.02'],
    ],
    [{ rows: diffractionScan(subject.truth, options, subject.random) }],
  );
}

/** Resistance on cooling; some instruments add the way back, in the same table or in a second one. */
export function resistanceFile(subject: Subject): DemoFile {
  const { piece, oddity } = subject;
  const instrument = pick(RESISTANCE_BRIDGES, subject.instrument);
  const { cooling, warming } = resistanceSweeps(
    subject.truth,
    { lengthM: piece.tapDistanceM, widthM: piece.bridgeWidthM },
    subject.random,
  );
  const blocks =
    oddity === 'two blocks'
      ? [
          { title: 'cooling', rows: cooling },
          { title: 'warming', rows: warming },
        ]
      : [{ rows: subject.instrument % 2 === 0 ? [...cooling, ...warming] : cooling }];
  return exported(
    subject,
    oddity === 'two-byte text'
      ? { ...instrument, style: { ...instrument.style, encoding: 'utf-16le' } }
      : instrument,
    `${subject.pieceLabel}_RT`,
    'resistance',
    {},
    [['Wiring', 'four points, 0.1 mA, both signs averaged']],
    blocks,
  );
}

/** A voltage-current ramp of the bridge at one temperature and field along the c axis. */
export function currentFile(
  subject: Subject,
  at: { readonly temperatureK: number; readonly fieldT: number },
): DemoFile {
  const { piece, oddity } = subject;
  const isKnown =
    oddity === 'shunt' || oddity === 'quench' || oddity === 'supply limit' || oddity === 'cracked through';
  const rows = currentRamp(
    subject.truth,
    {
      ...at,
      tapDistanceM: piece.tapDistanceM,
      bridgeWidthM: piece.bridgeWidthM,
      oddity: isKnown ? oddity : 'plain',
    },
    subject.random,
  );
  const inField = at.fieldT > 0 ? `_${at.fieldT}T` : '';
  return exported(
    subject,
    pick(CURRENT_SOURCES, subject.instrument),
    `${subject.pieceLabel}_IV_${at.temperatureK}K${inField}`,
    'current-voltage',
    {
      ...at,
      ...(at.fieldT > 0 ? { thetaDeg: 0 } : {}),
      tapDistanceM: piece.tapDistanceM,
      bridgeWidthM: piece.bridgeWidthM,
      criterionVPerM: CRITERION_V_PER_M,
    },
    [
      ['Temperature', `${at.temperatureK} K`],
      ['Applied field', at.fieldT > 0 ? `${at.fieldT} T along the film normal` : 'none'],
      ['Tap distance', `${(1e3 * piece.tapDistanceM).toFixed(1)} mm`],
      ['Bridge width', `${(1e6 * piece.bridgeWidthM).toFixed(0)} um`],
    ],
    [{ rows }],
  );
}

/** A magnetisation loop of the piece, field along the c axis. */
export function loopFile(subject: Subject, temperatureK: number, topT: number): DemoFile {
  const { lengthMm, widthMm } = subject.piece;
  return exported(
    subject,
    pick(MAGNETOMETERS, subject.instrument),
    `MH_${subject.pieceLabel}_${temperatureK}K`,
    'magnetisation loop',
    { temperatureK, thetaDeg: 0 },
    [
      ['Temperature', `${temperatureK} K`],
      ['Field direction', 'along the film normal'],
      ['Sides', `${lengthMm} mm x ${widthMm} mm`],
    ],
    [{ rows: magnetisationLoop(subject.truth, { temperatureK, topT, lengthMm, widthMm }, subject.random) }],
  );
}

/** Moment on warming in 10 Oe after cooling without field. */
export function magneticTransitionFile(subject: Subject): DemoFile {
  const { lengthMm, widthMm } = subject.piece;
  return exported(
    subject,
    WARMING_IN_FIELD,
    `${subject.pieceLabel}_MT`,
    'magnetic transition',
    { fieldT: 1e-3 },
    [
      ['Applied field', '10 Oe'],
      ['Way', 'cooled without field, measured on warming'],
    ],
    [{ rows: magneticTransition(subject.truth, lengthMm * widthMm, subject.random) }],
  );
}
