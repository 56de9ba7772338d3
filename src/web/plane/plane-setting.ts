// What the map of temperature and oxygen is shown for, and the requests that follow. Pure.
import type { PlaneAcross } from '../../charts/plane/plane-request.ts';
import { ratioText } from '../../charts/trade-text.ts';
import type { CationRatio } from '../../records/common.ts';
import { EQUILIBRIUM, isEquilibrium, type Reading, readingFields } from '../reading.ts';

export interface PlaneSetting extends Reading {
  rareEarth: string;
  cations: CationRatio;
  /** across: oxygen pressure, or the way to another composition at one pressure */
  across: 'oxygen' | 'composition';
  cationsTo: CationRatio;
  /** of the map over compositions */
  po2Atm: number;
  fromC: number;
  toC: number;
  fromAtm: number;
  toAtm: number;
}

export const USUAL_RANGE = { fromC: 700, toC: 1050, fromAtm: 3e-6, toAtm: 1 } as const;

/** Nearly nothing, a picture to refine, and the whole: each about five times as dear as the one before. */
const STAGES = [
  { rows: 10, columns: 9, members: 6 },
  { rows: 16, columns: 16, members: 20 },
  { rows: 31, columns: 25 },
] as const;

/** Requests of `equilibrium.window` from coarse to fine; null where the ranges hold nothing. */
export function windowStages(setting: PlaneSetting): object[] | null {
  const { cations, cationsTo, across, po2Atm, fromC, toC, fromAtm, toAtm } = setting;
  if (!(fromC < toC) || !(fromAtm < toAtm)) return null;
  return STAGES.map((fineness) => ({
    cations,
    ...(across === 'oxygen' ? { po2Atm: [fromAtm, toAtm] } : { cationsTo, po2Atm }),
    temperatureC: [fromC, toC],
    ...fineness,
    ...readingFields(setting),
  }));
}

/** The same at equilibrium, as fine as its sentence needs; null where equilibrium is what the map shows. */
export function bulkStages(setting: PlaneSetting): object[] | null {
  if (isEquilibrium(setting)) return null;
  return windowStages({ ...setting, ...EQUILIBRIUM })?.slice(0, 2) ?? null;
}

export function acrossOf({ across, fromAtm, toAtm, cations, cationsTo }: PlaneSetting): PlaneAcross {
  return across === 'oxygen'
    ? { kind: 'oxygen', fromAtm, toAtm }
    : { kind: 'composition', from: ratioText(cations), to: ratioText(cationsTo) };
}

/** A composition on the way from one to another, shares of cations. */
export function cationsBetween(from: CationRatio, to: CationRatio, part: number): CationRatio {
  const sum = (cations: CationRatio): number => Object.values(cations).reduce((total, n) => total + n, 0);
  const symbols = [...new Set([...Object.keys(from), ...Object.keys(to)])];
  return Object.fromEntries(
    symbols.map((symbol) => [
      symbol,
      ((1 - part) * (from[symbol] ?? 0)) / sum(from) + (part * (to[symbol] ?? 0)) / sum(to),
    ]),
  );
}

/** The answer of `equilibrium.window` as the map reads it. */
export interface WindowAnswer {
  readonly temperatureC: readonly number[];
  readonly po2Atm: readonly number[];
  readonly part: readonly number[];
  readonly oddsLiquid: readonly number[];
  readonly oddsLiquidAnd123: readonly number[];
  readonly medianField: readonly number[];
  readonly fieldNames: readonly string[];
  readonly changes: readonly {
    readonly column: number;
    readonly temperatureC: number;
    readonly below: string;
    readonly above: string;
  }[];
  readonly flags: readonly { readonly code: string; readonly message: string }[];
}

/** Range of temperature in which the odds are at least even, of one column; null where there is none. */
export function likelyRangeC(
  { temperatureC, oddsLiquidAnd123 }: WindowAnswer,
  column: number,
  columns: number,
): { lowC: number; highC: number } | null {
  const inside = temperatureC.filter((_, row) => oddsLiquidAnd123[row * columns + column]! >= 0.5);
  return inside.length === 0 ? null : { lowC: Math.min(...inside), highC: Math.max(...inside) };
}
