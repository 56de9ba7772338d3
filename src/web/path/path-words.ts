// What a path does, in sentences: how long, how hot, when liquid comes and goes, what the chamber cannot follow. Pure.
import { uncertainText } from '../../charts/number-text.ts';
import { stepName, timeText } from '../../charts/path/path-time-request.ts';
import { pressureText } from '../../charts/trade-text.ts';
import { columnAt } from '../../science/growth/path.ts';
import { COLDEST_ASKED_C } from '../../science/growth/path-places.ts';
import { oddsText } from '../assemblage.ts';
import type { LiquidAlong, PathAnswer } from './path-request.ts';

const degrees = (value: number): string => `${Number(value.toFixed(0))} °C`;

const quantityText = ({
  value,
  standardUncertainty,
}: {
  value: number;
  standardUncertainty: number;
}): string => {
  const [seconds, unit] = value >= 3 * 3600 ? [3600, 'h'] : value >= 300 ? [60, 'min'] : [1, 's'];
  return `${uncertainText(value / seconds, standardUncertainty / seconds)} ${unit}`;
};

/** How long it takes and how hot the film becomes. */
export function courseSentence({ timeS, filmTemperatureC, segments }: PathAnswer): string {
  const hottest = filmTemperatureC.reduce((top, value) => Math.max(top, value), Number.NEGATIVE_INFINITY);
  const near = timeS.filter((_, i) => filmTemperatureC[i]! >= hottest - 1);
  const [fromS, toS] = [near[0]!, near.at(-1)!];
  const when = toS - fromS < 1 ? `after ${timeText(fromS)}` : `from ${timeText(fromS)} to ${timeText(toS)}`;
  return `The path takes ${timeText(segments.at(-1)?.endS ?? 0)}; the film is hottest, ${degrees(hottest)}, ${when}.`;
}

/** When liquid comes and goes along the path, in one reading. */
export function liquidSentences(answer: PathAnswer, liquid: LiquidAlong): string[] {
  const { timeS, odds, spans, liquidS, liquidWith123S } = liquid;
  const at = (moment: number): string => {
    const temperatureC = columnAt(answer.timeS, answer.filmTemperatureC, moment);
    const po2Atm = 10 ** columnAt(answer.timeS, answer.filmLog10Po2Atm, moment);
    return `${degrees(temperatureC)}, ${pressureText(po2Atm)}`;
  };
  const sentences: string[] = [];
  if (timeS.length === 0)
    return [
      answer.filmTemperatureC.some((atC) => atC >= COLDEST_ASKED_C)
        ? 'Liquid could not be asked for along this path.'
        : `The film never reaches ${COLDEST_ASKED_C} °C: no liquid is near, and none was asked for.`,
    ];
  if (spans.length === 0) {
    const best = odds.reduce((top, value, i) => (value > odds[top]! ? i : top), 0);
    sentences.push(
      odds[best]! <= 0
        ? 'No liquid anywhere along this path, in no member of the ensemble.'
        : `Liquid is never likely: its odds are highest, ${oddsText(odds[best]!)}, after ${timeText(timeS[best]!)} at ${at(timeS[best]!)}.`,
    );
  }
  for (const { fromS, toS, segment } of spans) {
    const step = answer.segments[segment];
    const isToTheEnd = toS >= timeS.at(-1)!;
    sentences.push(
      `Liquid is likely for ${timeText(toS - fromS)}: it comes after ${timeText(fromS)} at ${at(fromS)}${step ? ` (step ${segment + 1}, ${stepName(step.kind)})` : ''} and ${isToTheEnd ? 'is still likely where the path ends' : `goes after ${timeText(toS)} at ${at(toS)}`}.`,
    );
  }
  if (liquidS && (liquidS.value > 0 || spans.length > 0))
    sentences.push(
      `Over all members: ${quantityText(liquidS)} with liquid${liquidWith123S ? `, ${quantityText(liquidWith123S)} of it with 123 beside` : ''}.`,
    );
  return sentences;
}

/** Misses of temperature that are worth a word, K. */
const WORTH_SAYING_K = 1;

/** What the chamber cannot follow, step by step. */
export function chamberSentences(answer: PathAnswer): string[] {
  const { timeS, log10Po2Atm, filmLog10Po2Atm, segments, flags } = answer;
  const stepOf = (message: string): number | null => {
    const found = /segments\[(\d+)\]/.exec(message);
    return found ? Number(found[1]) : null;
  };
  const sentences: { step: number; text: string }[] = [];
  const say = (i: number, text: string) => sentences.push({ step: i, text });
  for (const { code, message } of flags) {
    const i = stepOf(message);
    const placed = i === null ? undefined : segments[i];
    if (i === null || !placed) continue;
    const name = `step ${i + 1} (${stepName(placed.kind)})`;
    if (code === 'PRESSURE_NOT_REACHED')
      say(
        i,
        `The ${pressureText(placed.toPo2Atm)} of ${name} are never reached: this flow against this pump settles short of it.`,
      );
    if (code !== 'PRESSURE_BEHIND') continue;
    const is = 10 ** columnAt(timeS, filmLog10Po2Atm, placed.endS);
    const commanded = 10 ** columnAt(timeS, log10Po2Atm, placed.endS);
    say(
      i,
      `At the end of ${name} the chamber stands at ${pressureText(is)}, not at the ${pressureText(commanded)} commanded.`,
    );
  }
  segments.forEach(({ kind, startS, endS, fromPo2Atm, toPo2Atm, chamberTime, thermalLag }, i) => {
    if (chamberTime && chamberTime.value > endS - startS)
      say(
        i,
        `From ${pressureText(fromPo2Atm)} to ${pressureText(toPo2Atm)} this chamber needs ${quantityText(chamberTime)}; step ${i + 1} gives it ${timeText(endS - startS)}.`,
      );
    if (thermalLag && Math.abs(thermalLag.value) >= WORTH_SAYING_K)
      say(
        i,
        `At the end of step ${i + 1} (${stepName(kind)}) the film is ${uncertainText(Math.abs(thermalLag.value), thermalLag.standardUncertainty)} K ${thermalLag.value > 0 ? 'colder' : 'hotter'} than commanded.`,
      );
  });
  return sentences.sort((one, other) => one.step - other.step).map(({ text }) => text);
}

/** Remarks of growth.path that are not said as sentences already, without the names of its fields. */
export function otherRemarks(flags: PathAnswer['flags']): string[] {
  const said = ['PRESSURE_BEHIND', 'PRESSURE_NOT_REACHED', 'LIQUID_NOT_ASKED', 'LIQUID_NEVER_LIKELY'];
  const names: Record<string, string> = {
    volumeL: 'volume',
    oxygenFlowSccm: 'oxygen flow',
    pumpingWhileFillingLPerS: 'pumping while filling',
    pumpingLPerS: 'pumping',
    thermalLagS: 'thermal lag',
  };
  return flags
    .filter(({ code }) => !said.includes(code))
    .map(({ message }) =>
      message
        .replace(/\b[a-zA-Z]+\b/g, (word) => names[word] ?? word)
        .replace(/segments\[(\d+)\]/g, (_, i: string) => `step ${Number(i) + 1}`),
    );
}
