// The triangle of RE, Ba and Cu: field odds as shading, borders and tie lines, phases, films and proposals.
import { format } from 'd3-format';
import type { TernaryPoint } from '../../science/matter/cation-ratios.ts';
import type { Column, Table } from '../csv.ts';
import { LabelRoom, labelMarks } from '../label-placing.ts';
import { type LegendItem, legend } from '../legend.ts';
import { counted } from '../number-text.ts';
import { barMarks, oddsMarks } from '../odds/odds-marks.ts';
import { type OddsMap, oddsMesh } from '../odds/odds-regions.ts';
import {
  checkedSize,
  type FlatPoints,
  type Mark,
  type Scene,
  type Size,
  SMALLEST_TEXT_PX,
} from '../scene.ts';
import { fitText, textWidth } from '../text-width.ts';
import { VERDICT_NAMES, verdictMarks } from '../verdict-mark.ts';
import { compositionText, FILM_RADIUS_PX, filmMarks, placeFilms, type TriangleFilm } from './film-marks.ts';
import { triangleAxes } from './triangle-axes.ts';
import {
  compositionOf,
  type TriangleView,
  type TriangleWindow,
  triangleView,
  WHOLE_TRIANGLE,
} from './triangle-view.ts';

export interface TriangleRequest {
  readonly title: string;
  /** `Y`, `Gd`, `Y,Gd`: as the series names it */
  readonly rareEarth: string;
  /** the whole triangle if left out */
  readonly window?: TriangleWindow;
  readonly size?: Size;
  /** written small under the triangle: temperature and oxygen pressure, say */
  readonly caption?: string;
  readonly odds?: OddsMap & {
    /** what the odds are of: `liquid + 123 and nothing else` */
    readonly of: string;
  };
  readonly lines?: readonly {
    readonly kind: 'border' | 'tie line';
    readonly points: readonly TernaryPoint[];
  }[];
  /** names of fields, written at a point inside */
  readonly fields?: readonly { readonly label: string; readonly at: TernaryPoint }[];
  readonly phases?: readonly { readonly label: string; readonly at: TernaryPoint }[];
  readonly films?: readonly TriangleFilm[];
  /** films whose names are written beside their marks */
  readonly namedFilmIds?: readonly string[];
  /** marked by their number in this list, from 1 */
  readonly proposals?: readonly { readonly id: string; readonly label: string; readonly at: TernaryPoint }[];
  readonly selected?: TernaryPoint | null;
}

const DEFAULT_SIZE: Size = { width: 640, height: 600 };
const PROPOSAL_RADIUS_PX = 8.5;

const flat = (points: readonly { x: number; y: number }[]): number[] => points.flatMap(({ x, y }) => [x, y]);

function crossMarks(at: TernaryPoint, view: TriangleView): Mark[] {
  const { window, project } = view;
  const { x, y } = project(at);
  const ends: [number, number][] =
    window.kind === 'corner'
      ? [
          [window.reMin, at.cu],
          [at.re, 1 - at.re - window.baMin],
          [1 - at.ba - window.cuMin, window.cuMin],
        ]
      : [
          [window.reMin, at.cu],
          [at.re, window.cuMin],
        ];
  const lines = ends.map(([re, cu]): Mark => {
    const end = project({ re, ba: 1 - re - cu, cu });
    return { kind: 'line', points: [x, y, end.x, end.y], stroke: 'accent', strokeWidth: 1.25, dash: [4, 3] };
  });
  return [
    ...lines,
    { kind: 'symbol', shape: 'plus', x, y, radius: 9, stroke: 'accent', strokeWidth: 2, hasHalo: true },
  ];
}

function legendItems(request: TriangleRequest): LegendItem[] {
  const films = request.films ?? [];
  const items: LegendItem[] = VERDICT_NAMES.filter((name) =>
    films.some(({ verdict }) => verdict === name),
  ).map((name) => ({ label: name, sample: (x, y) => verdictMarks(name, x, y, FILM_RADIUS_PX, false) }));
  if (films.some(({ isBenchmark }) => isBenchmark)) {
    items.push({
      label: 'benchmark',
      sample: (x, y) => [
        { kind: 'symbol', shape: 'circle', x, y, radius: 7, stroke: 'accent', strokeWidth: 2 },
      ],
    });
  }
  if ((request.proposals ?? []).length > 0) {
    items.push({ label: 'proposal', sample: (x, y) => proposalMarks(x, y, 'n') });
  }
  for (const kind of ['border', 'tie line'] as const) {
    if (request.lines?.some((line) => line.kind === kind)) {
      items.push({
        label: kind === 'border' ? 'field border' : kind,
        sample: (x, y) => [lineMark(kind, [x - 9, y, x + 9, y])],
      });
    }
  }
  return items;
}

const lineMark = (kind: 'border' | 'tie line', points: FlatPoints): Mark => ({
  kind: 'line',
  points,
  stroke: kind === 'border' ? 'ink' : 'quiet',
  strokeWidth: kind === 'border' ? 1.25 : 1,
  dash: kind === 'border' ? undefined : [1.5, 3],
});

function proposalMarks(x: number, y: number, text: string, target?: { id: string; label: string }): Mark[] {
  return [
    {
      kind: 'symbol',
      shape: 'circle',
      x,
      y,
      radius: PROPOSAL_RADIUS_PX,
      fill: 'background',
      stroke: 'accent',
      strokeWidth: 1.75,
      hasHalo: true,
      target,
    },
    {
      kind: 'text',
      x,
      y,
      text,
      size: SMALLEST_TEXT_PX,
      fill: 'accent',
      anchor: 'middle',
      baseline: 'middle',
      isBold: true,
    },
  ];
}

function describe(request: TriangleRequest, view: TriangleView, outsideCount: number): string {
  const { rareEarth, odds, films = [], proposals = [] } = request;
  const sentences = [`Cation triangle of ${rareEarth}, Ba and Cu in at%.`];
  if (view.window.kind === 'strip') {
    const { reMin, reMax, cuMin, cuMax } = view.window;
    const percent = (fraction: number) => format('.4~r')(100 * fraction);
    sentences.push(
      `Drawn is the strip from ${percent(reMin)} to ${percent(reMax)} at% ${rareEarth} and ${percent(cuMin)} to ${percent(cuMax)} at% Cu, with unlike scales.`,
    );
  }
  if (odds) {
    let best = -1;
    for (let i = 0; i < odds.odds.length; i++) {
      if (odds.odds[i]! > (best < 0 ? -1 : odds.odds[best]!)) best = i;
    }
    sentences.push(
      best < 0
        ? `The odds of ${odds.of} are not known anywhere.`
        : `The odds of ${odds.of} are highest, ${format('.2~f')(odds.odds[best]!)}, at ${compositionText(compositionOf(odds.re[best]!, odds.ba[best]!, odds.cu[best]!), rareEarth)}.`,
    );
  }
  if (films.length > 0) {
    const of = (name: string) => films.filter(({ verdict }) => verdict === name).length;
    sentences.push(
      `${counted(films.length, 'film')}: ${of('passes')} pass, ${of('falls short')} fall short, ${of('cannot say')} cannot be judged.`,
    );
  }
  if (proposals.length > 0) {
    sentences.push(`${counted(proposals.length, 'proposal')}.`);
  }
  if (outsideCount > 0) {
    sentences.push(`${counted(outsideCount, 'mark')} outside the part drawn.`);
  }
  return sentences.join(' ');
}

function triangleTable({ odds, phases = [], films = [], proposals = [], rareEarth }: TriangleRequest): Table {
  const rows: (string | number | null)[][] = [
    ...films.map(({ label, at, verdict }) => ['film', label, at.re, at.ba, at.cu, verdict, null]),
    ...proposals.map(({ label, at }) => ['proposal', label, at.re, at.ba, at.cu, null, null]),
    ...phases.map(({ label, at }) => ['phase', label, at.re, at.ba, at.cu, null, null]),
  ];
  for (let i = 0; odds && i < odds.odds.length; i++) {
    const { re, ba, cu } = compositionOf(odds.re[i]!, odds.ba[i]!, odds.cu[i]!);
    rows.push(['odds', odds.of, re, ba, cu, null, odds.odds[i]!]);
  }
  const column = (name: string, unit: string, i: number, factor = 1): Column => ({
    name,
    unit,
    values: rows.map((row) => (typeof row[i] === 'number' ? factor * row[i] : row[i]!)),
  });
  return {
    columns: [
      column('kind', '', 0),
      column('label', '', 1),
      column(rareEarth, 'at%', 2, 100),
      column('Ba', 'at%', 3, 100),
      column('Cu', 'at%', 4, 100),
      column('verdict', '', 5),
      column('odds', '', 6),
    ],
  };
}

/**
 * The triangle as a scene. Films that would cover each other are pushed apart; names are written only where there is room, and
 * every mark carries its own in full.
 *
 * @throws DomainError CHART_SIZE, CHART_WINDOW, CHART_LENGTHS, CHART_GRID
 */
export function triangleScene(request: TriangleRequest): Scene<TriangleView> {
  const { rareEarth, lines = [], fields = [], phases = [], films = [], proposals = [], selected } = request;
  const size = checkedSize(request.size ?? DEFAULT_SIZE);
  const window = request.window ?? WHOLE_TRIANGLE;
  const isStrip = window.kind === 'strip';
  const captionPx = request.caption ? 22 : 0;
  const items = legendItems(request);
  const isNarrow = size.width < 460;
  const barWidth = Math.min(150, size.width / 4);
  const legendWidth = isStrip ? size.width - 24 - (request.odds ? barWidth + 60 : 0) : size.width / 2 - 90;
  const key = legend(items, 12, 10, Math.max(80, legendWidth), !isStrip);
  const stripTop = Math.max(key.heightPx + 10, request.odds ? 74 : 0) + 50;
  const frame = {
    left: isStrip ? 70 : 46,
    right: size.width - (isStrip ? 24 : 46),
    top: isStrip ? stripTop : isNarrow ? 60 : 34,
    bottom: size.height - 50 - captionPx,
  };
  const view = triangleView(window, frame);
  const axes = triangleAxes(view, rareEarth);
  const outline = flat(view.outline);

  const room = new LabelRoom({
    left: view.frame.left - 30,
    right: view.frame.right + 30,
    top: view.frame.top - 10,
    bottom: view.frame.bottom,
  });
  const isShown = ({ at }: { at: TernaryPoint }) => view.holds(at);
  const shownProposals = proposals.map((proposal, i) => ({ ...proposal, number: i + 1 })).filter(isShown);
  const placed = placeFilms(
    films.filter(isShown),
    view.project,
    shownProposals.map(({ at }) => ({ ...view.project(at), radius: PROPOSAL_RADIUS_PX })),
  );
  const shownPhases = phases.filter(isShown);
  const outsideCount = films.length + proposals.length - placed.length - shownProposals.length;
  room.takeTexts(axes.over);
  for (const { drawn } of placed) room.takeAround(drawn.x, drawn.y, FILM_RADIUS_PX + 1);
  for (const { at } of shownProposals) {
    const { x, y } = view.project(at);
    room.takeAround(x, y, PROPOSAL_RADIUS_PX + 1);
  }
  for (const { at } of shownPhases) {
    const { x, y } = view.project(at);
    room.takeAround(x, y, 4);
  }

  const selectedMarks: Mark[] = [];
  if (selected && view.holds(selected)) {
    const { x, y } = view.project(selected);
    selectedMarks.push(
      ...crossMarks(selected, view),
      ...labelMarks(room, {
        text: compositionText(selected, rareEarth),
        x,
        y,
        gapPx: 13,
        fill: 'accent',
        sizePx: 12,
      }),
    );
  }
  const named = new Set(request.namedFilmIds ?? []);
  const filmNames = placed
    .filter(({ film }) => named.has(film.id))
    .flatMap(({ film, drawn }) =>
      labelMarks(room, {
        text: fitText(film.label, 140, 12).text,
        ...drawn,
        gapPx: 10,
        fill: 'ink',
        sizePx: 12,
        mayStandFar: true,
      }),
    );
  const phaseMarks = shownPhases.flatMap(({ label: name, at }): Mark[] => {
    const { x, y } = view.project(at);
    return [
      {
        kind: 'symbol',
        shape: 'diamond',
        x,
        y,
        radius: 3.2,
        fill: 'background',
        stroke: 'ink',
        strokeWidth: 1.25,
      },
      ...labelMarks(room, { text: name, x, y, gapPx: 6, fill: 'ink' }),
    ];
  });
  const fieldMarks = fields.filter(isShown).flatMap(({ label: name, at }): Mark[] => {
    const { x, y } = view.project(at);
    const fitted = fitText(name, 150, 12);
    const half = textWidth(fitted.text, 12) / 2;
    const box = { left: x - half, right: x + half, top: y - 8, bottom: y + 8 };
    if (!room.isFree(box)) return [];
    room.take(box);
    return [
      {
        kind: 'text',
        x,
        y,
        ...fitted,
        size: 12,
        fill: 'quiet',
        anchor: 'middle',
        baseline: 'middle',
        hasHalo: true,
      },
    ];
  });

  const inside: Mark[] = [];
  const mapView = {
    project: (re: number, cu: number) => view.project({ re, ba: 1 - re - cu, cu }),
    holdsPoint: (x: number, y: number) => view.holds(view.invert(x, y)),
  };
  const shading = request.odds
    ? oddsMarks(oddsMesh(request.odds), mapView, room)
    : { shades: [], lines: [], labels: [] };
  inside.push(
    ...shading.shades,
    ...axes.under,
    ...shading.lines,
    ...lines.map(({ kind, points }) => lineMark(kind, flat(points.map(view.project)))),
  );

  const marks: Mark[] = [
    { kind: 'group', clip: outline, marks: inside },
    { kind: 'line', points: [...outline, outline[0]!, outline[1]!], stroke: 'ink', strokeWidth: 1.25 },
    ...axes.over,
    ...shading.labels,
    ...fieldMarks,
    ...phaseMarks,
    ...selectedMarks.slice(0, -1),
    ...filmMarks(placed, rareEarth),
    ...shownProposals.flatMap(({ id, label: name, at, number }) => {
      const { x, y } = view.project(at);
      const said = `Proposal ${number}: ${name}, ${compositionText(at, rareEarth)}`;
      return proposalMarks(x, y, String(number), { id, label: said });
    }),
    ...filmNames,
    ...selectedMarks.slice(-1),
    ...key.marks,
    ...(request.odds ? barMarks(size.width - 16, 14, barWidth, request.odds.of) : []),
  ];
  if (request.caption) {
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
  }
  return {
    ...size,
    title: request.title,
    description: describe(request, view, outsideCount),
    marks,
    scales: view,
    get table() {
      return triangleTable(request);
    },
  };
}
