// What is laid over the map: published lines and points, the user's own, a reaction with its spread, a heat and gas path.
import type { LegendItem } from '../legend.ts';
import type { PlotFrame } from '../plot-frame.ts';
import { type Mark, type SymbolShape, TEXT_PX } from '../scene.ts';
import { textWidth } from '../text-width.ts';
import type { ColourRole } from '../theme.ts';
import type { OverlayKind, PlanePoint, PlaneRequest } from './plane-request.ts';

const LOOKS: Readonly<
  Record<
    OverlayKind,
    { role: ColourRole; dash: readonly number[]; shape: SymbolShape; line: string; point: string }
  >
> = {
  bulk: { role: 'series1', dash: [9, 3], shape: 'diamond', line: 'published line', point: 'published point' },
  film: {
    role: 'series5',
    dash: [2, 3],
    shape: 'triangle up',
    line: 'published line of films',
    point: 'published point of films',
  },
  own: {
    role: 'series2',
    dash: [6, 2],
    shape: 'square',
    line: 'point you added',
    point: 'point you added',
  },
};
const REACTION_ROLE: ColourRole = 'series4';
const METASTABLE_DASH = [4, 3] as const;
const PATH_ROLE: ColourRole = 'series2';
const LOG_ROLE: ColourRole = 'ink';
const LOG_DASH = [2, 3];
const POINT_RADIUS_PX = 4.5;

const flat = (points: readonly PlanePoint[], { x, y }: PlotFrame): number[] =>
  points.flatMap((point) => {
    const at = [x.at(point.x), y.at(point.temperatureC)];
    return at.some(Number.isNaN) ? [Number.NaN, Number.NaN] : at;
  });

/** Is a place inside the frame? */
export function isInFrame({ box, x, y }: PlotFrame, point: PlanePoint): boolean {
  const [px, py] = [x.at(point.x), y.at(point.temperatureC)];
  return px >= box.left - 0.5 && px <= box.right + 0.5 && py >= box.top - 0.5 && py <= box.bottom + 0.5;
}

/** The points of the stable or of the other stretches of a line, each closed up to its neighbour, with gaps between. */
function stretches(
  points: NonNullable<PlaneRequest['reaction']>['points'],
  isStable: boolean,
): { x: number; temperatureC: number }[] {
  const isDoubtful = (i: number): boolean => points[i]?.isStable === false;
  const isShown = (i: number): boolean =>
    isStable ? !isDoubtful(i) : isDoubtful(i) || isDoubtful(i - 1) || isDoubtful(i + 1);
  return points.map((point, i) => (isShown(i) ? point : { x: Number.NaN, temperatureC: Number.NaN }));
}

const pointText = ({ temperatureC }: PlanePoint, uncertainty: number | null): string =>
  `${Number(temperatureC.toFixed(1))}${uncertainty === null ? '' : ` ± ${uncertainty}`} °C`;

/** The place of a line that its mark stands at: the middle of what the frame shows. */
function middleOf(points: readonly PlanePoint[], frame: PlotFrame): PlanePoint | undefined {
  const [first, last] = [points[0], points.at(-1)];
  if (!first || !last) return undefined;
  const shown = points.filter((point) => isInFrame(frame, point));
  return shown[shown.length >> 1];
}

export interface OverlayMarks {
  /** drawn inside the frame only */
  readonly inside: readonly Mark[];
  /** reachable marks, over everything */
  readonly targets: readonly Mark[];
  readonly legend: readonly LegendItem[];
}

/** Marks of all overlays; every published one is reachable and says its source. */
export function overlayMarks(request: PlaneRequest, frame: PlotFrame): OverlayMarks {
  const { lines = [], points = [], reaction, path } = request;
  const inside: Mark[] = [];
  const targets: Mark[] = [];
  const items: LegendItem[] = [];
  if (reaction && reaction.points.length > 0) {
    const edge = (side: 1 | -1) =>
      reaction.points.map(({ x, temperatureC, temperatureCU }) => ({
        x,
        temperatureC: temperatureC + side * temperatureCU,
      }));
    inside.push(
      {
        kind: 'area',
        rings: [[...flat(edge(1), frame), ...flat(edge(-1).reverse(), frame)]],
        fill: REACTION_ROLE,
        opacity: 0.22,
      },
      ...[true, false].map(
        (isStable): Mark => ({
          kind: 'line',
          points: flat(stretches(reaction.points, isStable), frame),
          stroke: REACTION_ROLE,
          strokeWidth: 2.25,
          dash: isStable ? undefined : METASTABLE_DASH,
        }),
      ),
    );
    const sample =
      (dash: readonly number[] | undefined): LegendItem['sample'] =>
      (x, y) => [
        {
          kind: 'area',
          rings: [[x - 10, y - 5, x + 10, y - 5, x + 10, y + 5, x - 10, y + 5]],
          fill: REACTION_ROLE,
          opacity: 0.22,
        },
        { kind: 'line', points: [x - 10, y, x + 10, y], stroke: REACTION_ROLE, strokeWidth: 2.25, dash },
      ];
    if (reaction.points.some(({ isStable }) => isStable))
      items.push({ label: `${reaction.label} ± spread`, sample: sample(undefined) });
    if (reaction.points.some(({ isStable }) => !isStable))
      items.push({ label: `${reaction.label}, metastable`, sample: sample(METASTABLE_DASH) });
  }
  for (const { id, label, source, kind, points: along } of lines) {
    const { role, dash } = LOOKS[kind];
    inside.push({ kind: 'line', points: flat(along, frame), stroke: role, strokeWidth: 1.75, dash });
    const middle = middleOf(along, frame);
    if (middle)
      targets.push({
        kind: 'symbol',
        shape: 'circle',
        x: frame.x.at(middle.x),
        y: frame.y.at(middle.temperatureC),
        radius: 3,
        fill: role,
        hasHalo: true,
        target: { id, label: `${label}. ${source}` },
      });
  }
  for (const point of points) {
    if (!isInFrame(frame, point)) continue;
    const { role, shape } = LOOKS[point.kind];
    const [x, y] = [frame.x.at(point.x), frame.y.at(point.temperatureC)];
    if (point.temperatureCU !== null)
      inside.push({
        kind: 'line',
        points: [
          x,
          frame.y.at(point.temperatureC - point.temperatureCU),
          x,
          frame.y.at(point.temperatureC + point.temperatureCU),
        ],
        stroke: role,
        strokeWidth: 1.5,
      });
    targets.push({
      kind: 'symbol',
      shape,
      x,
      y,
      radius: POINT_RADIUS_PX,
      fill: point.kind === 'bulk' ? 'background' : role,
      stroke: role,
      strokeWidth: 1.75,
      hasHalo: true,
      target: {
        id: point.id,
        label: `${point.label}: ${pointText(point, point.temperatureCU)}. ${point.source}`,
      },
    });
  }
  for (const kind of Object.keys(LOOKS) as OverlayKind[]) {
    const { role, dash, shape, line, point } = LOOKS[kind];
    if (lines.some((each) => each.kind === kind))
      items.push({
        label: line,
        sample: (x, y) => [
          { kind: 'line', points: [x - 11, y, x + 11, y], stroke: role, strokeWidth: 1.75, dash },
          { kind: 'symbol', shape: 'circle', x, y, radius: 3, fill: role },
        ],
      });
    if (points.some((each) => each.kind === kind))
      items.push({
        label: point,
        sample: (x, y) => [
          {
            kind: 'symbol',
            shape,
            x,
            y,
            radius: POINT_RADIUS_PX,
            fill: kind === 'bulk' ? 'background' : role,
            stroke: role,
            strokeWidth: 1.75,
          },
        ],
      });
  }
  if (path && path.ends.length > 0) {
    if (path.command)
      inside.push({ kind: 'line', points: flat(path.command, frame), stroke: PATH_ROLE, strokeWidth: 1 });
    inside.push(
      { kind: 'line', points: flat(path.points, frame), stroke: 'background', strokeWidth: 5 },
      { kind: 'line', points: flat(path.points, frame), stroke: PATH_ROLE, strokeWidth: 2.5 },
    );
    if (path.logged)
      inside.push({
        kind: 'line',
        points: flat(path.logged, frame),
        stroke: LOG_ROLE,
        strokeWidth: 1.5,
        dash: LOG_DASH,
      });
    for (const end of path.ends) {
      if (!isInFrame(frame, end)) continue;
      targets.push({
        kind: 'symbol',
        shape: 'circle',
        x: frame.x.at(end.x),
        y: frame.y.at(end.temperatureC),
        radius: 5,
        fill: PATH_ROLE,
        hasHalo: true,
        target: { id: `path-${end.label}`, label: `${path.label}: ${end.label}, ${pointText(end, null)}` },
      });
      if (end.number !== undefined) {
        const right = frame.x.at(end.x) + 8;
        const isAtRim = right + textWidth(end.number, TEXT_PX, true) > frame.box.right;
        inside.push({
          kind: 'text',
          x: isAtRim ? right - 16 : right,
          y: frame.y.at(end.temperatureC) - 9,
          text: end.number,
          size: TEXT_PX,
          fill: 'ink',
          anchor: isAtRim ? 'end' : 'start',
          baseline: 'middle',
          isBold: true,
          hasHalo: true,
        });
      }
    }
    if (path.command)
      items.push({
        label: 'commanded',
        sample: (x, y) => [
          { kind: 'line', points: [x - 11, y, x + 11, y], stroke: PATH_ROLE, strokeWidth: 1 },
        ],
      });
    if (path.logged)
      items.push({
        label: 'logged',
        sample: (x, y) => [
          {
            kind: 'line',
            points: [x - 11, y, x + 11, y],
            stroke: LOG_ROLE,
            strokeWidth: 1.5,
            dash: LOG_DASH,
          },
        ],
      });
    items.push({
      label: path.label,
      sample: (x, y) => [
        { kind: 'line', points: [x - 11, y, x + 11, y], stroke: PATH_ROLE, strokeWidth: 2.5 },
        { kind: 'symbol', shape: 'circle', x, y, radius: 4, fill: PATH_ROLE },
      ],
    });
  }
  return { inside, targets, legend: items };
}
