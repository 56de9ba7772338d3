// Units that files state, with their factor to coherent SI (angles of a scan: degrees of 2theta). Pure.

export type Dimension =
  | 'temperature'
  | 'resistance'
  | 'voltage'
  | 'current'
  | 'field'
  | 'moment'
  | 'scan angle'
  | 'counts'
  | 'time'
  | 'length'
  | 'pressure'
  | 'log pressure'
  | 'rate'
  | 'current density'
  | 'share'
  | 'other';

/** SI = value x factor + offset. */
export interface Unit {
  /** how Peritect writes it */
  readonly symbol: string;
  readonly dimension: Dimension;
  readonly factor: number;
  readonly offset: number;
  /** other spellings seen in files */
  readonly spellings: readonly string[];
}

/** Magnetic constant, T m/A [looked-up: CODATA 2022 recommended value, 1.256 637 061 27(20)e-6 N A^-2]. */
const MAGNETIC_CONSTANT = 1.25663706127e-6;
const DEGREE_PER_RADIAN = 180 / Math.PI;

function unit(
  dimension: Dimension,
  symbol: string,
  factor: number,
  spellings: readonly string[] = [],
  offset = 0,
): Unit {
  return { symbol, dimension, factor, offset, spellings };
}

// Prefixes and definitions: [looked-up: BIPM, The International System of Units, 9th edition, 2019, tables 4, 7 and 8].
// Oersted, gauss and emu: 1 Oe stands for mu0 H = 1e-4 T, 1 emu = 1e-3 A m2
// [memory: Goldfarb and Fickett 1985, NBS Special Publication 696].
export const UNITS: readonly Unit[] = [
  unit('temperature', 'K', 1, ['kelvin', 'kelvins', 'deg K']),
  unit('temperature', 'mK', 1e-3),
  unit('temperature', 'degC', 1, ['C', 'celsius', '\u00b0C', 'deg C', 'deg. C'], 273.15),
  unit('resistance', 'ohm', 1, ['ohms', '\u03a9', 'V/A']),
  unit('resistance', 'mohm', 1e-3, ['mohms', 'm\u03a9', 'milliohm', 'milliohms', 'mV/A']),
  unit('resistance', 'uohm', 1e-6, ['uohms', 'u\u03a9', 'microohm', 'microohms', 'uV/A']),
  unit('resistance', 'kohm', 1e3, ['kohms', 'k\u03a9', 'kiloohm']),
  unit('voltage', 'V', 1, ['volt', 'volts']),
  unit('voltage', 'mV', 1e-3, ['millivolt', 'millivolts']),
  unit('voltage', 'uV', 1e-6, ['microvolt', 'microvolts']),
  unit('voltage', 'nV', 1e-9, ['nanovolt', 'nanovolts']),
  unit('current', 'A', 1, ['amp', 'amps', 'ampere', 'amperes']),
  unit('current', 'mA', 1e-3, ['milliamp', 'milliamps', 'milliampere']),
  unit('current', 'uA', 1e-6, ['microamp', 'microamps', 'microampere']),
  unit('current', 'nA', 1e-9, ['nanoamp', 'nanoampere']),
  unit('current', 'kA', 1e3, ['kiloamp']),
  unit('field', 'T', 1, ['tesla', 'teslas']),
  unit('field', 'mT', 1e-3, ['millitesla']),
  unit('field', 'Oe', 1e-4, ['oersted', 'oersteds']),
  unit('field', 'kOe', 0.1, ['kilooersted']),
  unit('field', 'G', 1e-4, ['gauss']),
  unit('field', 'kG', 0.1, ['kilogauss']),
  unit('field', 'A/m', MAGNETIC_CONSTANT, ['Am-1']),
  unit('field', 'kA/m', 1e3 * MAGNETIC_CONSTANT, ['kAm-1']),
  unit('moment', 'A m2', 1, ['J/T']),
  unit('moment', 'mA m2', 1e-3, ['mJ/T']),
  unit('moment', 'uA m2', 1e-6, ['uJ/T']),
  unit('moment', 'emu', 1e-3),
  unit('moment', 'memu', 1e-6),
  unit('moment', 'uemu', 1e-9),
  unit('scan angle', 'deg 2theta', 1, [
    'deg',
    'degree',
    'degrees',
    '\u00b0',
    '\u00b02\u03b8',
    '2theta deg',
    'deg. 2theta',
  ]),
  unit('scan angle', 'rad 2theta', DEGREE_PER_RADIAN, ['rad', 'radian', 'radians']),
  unit('scan angle', 'deg theta', 2, ['\u00b0\u03b8', 'theta deg']),
  unit('scan angle', 'rad theta', 2 * DEGREE_PER_RADIAN, ['theta rad']),
  unit('counts', 'counts', 1, ['count', 'cts', 'pulses']),
  unit('counts', 'counts/s', 1, ['cps', 'counts per second', 'cts/s', 'counts/sec']),
  unit('counts', 'a.u.', 1, ['arb. units', 'arb. unit', 'arb.u.', 'arbitrary units', 'au', 'arb']),
  unit('time', 's', 1, ['sec', 'secs', 'second', 'seconds']),
  unit('time', 'ms', 1e-3, ['millisecond', 'milliseconds']),
  unit('time', 'min', 60, ['minute', 'minutes']),
  unit('time', 'h', 3600, ['hour', 'hours', 'hr']),
  unit('length', 'nm', 1e-9, ['nanometre', 'nanometer', 'nanometres', 'nanometers']),
  unit('length', 'um', 1e-6, ['micrometre', 'micrometer', 'micron', 'microns']),
  unit('length', 'angstrom', 1e-10, ['\u00c5', 'A (length)']),
  unit('length', 'mm', 1e-3, ['millimetre', 'millimeter']),
  unit('pressure', 'Pa', 1, ['pascal']),
  unit('pressure', 'kPa', 1e3),
  unit('pressure', 'mbar', 100, ['hPa', 'millibar']),
  unit('pressure', 'bar', 1e5),
  unit('pressure', 'Torr', 101325 / 760, ['mmHg']),
  unit('pressure', 'mTorr', 101.325 / 760, ['millitorr']),
  unit('pressure', 'atm', 101325, ['atmosphere']),
  // a gauge that writes the decimal logarithm of its reading: log10 of Pa = value + offset
  unit('log pressure', 'log10 Pa', 1, [], 0),
  unit('log pressure', 'log10 mbar', 1, ['log10 hPa'], 2),
  unit('log pressure', 'log10 Torr', 1, [], Math.log10(101325 / 760)),
  unit('log pressure', 'log10 mTorr', 1, [], Math.log10(101.325 / 760)),
  unit('log pressure', 'log10 atm', 1, [], Math.log10(101325)),
  unit('rate', 'nm/s', 1e-9, ['nms-1']),
  unit('rate', 'um/s', 1e-6, ['ums-1']),
  unit('rate', 'nm/min', 1e-9 / 60),
  unit('rate', 'um/min', 1e-6 / 60),
  unit('rate', 'um/h', 1e-6 / 3600),
  unit('rate', 'angstrom/s', 1e-10, ['\u00c5/s', 'A/s']),
  unit('current density', 'A/m2', 1, ['Am-2']),
  unit('current density', 'MA/m2', 1e6),
  unit('current density', 'GA/m2', 1e9),
  unit('current density', 'A/cm2', 1e4, ['Acm-2']),
  unit('current density', 'kA/cm2', 1e7, ['kAcm-2']),
  unit('current density', 'MA/cm2', 1e10, ['MAcm-2']),
  unit('share', '1', 1),
  unit('share', '%', 0.01, ['at%', 'at.%', 'percent', 'per cent', 'mol%', 'cat%']),
  unit('other', 'emu/g', 1),
  unit('other', 'emu/cm3', 1, ['emu/cc']),
  unit('other', 'A/m (magnetisation)', 1),
  unit('other', 'Hz', 1),
  unit('other', 'g', 1e-3),
  unit('other', 'mg', 1e-6),
];

/** One spelling for many: micro, ohm, powers, dots and blanks; letters keep their case (mK is not MK). */
function plainSpelling(text: string): string {
  return text
    .normalize('NFKC')
    .trim()
    .replace(/\u03bc/g, 'u')
    .replace(/[\u03a9\u2126]/g, 'ohm')
    .replace(/\u03b8/g, 'theta')
    .replace(/\u00b0/g, 'deg')
    .replace(/[\u00b7\u22c5*^._\s]/g, '')
    .replace(/\u2212/g, '-');
}

const EXACT = new Map<string, Unit>();
/** lower-case spelling -> unit; null where two units differ by case only */
const ANY_CASE = new Map<string, Unit | null>();
for (const known of UNITS) {
  for (const spelling of [known.symbol, ...known.spellings]) {
    const plain = plainSpelling(spelling);
    if (!EXACT.has(plain)) EXACT.set(plain, known);
    const lower = plain.toLowerCase();
    const other = ANY_CASE.get(lower);
    ANY_CASE.set(lower, other === undefined || other === known ? known : null);
  }
}

/** The unit that a text names; undefined if unknown, or if its case leaves two (mK, MK). */
export function findUnit(text: string): Unit | undefined {
  const plain = plainSpelling(text);
  if (plain === '' || plain.length > 40) return undefined;
  return EXACT.get(plain) ?? ANY_CASE.get(plain.toLowerCase()) ?? undefined;
}

/** A heading parted into the name and the unit as the file writes it ('' if none). */
export interface Heading {
  readonly name: string;
  readonly unit: string;
}

/** Text in brackets that is a unit or could be one: short, a letter or degree sign in it, not a plain word. */
function looksLikeUnit(text: string): boolean {
  if (findUnit(text) !== undefined) return true;
  return (
    /^[^\s]{1,8}$/.test(text) && /[A-Za-z%\u00b0\u00b5\u03bc\u03a9]/.test(text) && !/^[a-z]{4,}$/.test(text)
  );
}

/**
 * Parts a heading into name and unit: `T (K)`, `Temperature [K]`, `Moment(emu)`, `I/A`, `H, Oe`, `R in ohm`, `T_K`. A unit
 * after a slash, comma, `in` or `_` must be a known one, since those marks occur in names as well.
 */
export function partHeading(text: string): Heading {
  const whole = text.trim().replace(/\s+/g, ' ').slice(0, 200);
  const bracketed = /^(.{0,190}?)\s*[([{<]([^()[\]{}<>]{1,30})[)\]}>]\s*[:=]?$/.exec(whole);
  if (bracketed !== null && looksLikeUnit(bracketed[2]!.trim())) {
    return { name: bracketed[1]!.trim(), unit: bracketed[2]!.trim() };
  }
  if (findUnit(whole)?.dimension === 'counts') return { name: whole, unit: whole };
  for (const mark of ['/', ',', ' in ', '_']) {
    const at = mark === '/' ? whole.indexOf(mark) : whole.lastIndexOf(mark);
    if (at <= 0) continue;
    const unitText = whole
      .slice(at + mark.length)
      .trim()
      .replace(/^\((.*)\)$/, '$1');
    if (findUnit(unitText) !== undefined) return { name: whole.slice(0, at).trim(), unit: unitText };
  }
  return { name: whole, unit: '' };
}

/** A line of units under the headings: every filled field is a unit, with or without brackets, and one is known. */
export function unitsOfLine(fields: readonly string[]): string[] | undefined {
  const units = fields.map((field) =>
    field
      .trim()
      .replace(/^[([{<](.*)[)\]}>]$/, '$1')
      .trim(),
  );
  const filled = units.filter((text) => text !== '' && text !== '-');
  if (!filled.some((text) => findUnit(text) !== undefined)) return undefined;
  if (
    !filled.every(
      (text) => findUnit(text) !== undefined || (text.length <= 8 && /[/%\u00b0]|^a\.?u/.test(text)),
    )
  ) {
    return undefined;
  }
  return units.map((text) => (text === '-' ? '' : text));
}
