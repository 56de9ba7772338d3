// Which part of the plane of temperature and oxygen a path is shown in. Pure.
import { USUAL_RANGE } from '../plane/plane-setting.ts';
import type { PathAnswer } from './path-request.ts';

const LOWEST_ATM = 1e-9;
const HOTTEST_C = 1400;

type Range = Record<keyof typeof USUAL_RANGE, number>;

/** The usual range, wider where the hot part of the path leaves it; in steps, so that it seldom moves while one types. */
export function mapRange({ filmTemperatureC, filmLog10Po2Atm }: PathAnswer): Range {
  const hot = filmTemperatureC.flatMap((atC, i) => (atC >= USUAL_RANGE.fromC ? [i] : []));
  if (hot.length === 0) return { ...USUAL_RANGE };
  const hottest = hot.reduce((top, i) => Math.max(top, filmTemperatureC[i]!), USUAL_RANGE.fromC);
  const logs = hot.map((i) => filmLog10Po2Atm[i]!);
  const lowest = logs.reduce((low, value) => Math.min(low, value), Number.POSITIVE_INFINITY);
  const highest = logs.reduce((high, value) => Math.max(high, value), Number.NEGATIVE_INFINITY);
  return {
    fromC: USUAL_RANGE.fromC,
    toC: Math.min(HOTTEST_C, Math.max(USUAL_RANGE.toC, 50 * Math.ceil((hottest + 20) / 50))),
    fromAtm: Math.max(LOWEST_ATM, Math.min(USUAL_RANGE.fromAtm, 10 ** Math.floor(lowest - 0.1))),
    toAtm: Math.max(USUAL_RANGE.toAtm, 10 ** Math.ceil(highest)),
  };
}
