// What the invented furnace wrote while a piece was converted: time, set and actual temperature, and what its
// oxygen sensor read. The actual temperature lags and wanders, one stretch of the log is missing.
import { type TextColumn, type TextStyle, tableBytes } from './file-text.ts';
import type { RandomStream } from './random.ts';
import { type DemoFile, type DemoTreatment, INVENTED_NOTE } from './records.ts';

const STYLE: TextStyle = {
  extension: 'txt',
  delimiter: '\t',
  decimal: '.',
  newline: '\n',
  encoding: 'utf-8',
  comment: '# ',
  assign: ': ',
  headingMark: '',
  unitIn: 'square brackets',
};
const COLUMNS: readonly TextColumn[] = [
  { heading: 'time', unit: 's', digits: 1 },
  { heading: 'T set', unit: '°C', digits: 1 },
  { heading: 'T sample', unit: '°C', digits: 1 },
  { heading: 'p O2', unit: 'mbar', digits: 'power' },
];
const MBAR_PER_ATM = 1013.25;
const LAG_S = 4;
/** The sensor's reading goes towards the gas at this pace, in its logarithm. */
const SENSOR_LAG_S = 1.5;
const SENSOR_DECADES = 0.01;
const READ_EVERY_S = 1;
/** Readings from here on are missing for a while, s after the start. */
const GAP = { fromS: 700, toS: 760 };
const ROOM_C = 25;

/** The log of one treatment. */
export function chamberLogFile(treatment: DemoTreatment, random: RandomStream): DemoFile {
  const totalS = treatment.segments.reduce((sum, { durationS }) => sum + durationS, 0);
  const setAt = (timeS: number): { setC: number; po2Atm: number } => {
    let fromC = ROOM_C;
    let startS = 0;
    for (const { toC, durationS, po2Atm } of treatment.segments) {
      if (timeS <= startS + durationS && durationS > 0)
        return { setC: fromC + ((toC - fromC) * (timeS - startS)) / durationS, po2Atm };
      startS += durationS;
      fromC = toC;
    }
    return { setC: fromC, po2Atm: treatment.segments.at(-1)!.po2Atm };
  };
  const rows: number[][] = [];
  let actualC = ROOM_C;
  let sensorLog10Atm = Math.log10(treatment.segments[0]!.po2Atm);
  for (let timeS = 0; timeS <= totalS; timeS += READ_EVERY_S) {
    const { setC, po2Atm } = setAt(timeS);
    sensorLog10Atm += (Math.log10(po2Atm) - sensorLog10Atm) * -Math.expm1(-READ_EVERY_S / SENSOR_LAG_S);
    actualC += (setC - actualC) * -Math.expm1(-READ_EVERY_S / LAG_S);
    const isMissing = timeS > GAP.fromS && timeS < GAP.toS;
    const isWritten = timeS < 300 || timeS % 10 === 0; // the furnace writes less often once nothing moves fast
    if (isMissing || !isWritten) continue;
    const readLog10Atm = sensorLog10Atm + SENSOR_DECADES * random.normal();
    rows.push([timeS, setC, actualC + 0.6 * random.normal(), MBAR_PER_ATM * 10 ** readLog10Atm]);
  }
  return {
    name: `${treatment.pieceLabel}_furnace-log.txt`,
    bytes: tableBytes(
      STYLE,
      [
        ['Note', INVENTED_NOTE],
        ['Sample', treatment.pieceLabel],
      ],
      COLUMNS,
      [{ rows }],
    ),
    pieceLabel: treatment.pieceLabel,
    stateLabel: treatment.label,
    kind: 'chamber log',
    settings: { pressureKind: 'oxygen partial' },
    block: 0,
    columns: [
      { quantity: 'time', unit: 's' },
      { quantity: 'temperature', unit: '°C' },
      { quantity: 'temperature', unit: '°C' },
      { quantity: 'pressure', unit: 'mbar' },
    ],
    takenAt: treatment.startedAt,
  };
}
