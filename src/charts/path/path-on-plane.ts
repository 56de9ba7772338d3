// A path as a way through the plane of temperature and oxygen: the likely one bold, the command thin, ends of steps numbered.
import type { PlanePoint, PlaneRequest } from '../plane/plane-request.ts';
import { type PathCourse, type PathTimeRequest, stepName } from './path-time-request.ts';

interface PathOnPlane {
  readonly label: string;
  readonly command: PathCourse;
  /** likely path at the film; null where it is the command */
  readonly film: PathCourse | null;
  /** as a chamber logged it; a missing reading is NaN or null */
  readonly log?: PathTimeRequest['log'];
  readonly segments: readonly { readonly kind: string; readonly endS: number }[];
}

const pointsOf = ({ temperatureC, log10Po2Atm }: PathCourse): PlanePoint[] =>
  Array.from(temperatureC, (atC, i) => ({ x: 10 ** log10Po2Atm[i]!, temperatureC: atC }));

/** Ends that lie closer than this are one place of the picture. */
const SAME_K = 4;
const SAME_DECADES = 0.05;

/** Index of the last sample at or before a time. */
function lastAt(timeS: ArrayLike<number>, atS: number): number {
  let found = 0;
  for (let i = 0; i < timeS.length && timeS[i]! <= atS * (1 + 1e-12); i++) found = i;
  return found;
}

/** Readings that hold both temperature and oxygen. */
function loggedPoints({ temperatureC, log10Po2Atm }: NonNullable<PathTimeRequest['log']>): PlanePoint[] {
  return Array.from(temperatureC ?? [], (atC, i) => ({ atC, log10: log10Po2Atm?.[i] })).flatMap(
    ({ atC, log10 }) =>
      typeof atC === 'number' && typeof log10 === 'number' && Number.isFinite(atC + log10)
        ? [{ x: 10 ** log10, temperatureC: atC }]
        : [],
  );
}

/** The path as the plane's chart draws it; steps that end in one place share a number. */
export function pathOnPlane({
  label,
  command,
  film,
  log,
  segments,
}: PathOnPlane): NonNullable<PlaneRequest['path']> {
  const course = film ?? command;
  const points = pointsOf(course);
  const ends: (PlanePoint & { label: string; number: string })[] = [];
  segments.forEach(({ kind, endS }, i) => {
    const point = points[lastAt(course.timeS, endS)];
    if (!point) return;
    const name = `end of step ${i + 1}, ${stepName(kind)}`;
    const same = ends.findIndex(
      (end) =>
        Math.abs(end.temperatureC - point.temperatureC) <= SAME_K &&
        Math.abs(Math.log10(end.x / point.x)) <= SAME_DECADES,
    );
    if (same < 0) ends.push({ ...point, label: name, number: String(i + 1) });
    else {
      const end = ends[same]!;
      ends[same] = { ...end, label: `${end.label}; ${name}`, number: `${end.number}, ${i + 1}` };
    }
  });
  const logged = log ? loggedPoints(log) : [];
  return {
    label,
    points,
    ends,
    ...(film ? { command: pointsOf(command) } : {}),
    ...(logged.length > 0 ? { logged } : {}),
  };
}
