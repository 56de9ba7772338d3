// A chamber's log as surface temperature and oxygen, as growth.log compares it with the plan. Pure.
import type { MeasurementView } from '../../api/contract.ts';
import type { PathTimeRequest } from '../../charts/path/path-time-request.ts';
import type { Chamber } from '../../records/kinds.ts';
import { ZERO_CELSIUS_K } from '../../science/equilibrium/oxygen.ts';
import type { PathAsk } from '../drafts/path-draft.ts';
import { PA_PER_ATM } from '../drafts/pressure-units.ts';

/** The kind of measurement that holds a log. */
export const CHAMBER_LOG: string = 'chamber log';
/** More readings than this say no more about a path; they are thinned evenly. */
const MOST_READINGS = 10_000;

interface LogSettings {
  pressureKind?: Chamber['pressureKind'];
  oxygenShare?: number;
}

/** Readings in the log's own time. */
interface AskedLog {
  readonly timeS: readonly number[];
  readonly temperatureC: readonly (number | null)[];
  readonly log10Po2Atm?: readonly (number | null)[];
  readonly temperatureUK?: number;
}

export interface ChamberLog {
  readonly asked: AskedLog;
  /** what was assumed of the readings, in words */
  readonly remarks: readonly string[];
}

/**
 * @param chamber whose offset turns a reading into the surface's temperature; null: the reading is taken as the surface's
 * @param isOfPath the log of the very treatment whose path it is: both are taken as read at the same place
 * @returns null where the columns hold no time or no temperature
 */
export function chamberLog(
  view: Pick<MeasurementView, 'roles' | 'columns' | 'measurement'>,
  chamber: Chamber | null,
  isOfPath = false,
): ChamberLog | null {
  const column = (role: string) => view.columns[view.roles.indexOf(role)];
  const [times, kelvin] = [column('timeS'), column('temperatureK')];
  if (!times || !kelvin) return null;
  const every = Math.ceil(times.length / MOST_READINGS);
  // a reading without its time says nothing
  const rows = times.flatMap((timeS, i) => (timeS !== null && i % every === 0 ? [i] : []));
  if (rows.length === 0) return null;
  const settings = view.measurement.body.settings as LogSettings;
  const offset = !isOfPath && chamber && chamber.temperaturePlace !== 'surface' ? chamber.offsetK : null;
  const remarks = [
    offset
      ? `Logged temperatures are of the ${chamber!.temperaturePlace}; ${offset.value} K are added for the surface.`
      : isOfPath
        ? 'Temperatures of the log and of the treatment are taken as read at the same place: no offset is added.'
        : 'Logged temperatures are taken as the surface’s: no chamber with an offset is chosen.',
  ];
  const logged = column('log10PressurePa');
  const pascal = column('pressurePa') ?? logged?.map((value) => (value === null ? null : 10 ** value));
  const kind = settings.pressureKind ?? chamber?.pressureKind ?? 'total';
  const share = kind === 'oxygen partial' ? 1 : (settings.oxygenShare ?? chamber?.oxygenShare ?? null);
  if (pascal && kind === 'total')
    remarks.push(
      share === null
        ? 'Logged pressures are total and the share of oxygen is not stated, so that the oxygen is not compared: state it with the log or with the chamber.'
        : `Logged pressures are total; ${Number((share * 100).toPrecision(4))} % of the gas is taken as oxygen.`,
    );
  if (every > 1) remarks.push(`Every ${every}th of ${times.length} readings is taken.`);
  return {
    asked: {
      timeS: rows.map((i) => times[i]!),
      temperatureC: rows.map((i) => {
        const read = kelvin[i] ?? null;
        return read === null ? null : read - ZERO_CELSIUS_K + (offset?.value ?? 0);
      }),
      ...(pascal && share
        ? {
            log10Po2Atm: rows.map((i) => {
              const pa = pascal[i] ?? 0;
              return pa > 0 ? Math.log10((pa * share) / PA_PER_ATM) : null;
            }),
          }
        : {}),
      ...(offset?.standardUncertainty ? { temperatureUK: offset.standardUncertainty } : {}),
    },
    remarks,
  };
}

/** The log beside a plan, as growth.log takes both. */
export function logRequest({ asked }: ChamberLog, { start, segments }: PathAsk): object {
  return { ...asked, plan: { start, segments } };
}

/** What growth.log says of the log beside the plan. */
export interface ComparedLog {
  readonly alignment: {
    readonly offset: { readonly value: number; readonly standardUncertainty: number };
    readonly ramps: number;
    readonly otherOffsetS: number | null;
  } | null;
  readonly deviations: readonly { readonly sentence: string }[];
  readonly flags: readonly { readonly code: string; readonly message: string }[];
}

/** The log in the plan's time, for the figures; from its first reading until it is known where the plan begins on it. */
export function logInPlanTime(
  { asked }: ChamberLog,
  compared: ComparedLog | null,
): NonNullable<PathTimeRequest['log']> {
  const zeroS = compared?.alignment?.offset.value ?? asked.timeS[0]!;
  return {
    label: 'logged',
    timeS: asked.timeS.map((timeS) => timeS - zeroS),
    temperatureC: asked.temperatureC,
    log10Po2Atm: asked.log10Po2Atm ?? null,
  };
}
