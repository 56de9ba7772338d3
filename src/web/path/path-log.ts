// A chamber's log in the plan's time, as surface temperature and oxygen, and how far it lies from the command. Pure.
import type { MeasurementView } from '../../api/contract.ts';
import type { Chamber } from '../../records/kinds.ts';
import { ZERO_CELSIUS_K } from '../../science/equilibrium/oxygen.ts';
import { columnAt } from '../../science/growth/path.ts';
import { PA_PER_ATM } from '../drafts/pressure-units.ts';
import type { AskedLog, PathAnswer } from './path-request.ts';

/** The kind of measurement that holds a log. */
export const CHAMBER_LOG: string = 'chamber log';
/** More readings than this say no more about a path; they are thinned evenly. */
const MOST_READINGS = 10_000;
/** Both ends of a step and one reading between: with fewer nothing can be said of it. */
const LEAST_READINGS = 3;

interface LogSettings {
  pressureKind?: Chamber['pressureKind'];
  oxygenShare?: number;
}

export interface ChamberLog {
  /** in the log's own time */
  readonly firstS: number;
  /** in the plan's time */
  readonly asked: AskedLog & { readonly timeS: readonly number[] };
  /** what was assumed of the readings, in words */
  readonly remarks: readonly string[];
}

/**
 * @param chamber whose offset turns a reading into the surface's temperature; null: the reading is taken as the surface's
 * @param startS  the plan's start in the log's own time; null: the log's first reading
 * @returns null where the columns hold no time
 */
export function chamberLog(
  view: Pick<MeasurementView, 'roles' | 'columns' | 'measurement'>,
  chamber: Chamber | null,
  startS: number | null,
): ChamberLog | null {
  const column = (role: string) => view.columns[view.roles.indexOf(role)];
  const times = column('timeS');
  if (!times || times.length === 0) return null;
  const every = Math.ceil(times.length / MOST_READINGS);
  // a reading without its time says nothing
  const rows = times.flatMap((timeS, i) => (timeS !== null && i % every === 0 ? [i] : []));
  if (rows.length === 0) return null;
  const firstS = times[rows[0]!]!;
  const zeroS = startS ?? firstS;
  const settings = view.measurement.body.settings as LogSettings;
  const remarks: string[] = [];
  const kelvin = column('temperatureK');
  const offset = chamber && chamber.temperaturePlace !== 'surface' ? chamber.offsetK : null;
  if (kelvin)
    remarks.push(
      offset
        ? `Logged temperatures are of the ${chamber!.temperaturePlace}; ${offset.value} K are added for the surface.`
        : 'Logged temperatures are taken as the surface’s: no chamber with an offset is chosen.',
    );
  const logged = column('log10PressurePa');
  const pascal =
    column('pressurePa') ??
    logged?.map((value) => (value === null || value === undefined ? null : 10 ** value));
  const kind = settings.pressureKind ?? chamber?.pressureKind ?? 'total';
  const share = kind === 'oxygen partial' ? 1 : (settings.oxygenShare ?? chamber?.oxygenShare ?? null);
  if (pascal && kind === 'total')
    remarks.push(
      share === null
        ? 'Logged pressures are total and the share of oxygen is not stated: all of it is taken as oxygen.'
        : `Logged pressures are total; ${Number((share * 100).toPrecision(4))} % of the gas is taken as oxygen.`,
    );
  if (every > 1) remarks.push(`Every ${every}th of ${times.length} readings is taken.`);
  const log10 = (pa: number | null | undefined): number | null =>
    pa === null || pa === undefined || pa <= 0 ? null : Math.log10((pa * (share ?? 1)) / PA_PER_ATM);
  return {
    firstS,
    asked: {
      timeS: rows.map((i) => times[i]! - zeroS),
      ...(kelvin
        ? {
            temperatureC: rows.map((i) =>
              kelvin[i] === null || kelvin[i] === undefined
                ? null
                : kelvin[i]! - ZERO_CELSIUS_K + (offset?.value ?? 0),
            ),
          }
        : {}),
      ...(pascal ? { log10Po2Atm: rows.map((i) => log10(pascal[i])) } : {}),
      ...(offset?.standardUncertainty ? { temperatureUK: offset.standardUncertainty } : {}),
    },
    remarks,
  };
}

interface Deviation {
  /** logged minus commanded, K or decades */
  readonly value: number;
  readonly atS: number;
}

export interface LogRow {
  /** from 1 */
  readonly step: number;
  readonly kind: string;
  readonly temperature: Deviation | null;
  readonly log10Po2: Deviation | null;
  /** times with any reading in the step */
  readonly readings: number;
  /** too few readings to say what happened in it */
  readonly isUnseen: boolean;
}

/** The largest deviation from the command in each step. */
export function logRows(answer: PathAnswer, log: AskedLog): LogRow[] {
  const largest = (
    column: readonly (number | null)[] | undefined,
    commanded: readonly number[],
    inside: readonly number[],
  ): Deviation | null => {
    let found: Deviation | null = null;
    for (const i of inside) {
      const logged = column?.[i];
      if (logged === null || logged === undefined) continue;
      const atS = log.timeS[i]!;
      const value = logged - columnAt(answer.timeS, commanded, atS);
      if (found === null || Math.abs(value) > Math.abs(found.value)) found = { value, atS };
    }
    return found;
  };
  return answer.segments.map(({ kind, startS, endS }, s) => {
    const inside = log.timeS.flatMap((atS, i) => (atS >= startS && atS <= endS ? [i] : []));
    const read = inside.filter(
      (i) => (log.temperatureC?.[i] ?? null) !== null || (log.log10Po2Atm?.[i] ?? null) !== null,
    );
    return {
      step: s + 1,
      kind,
      temperature: largest(log.temperatureC, answer.temperatureC, inside),
      log10Po2: largest(log.log10Po2Atm, answer.log10Po2Atm, inside),
      readings: read.length,
      isUnseen: endS > startS && read.length < LEAST_READINGS,
    };
  });
}
