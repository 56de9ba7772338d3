// What a reduction found, as rows of a table in the trade's units. Pure.
import { shortNumber, uncertainText } from '../number-text.ts';
import { FACT_TRADE_UNITS } from '../trade-text.ts';
import type {
  LogAnswer,
  LoopAnswer,
  MagneticAnswer,
  Maybe,
  MeasuredKind,
  Quantity,
  ResistiveAnswer,
  ScanAnswer,
  VoltageAnswer,
} from './answers.ts';

export interface ResultRow {
  readonly label: string;
  /** value, uncertainty and unit; or why there is none */
  readonly text: string;
  /** the quantity could not be given; a flag says why */
  readonly isMissing: boolean;
}

const NOT_GIVEN = 'not given';

function row(label: string, quantity: Maybe | undefined, unit: string, factor = 1): ResultRow {
  if (!quantity) return { label, text: NOT_GIVEN, isMissing: true };
  const number = uncertainText(quantity.value * factor, quantity.standardUncertainty * factor);
  return { label, text: unit ? `${number} ${unit}` : number, isMissing: false };
}

/** A row only where the quantity was seen. */
const rowIfSeen = (label: string, quantity: Maybe | undefined, unit: string, factor = 1): ResultRow[] =>
  quantity ? [row(label, quantity, unit, factor)] : [];

const said = (label: string, text: string): ResultRow => ({ label, text, isMissing: false });

function scanRows(answer: ScanAnswer): ResultRow[] {
  return [
    row('c axis', answer.cAxisAngstrom, 'Å'),
    ...(answer.cAxisOrders.length > 0
      ? [said('from orders', answer.cAxisOrders.map((l) => `00${l}`).join(', '))]
      : []),
    row('Width of (005)', answer.fwhmDeg, '°'),
    ...rowIfSeen('Oxygen x of YBa₂Cu₃Oₓ', answer.oxygen, ''),
    row('Shift of 2θ by displacement', answer.displacementShiftDeg, '°'),
    ...rowIfSeen('Displacement', answer.displacementMm, 'mm'),
    said('Amorphous hump', answer.amorphous.answer),
    ...rowIfSeen('Amorphous share', answer.amorphous.share, ''),
    said('Wavelength', `${Number(answer.wavelengthAngstrom.toPrecision(7))} Å`),
  ];
}

function resistiveRows(answer: ResistiveAnswer): ResultRow[] {
  return [
    row('Onset', answer.onset, 'K'),
    row('Midpoint, 50 %', answer.t50, 'K'),
    row('Zero', answer.zero, 'K'),
    row('Width, 10 to 90 %', answer.width, 'K'),
    row('90 %', answer.t90, 'K'),
    row('10 %', answer.t10, 'K'),
    ...rowIfSeen('Resistance below the transition', answer.background?.resistance, 'Ω'),
    ...(answer.transitions.length > 1
      ? answer.transitions.map(({ t50, share }, i) =>
          row(`Part ${i + 1}, ${Math.round(share * 100)} % of the step`, t50, 'K'),
        )
      : []),
  ];
}

function magneticRows(answer: MagneticAnswer): ResultRow[] {
  return [
    row('Onset', answer.onset, 'K'),
    row('Midpoint, 50 %', answer.t50, 'K'),
    row('Width, 10 to 90 %', answer.width, 'K'),
    row('90 %', answer.t90, 'K'),
    row('10 %', answer.t10, 'K'),
    ...rowIfSeen('Moment at full shielding', answer.shielding?.moment, 'emu', 1e3),
  ];
}

function voltageRows(answer: VoltageAnswer): ResultRow[] {
  const density = FACT_TRADE_UNITS.jcAPerM2;
  const perWidth = FACT_TRADE_UNITS.icPerWidthAPerM;
  return [
    answer.ic || answer.icAbove === null
      ? row('Ic', answer.ic, 'A')
      : said('Ic', `> ${Number(answer.icAbove.toPrecision(4))} A: the criterion was not reached`),
    row('Jc', answer.jc, density.unit, density.factor),
    row('Ic per width', answer.icPerWidthAPerM, perWidth.unit, perWidth.factor),
    row('n', answer.n, ''),
    ...(answer.fitWindow
      ? [
          said(
            'Fitted from',
            `${Number((answer.fitWindow.fromVPerM * 1e4).toPrecision(3))} to ${Number((answer.fitWindow.toVPerM * 1e4).toPrecision(3))} µV/cm`,
          ),
        ]
      : []),
    ...rowIfSeen('Crossing of the curve itself', answer.crossing, 'A'),
    ...rowIfSeen('Offset', answer.offset, 'µV', 1e6),
    ...rowIfSeen('Ohmic part', answer.ohmic, 'µΩ', 1e6),
    ...rowIfSeen('Resistance in parallel', answer.shunt, 'mΩ', 1e3),
    ...rowIfSeen('Drift', answer.drift, 'µV/s', 1e6),
    said('Noise', `${Number((answer.noiseV * 1e6).toPrecision(2))} µV`),
  ];
}

function loopRows(answer: LoopAnswer): ResultRow[] {
  const { unit, factor } = FACT_TRADE_UNITS.jcAPerM2;
  return [
    ...answer.points.map(({ fieldT, jc, isRounded }) =>
      row(`Jc at ${Number(fieldT.toPrecision(4))} T${isRounded ? ' (rounded)' : ''}`, jc, unit, factor),
    ),
    ...(answer.selfFieldT === null
      ? []
      : [said('Own field of the piece', `${Number((answer.selfFieldT * 1e3).toPrecision(3))} mT`)]),
    said('Noise of the moment', `${Number((answer.noiseAmpereM2 * 1e3).toPrecision(2))} emu`),
  ];
}

/** A length of time in the unit that suits it. */
function timeText(timeS: number): string {
  const [value, unit] = timeS < 120 ? [timeS, 's'] : timeS < 7200 ? [timeS / 60, 'min'] : [timeS / 3600, 'h'];
  return `${shortNumber(value, 3)} ${unit}`;
}

/** An offset to whole seconds where it is no surer than that. */
function offsetText({ value, standardUncertainty }: Quantity): string {
  const isCoarse = standardUncertainty >= 1;
  const text = isCoarse ? String(Math.round(value) + 0) : shortNumber(value, 4);
  return `${text} ± ${isCoarse ? Math.round(standardUncertainty) : shortNumber(standardUncertainty, 2)} s`;
}

function logRows(answer: LogAnswer): ResultRow[] {
  const pressure = answer.log10Po2Range;
  return [
    row('Hottest', answer.hottestC, '°C'),
    ...answer.holds.map((hold, i): ResultRow => {
      const least = hold.beginsUnseen || hold.endsUnseen ? 'at least ' : '';
      const drift =
        Math.abs(hold.driftKPerMin) >= 0.01 ? `, drifting ${shortNumber(hold.driftKPerMin, 2)} K/min` : '';
      return {
        label: `Hold ${i + 1}, from ${timeText(hold.fromS)}`,
        text: `${uncertainText(hold.meanC.value, hold.meanC.standardUncertainty)} °C for ${least}${timeText(hold.toS - hold.fromS)}${drift}`,
        isMissing: false,
      };
    }),
    ...(pressure
      ? [
          said(
            'Oxygen pressure',
            `${shortNumber(10 ** pressure.lowest, 3)} to ${shortNumber(10 ** pressure.highest, 3)} atm`,
          ),
        ]
      : []),
    ...(answer.alignment ? [said('Plan began on the log at', offsetText(answer.alignment.offset))] : []),
    said('Length of the log', timeText(answer.durationS)),
    said('Readings', `${answer.readings}, usually ${timeText(answer.typicalIntervalS)} apart`),
    ...(answer.gaps.length > 0 ? [said('Gaps', String(answer.gaps.length))] : []),
  ];
}

/** The rows of a kind's answer, the number that it is taken for first. */
export function resultRows(kind: MeasuredKind, response: unknown): ResultRow[] {
  switch (kind) {
    case 'diffraction scan':
      return scanRows(response as ScanAnswer);
    case 'resistance':
      return resistiveRows(response as ResistiveAnswer);
    case 'magnetic transition':
      return magneticRows(response as MagneticAnswer);
    case 'current-voltage':
      return voltageRows(response as VoltageAnswer);
    case 'magnetisation loop':
      return loopRows(response as LoopAnswer);
    case 'chamber log':
      return logRows(response as LogAnswer);
  }
}
