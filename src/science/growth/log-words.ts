// A deviation of a log as a sentence for the grower. Pure.
import { inWords } from '../measured.ts';
import type { LogDeviation } from './log-deviation.ts';
import type { PlacedSegment } from './path.ts';

/** A length of time: `45 s`, `12 min`, `3.5 h`. */
export function timeInWords(timeS: number): string {
  const size = Math.abs(timeS);
  const short = (value: number): string => String(Number(value.toPrecision(3)));
  if (size < 120) return `${short(timeS)} s`;
  return size < 7200 ? `${short(timeS / 60)} min` : `${short(timeS / 3600)} h`;
}

/** A size with its uncertainty, the latter to two figures. */
function sizeInWords(value: number, standardUncertainty: number, unit: string): string {
  const size = Math.abs(value);
  if (!(standardUncertainty > 0)) return `${inWords(size)} ${unit}`;
  const place = Math.max(0, 1 - Math.floor(Math.log10(standardUncertainty)));
  const rounded = (x: number): string => x.toFixed(Math.min(place, 6));
  return `${rounded(size)} ± ${rounded(standardUncertainty)} ${unit}`;
}

const NAMES: Readonly<Record<PlacedSegment['kind'], string>> = {
  ramp: 'ramp',
  cool: 'cooling',
  hold: 'hold',
  gas: 'change of gas',
  deposit: 'deposit',
};

/** `the hold at 850 °C (segments 2 to 4)`: segments counted from 1. */
function segmentsInWords(
  { firstSegment, lastSegment }: LogDeviation,
  segments: readonly PlacedSegment[],
): string {
  const { kind, fromC, toC } = segments[firstSegment]!;
  const place =
    firstSegment === lastSegment
      ? `segment ${firstSegment + 1}`
      : `segments ${firstSegment + 1} to ${lastSegment + 1}`;
  const degrees = fromC === toC ? `at ${inWords(toC)} °C` : `from ${inWords(fromC)} to ${inWords(toC)} °C`;
  const name = firstSegment === lastSegment || fromC !== toC ? NAMES[kind] : 'hold';
  return `the ${name} ${degrees} (${place})`;
}

/** The deviation in one sentence: segment, size with uncertainty, how long, from when to when on the log. */
export function deviationInWords(deviation: LogDeviation, segments: readonly PlacedSegment[]): string {
  const { kind, size, planned, fromS, toS } = deviation;
  const where = segmentsInWords(deviation, segments);
  const Where = where.replace(/^the/, 'The');
  const when = `from ${timeInWords(fromS)} to ${timeInWords(toS)} of the log`;
  const by = size ? sizeInWords(size.value, size.standardUncertainty, size.unit) : '';
  const seconds = size ? sizeInWords(size.value, size.standardUncertainty, 's') : '';
  switch (kind) {
    case 'overshoot':
      return `The temperature overshot ${where} by ${by} for ${timeInWords(toS - fromS)}, ${when}.`;
    case 'dip':
      return `The temperature dipped in ${where} by ${by} for ${timeInWords(toS - fromS)}, ${when}.`;
    case 'hold too hot':
    case 'hold too cold':
      return `${Where} was ${by} too ${kind.slice(9)} for ${timeInWords(toS - fromS)}, ${when}.`;
    case 'hold too long':
    case 'hold too short':
      return `${Where} was ${seconds} too ${kind.slice(9)}: ${timeInWords(toS - fromS)} instead of ${timeInWords(planned!)}, ${when}.`;
    case 'ramp too fast':
    case 'ramp too slow': {
      const rate = sizeInWords(planned! + size!.value, size!.standardUncertainty, 'K/min');
      return `${Where} was too ${kind.slice(9)}: ${rate} instead of ${inWords(Math.abs(planned!))} K/min, ${when}.`;
    }
    case 'too much oxygen':
    case 'too little oxygen': {
      const factor = inWords(10 ** Math.abs(size!.value));
      const decades = sizeInWords(size!.value, size!.standardUncertainty, 'decades');
      return `${Where} had ${kind}: ${kind === 'too much oxygen' ? 'more' : 'less'} by a factor ${factor} (${decades}) for ${timeInWords(toS - fromS)}, ${when}.`;
    }
    case 'oxygen late':
    case 'oxygen early':
      return `The oxygen of ${where} came ${seconds} ${kind.slice(7)}, ${when}.`;
    case 'segment missing':
      return `The log does not show ${where}, which was expected ${when}.`;
    case 'not seen':
      return `Of ${where}, expected ${when}, the log has too few readings to tell what happened.`;
  }
}
