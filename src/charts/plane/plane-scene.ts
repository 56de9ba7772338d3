// The plane of temperature against oxygen pressure, or against composition: odds as shading, where fields change, what is published.
import { format } from 'd3-format';
import { type Axis, makeAxis } from '../axis.ts';
import type { Column, Table } from '../csv.ts';
import { LabelRoom } from '../label-placing.ts';
import { type LegendItem, legend } from '../legend.ts';
import { counted } from '../number-text.ts';
import { fieldLabels, shortFieldName } from '../odds/field-labels.ts';
import { barMarks, oddsMarks } from '../odds/odds-marks.ts';
import { gridMesh } from '../odds/odds-regions.ts';
import { axisMarks, BELOW_PX, emptyMark, gridMarks, type PlotFrame, roomAtLeft } from '../plot-frame.ts';
import {
  checkedSize,
  checkLengths,
  type Mark,
  ringOf,
  type Scene,
  type Size,
  SMALLEST_TEXT_PX,
} from '../scene.ts';
import { fitText, textWidth } from '../text-width.ts';
import type { ColourRole } from '../theme.ts';
import { pressureText } from '../trade-text.ts';
import { type FieldChange, joinedChanges } from './joined-changes.ts';
import { isInFrame, overlayMarks } from './plane-overlays.ts';
import type { PlaneAcross, PlanePoint, PlaneRequest } from './plane-request.ts';

export interface PlaneScales {
  readonly frame: PlotFrame;
  /** the place of the plane at a point of the picture; null outside the frame */
  placeAt(x: number, y: number): PlanePoint | null;
}

const DEFAULT_SIZE: Size = { width: 820, height: 600 };
const RIGHT_PX = 20;
const BAR_PX = 150;
const BAR_ROOM_PX = 72;
/** Smallest share of the nodes that a field is named for. */
const SMALLEST_NAMED = 0.012;
/** A field line may step so many rows between neighbouring columns. */
const LARGEST_STEP_ROWS = 3;

function acrossAxis(across: PlaneAcross, range: readonly [number, number]): Axis {
  return across.kind === 'oxygen'
    ? makeAxis(
        { label: 'pO₂', unit: 'atm', kind: 'log', domain: [across.fromAtm, across.toAtm] },
        [],
        range,
        0,
        60,
      )
    : makeAxis(
        { label: `Way from ${across.from} to ${across.to}`, unit: '', domain: [0, 1] },
        [],
        range,
        0,
        70,
      );
}

/** Oxygen again in mTorr and Torr at the top, as gauges say it. */
function gaugeMarks({ box, x }: PlotFrame): Mark[] {
  const marks: Mark[] = [];
  let clearFrom = Number.NEGATIVE_INFINITY;
  for (let power = -6; power <= 8; power++) {
    const atm = 10 ** power / 760_000;
    const at = x.at(atm);
    if (!(at >= box.left && at <= box.right)) continue;
    const text = power < 3 ? `${Number((10 ** power).toPrecision(1))} mTorr` : `${10 ** (power - 3)} Torr`;
    const half = textWidth(text, SMALLEST_TEXT_PX) / 2;
    marks.push({ kind: 'line', points: [at, box.top, at, box.top - 5], stroke: 'axis' });
    if (at - half < clearFrom) continue;
    clearFrom = at + half + 8;
    marks.push({
      kind: 'text',
      x: at,
      y: box.top - 13,
      text,
      size: SMALLEST_TEXT_PX,
      fill: 'quiet',
      anchor: 'middle',
      baseline: 'middle',
    });
  }
  return marks;
}

interface MapMarks {
  readonly under: readonly Mark[];
  readonly over: readonly Mark[];
  readonly legend: readonly LegendItem[];
}

const NO_MAP: MapMarks = { under: [], over: [], legend: [] };

/** Shading, contours, field lines and names. */
function mapMarks({ map, across }: PlaneRequest, frame: PlotFrame, room: LabelRoom): MapMarks {
  if (!map) return NO_MAP;
  const { x, temperatureC, odds, field, fieldNames, changes } = map;
  const nColumns = x.length;
  checkLengths('map', { odds, field });
  const position = across.kind === 'oxygen' ? Float64Array.from(x, Math.log10) : Float64Array.from(x);
  const valueAt = (place: number): number => (across.kind === 'oxygen' ? 10 ** place : place);
  const row = Float64Array.from(odds, (_, i) => temperatureC[Math.floor(i / nColumns)]!);
  const column = Float64Array.from(odds, (_, i) => position[i % nColumns]!);
  const view = {
    project: (t: number, place: number) => ({ x: frame.x.at(valueAt(place)), y: frame.y.at(t) }),
    holdsPoint: (px: number, py: number) =>
      px >= frame.box.left && px <= frame.box.right && py >= frame.box.top && py <= frame.box.bottom,
  };
  const shading = oddsMarks(gridMesh(row, column, Float64Array.from(odds)), view, room);
  const stepK = temperatureC.length > 1 ? temperatureC[1]! - temperatureC[0]! : 1;
  const hasLiquid = (name: string): boolean => name.split(' + ').includes('liquid');
  const isMelting = ({ below, above }: FieldChange): boolean => hasLiquid(below) !== hasLiquid(above);
  // whatever melts, the line along which liquid comes is one line
  const melting = changes
    .filter(isMelting)
    .map((change) => ({ ...change, below: '', above: hasLiquid(change.above) ? 'liquid' : '' }));
  const drawnLines = (
    some: readonly FieldChange[],
    stroke: ColourRole,
    strokeWidth: number,
    opacity: number,
  ): Mark[] =>
    joinedChanges(some, LARGEST_STEP_ROWS * stepK)
      .filter(({ columns }) => columns.length > 1)
      .map(({ columns, temperatureC: along }) => ({
        kind: 'line',
        points: columns.flatMap((i, k) => [frame.x.at(x[i]!), frame.y.at(along[k]!)]),
        stroke,
        strokeWidth,
        opacity,
      }));
  const lineMarks = [
    ...drawnLines(
      changes.filter((change) => !isMelting(change)),
      'quiet',
      0.9,
      0.75,
    ),
    ...drawnLines(melting, 'ink', 2.5, 1),
  ];
  const xPx = Float64Array.from(odds, (_, i) => frame.x.at(x[i % nColumns]!));
  const yPx = Float64Array.from(odds, (_, i) => frame.y.at(row[i]!));
  const names = fieldLabels(xPx, yPx, field, fieldNames, Math.max(2, SMALLEST_NAMED * odds.length)).flatMap(
    ({ field: name, node }): Mark[] => {
      const text = shortFieldName(name);
      const half = textWidth(text, SMALLEST_TEXT_PX) / 2;
      const at = {
        x: Math.max(frame.box.left + half + 4, Math.min(frame.box.right - half - 4, xPx[node]!)),
        y: yPx[node]!,
      };
      const box = { left: at.x - half, right: at.x + half, top: at.y - 8, bottom: at.y + 8 };
      if (!room.isFree(box)) return [];
      room.take(box);
      return [
        {
          kind: 'text',
          ...at,
          text,
          size: SMALLEST_TEXT_PX,
          fill: hasLiquid(name) ? 'ink' : 'quiet',
          anchor: 'middle',
          baseline: 'middle',
          hasHalo: true,
        },
      ];
    },
  );
  const sample =
    (stroke: 'ink' | 'quiet', strokeWidth: number) =>
    (px: number, py: number): Mark[] => [
      { kind: 'line', points: [px - 11, py, px + 11, py], stroke, strokeWidth },
    ];
  return {
    under: [...shading.shades, ...shading.lines, ...lineMarks],
    over: [...shading.labels, ...names],
    legend: [
      { label: 'liquid comes or goes (median member)', sample: sample('ink', 2.5) },
      { label: 'other fields change', sample: sample('quiet', 0.9) },
    ],
  };
}

function describe(request: PlaneRequest, hiddenCount: number): string {
  const { across, temperatureC, map, points = [], lines = [], path, reaction } = request;
  const sentences = [
    across.kind === 'oxygen'
      ? `Temperature from ${temperatureC[0]} to ${temperatureC[1]} °C against oxygen pressure from ${pressureText(across.fromAtm)} to ${pressureText(across.toAtm)}.`
      : `Temperature from ${temperatureC[0]} to ${temperatureC[1]} °C against composition, from ${across.from} to ${across.to}.`,
  ];
  if (map) {
    let best = 0;
    for (let i = 1; i < map.odds.length; i++) if (map.odds[i]! > map.odds[best]!) best = i;
    const at = map.x[best % map.x.length]!;
    sentences.push(
      `The odds of ${map.of} are highest, ${format('.2~f')(map.odds[best]!)}, at ${Math.round(map.temperatureC[Math.floor(best / map.x.length)]!)} °C and ${across.kind === 'oxygen' ? pressureText(at) : `${Math.round(100 * at)} % of the way`}.`,
    );
  }
  if (lines.length + points.length > 0)
    sentences.push(`Laid over: ${counted(lines.length, 'line')} and ${counted(points.length, 'point')}.`);
  if (reaction) sentences.push(`With the line of ${reaction.label}.`);
  if (path) sentences.push(`With the path of ${path.label}.`);
  if (hiddenCount > 0) sentences.push(`${counted(hiddenCount, 'point')} outside the part drawn.`);
  return sentences.join(' ');
}

function planeTable(request: PlaneRequest): Table {
  const { across, map, lines = [], points = [], reaction, path } = request;
  const rows: (string | number | null)[][] = [];
  for (let i = 0; map && i < map.odds.length; i++) {
    const n = map.x.length;
    rows.push([
      'odds',
      map.fieldNames[map.field[i]!] ?? '',
      map.x[i % n]!,
      map.temperatureC[Math.floor(i / n)]!,
      null,
      map.odds[i]!,
      '',
    ]);
  }
  for (const { column, temperatureC, below, above } of map?.changes ?? [])
    rows.push(['change', `${below} -> ${above}`, map!.x[column]!, temperatureC, null, null, '']);
  for (const { label, source, points: along, kind } of lines)
    for (const { x, temperatureC } of along)
      rows.push([`${kind} line`, label, x, temperatureC, null, null, source]);
  for (const { label, source, kind, x, temperatureC, temperatureCU } of points)
    rows.push([`${kind} point`, label, x, temperatureC, temperatureCU, null, source]);
  for (const { x, temperatureC, temperatureCU } of reaction?.points ?? [])
    rows.push(['reaction', reaction!.label, x, temperatureC, temperatureCU, null, '']);
  for (const { x, temperatureC, label } of path?.ends ?? [])
    rows.push(['path', `${path!.label}: ${label}`, x, temperatureC, null, null, '']);
  const column = (name: string, unit: string, i: number): Column => ({
    name,
    unit,
    values: rows.map((row) => row[i]!),
  });
  return {
    columns: [
      column('kind', '', 0),
      column('label', '', 1),
      across.kind === 'oxygen' ? column('pO₂', 'atm', 2) : column('way', '', 2),
      column('temperature', '°C', 3),
      column('uncertainty', 'K', 4),
      column('odds', '', 5),
      column('source', '', 6),
    ],
  };
}

/**
 * The plane as a scene. Names of fields are written only where there is room; every published line and point is a mark that can
 * be reached and says its source in full.
 *
 * @throws DomainError CHART_SIZE, CHART_LENGTHS, CHART_GRID
 */
export function planeScene(request: PlaneRequest): Scene<PlaneScales> {
  const { across, temperatureC, map, points = [], selected } = request;
  const size = checkedSize(request.size ?? DEFAULT_SIZE);
  const isOxygen = across.kind === 'oxygen';
  const bottom = size.height - BELOW_PX - (request.caption ? 22 : 0);
  // a first frame only tells what the legend holds
  const draft: PlotFrame = {
    box: { left: 0, right: size.width, top: 0, bottom },
    x: acrossAxis(across, [0, size.width]),
    y: makeAxis({ label: '', unit: '', domain: temperatureC }, [], [bottom, 0], 0, 40),
  };
  const mapItems = map ? mapMarks({ ...request, size }, draft, new LabelRoom(draft.box)).legend : [];
  const items = [...mapItems, ...overlayMarks(request, draft).legend];
  const key = legend(items, 12, 8, size.width - 24 - (map ? BAR_PX + 40 : 0));
  const top = Math.max(key.heightPx + 14, map ? BAR_ROOM_PX : 0) + (isOxygen ? 24 : 8);
  const y = makeAxis(
    { label: 'Surface temperature', unit: '°C', domain: temperatureC },
    [],
    [bottom, top],
    0,
    44,
  );
  const left = roomAtLeft([y]);
  const right = size.width - RIGHT_PX;
  const frame: PlotFrame = { box: { left, right, top, bottom }, x: acrossAxis(across, [left, right]), y };
  const room = new LabelRoom(frame.box);
  const overlays = overlayMarks(request, frame);
  for (const mark of overlays.targets)
    if (mark.kind === 'symbol') room.takeAround(mark.x, mark.y, mark.radius + 2);
  const drawn = mapMarks(request, frame, room);
  const cross: Mark[] = [];
  if (selected && isInFrame(frame, selected)) {
    const [px, py] = [frame.x.at(selected.x), frame.y.at(selected.temperatureC)];
    cross.push({
      kind: 'symbol',
      shape: 'plus',
      x: px,
      y: py,
      radius: 9,
      stroke: 'accent',
      strokeWidth: 2,
      hasHalo: true,
    });
  }
  const marks: Mark[] = [
    {
      kind: 'group',
      clip: ringOf(frame.box),
      marks: [...gridMarks(frame), ...drawn.under, ...overlays.inside, ...cross],
    },
    ...(map ? [] : [emptyMark(frame.box, 'not computed yet')]),
    ...axisMarks(frame),
    ...(isOxygen ? gaugeMarks(frame) : []),
    ...drawn.over,
    ...overlays.targets,
    ...key.marks,
    ...(map ? barMarks(size.width - 16, 10, BAR_PX, map.of) : []),
  ];
  if (request.caption)
    marks.push({
      kind: 'text',
      x: 12,
      y: size.height - 12,
      ...fitText(request.caption, size.width - 24, 12),
      size: 12,
      fill: 'quiet',
      anchor: 'start',
      baseline: 'middle',
    });
  return {
    ...size,
    title: request.title,
    description: describe(request, points.filter((point) => !isInFrame(frame, point)).length),
    marks,
    scales: {
      frame,
      placeAt: (px, py) =>
        px >= left && px <= right && py >= top && py <= bottom
          ? { x: frame.x.invert(px), temperatureC: frame.y.invert(py) }
          : null,
    },
    get table() {
      return planeTable(request);
    },
  };
}
