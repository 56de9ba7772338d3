// What the chart of a path over time is asked to draw, and how times and steps read.
import { shortNumber } from '../number-text.ts';
import type { Size } from '../scene.ts';

/** Samples of a path: s, degC of the surface, log10 of pO2 in atm. */
export interface PathCourse {
  readonly timeS: ArrayLike<number>;
  readonly temperatureC: ArrayLike<number>;
  readonly log10Po2Atm: ArrayLike<number>;
}

export interface PathTimeRequest {
  readonly title: string;
  readonly command: PathCourse;
  /** likely path at the film; null where it is the command */
  readonly film: PathCourse | null;
  readonly segments: readonly { readonly kind: string; readonly startS: number; readonly endS: number }[];
  /** stretches with likely liquid, and of which reading they are */
  readonly liquid?: {
    readonly label: string;
    readonly spans: readonly { readonly fromS: number; readonly toS: number }[];
  };
  /** what a chamber logged, in the plan's time; a missing reading is NaN or null */
  readonly log?: {
    readonly label: string;
    readonly timeS: ArrayLike<number>;
    readonly temperatureC: ArrayLike<number | null> | null;
    readonly log10Po2Atm: ArrayLike<number | null> | null;
  } | null;
  readonly caption?: string;
  readonly size?: Size;
}

const TIME_UNITS = [
  { unit: 's', seconds: 1, upToS: 300 },
  { unit: 'min', seconds: 60, upToS: 3 * 3600 },
  { unit: 'h', seconds: 3600, upToS: Number.POSITIVE_INFINITY },
] as const;

/** The unit in which a path of this length reads best. */
export function timeUnitOf(totalS: number): (typeof TIME_UNITS)[number] {
  return TIME_UNITS.find(({ upToS }) => totalS <= upToS)!;
}

/** A stretch of time, three figures in the unit in which it reads best. */
export function timeText(seconds: number): string {
  const { unit, seconds: per } = timeUnitOf(Math.abs(seconds));
  return `${shortNumber(seconds / per, 3)} ${unit}`;
}

/** A step in words. */
export const stepName = (kind: string): string => (kind === 'gas' ? 'gas change' : kind);
