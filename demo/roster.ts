// What the invented group did: targets, runs, films, pieces and which measurements each piece got. The first twelve films
// are written out, so that failures of every kind stand beside films that pass; further ones are drawn around them.
import { randomStream } from './random.ts';

export interface PlannedTarget {
  readonly label: string;
  readonly film: { readonly Dy: number; readonly Ba: number; readonly Cu: number };
  readonly note: string;
}

export const TAKE_NAMES = [
  'scan as grown',
  'scan',
  'resistance',
  'current 77 K',
  'current 30 K',
  'loop 77 K',
  'loop 30 K',
  'magnetic transition',
] as const;
export type TakeName = (typeof TAKE_NAMES)[number];

/** What is odd about one file of a piece. */
export type Oddity = 'shunt' | 'quench' | 'supply limit' | 'cracked through' | 'two blocks' | 'two-byte text';

export interface PlannedPiece {
  readonly letter: string;
  readonly lengthMm: number;
  readonly widthMm: number;
  /** ex situ: time beside the liquid after the front arrived */
  readonly liquidHoldS: number;
  readonly bridgeWidthM: number;
  readonly tapDistanceM: number;
  readonly takes: Readonly<Partial<Record<TakeName, Oddity | 'plain'>>>;
  readonly note: string;
}

export interface PlannedFilm {
  readonly label: string;
  readonly runLabel: string;
  readonly targetLabel: string;
  readonly route: 'in situ' | 'ex situ';
  readonly substrate: 'LaAlO3' | 'tape';
  /** surface while the compound forms */
  readonly surfaceC: number;
  readonly po2Atm: number;
  readonly depositionRateNmPerS: number;
  /** ex situ: speed of the front */
  readonly conversionRateNmPerS: number | null;
  readonly thicknessNm: number;
  readonly pieces: readonly PlannedPiece[];
  readonly note: string;
}

export const PLANNED_TARGETS: readonly PlannedTarget[] = [
  {
    label: 'T1',
    film: { Dy: 1, Ba: 2, Cu: 3 },
    note: 'Stoichiometric in the film; for the benchmark and control.',
  },
  {
    label: 'T2',
    film: { Dy: 1, Ba: 2.45, Cu: 3.95 },
    note: 'About a fifth of liquid on the line to the melt.',
  },
  {
    label: 'T3',
    film: { Dy: 1, Ba: 2.8, Cu: 3.4 },
    note: 'Barium side: is the window wider than we think?',
  },
  { label: 'T4', film: { Dy: 1, Ba: 2, Cu: 4.4 }, note: 'Copper side.' },
  { label: 'T5', film: { Dy: 1.35, Ba: 2, Cu: 3 }, note: 'Dysprosium side: particles without liquid.' },
  { label: 'T6', film: { Dy: 1, Ba: 2.6, Cu: 4.35 }, note: 'Further along the line to the melt than T2.' },
];

const piece = (letter: string, takes: PlannedPiece['takes'], note = '', liquidHoldS = 4): PlannedPiece => ({
  letter,
  lengthMm: 5,
  widthMm: 4,
  liquidHoldS,
  bridgeWidthM: 50e-6,
  tapDistanceM: 1e-3,
  takes,
  note,
});
const WITH_CURRENTS = {
  scan: 'plain',
  resistance: 'plain',
  'current 77 K': 'plain',
  'current 30 K': 'plain',
} as const;
const AT_GROWTH = { surfaceC: 835, po2Atm: 4e-4, conversionRateNmPerS: null } as const;

const FIRST_TWELVE: readonly PlannedFilm[] = [
  {
    ...AT_GROWTH,
    label: 'D01',
    runLabel: 'R01',
    targetLabel: 'T1',
    route: 'in situ',
    substrate: 'LaAlO3',
    depositionRateNmPerS: 0.5,
    thicknessNm: 250,
    pieces: [
      {
        ...piece('a', {
          'scan as grown': 'plain',
          ...WITH_CURRENTS,
          'loop 77 K': 'plain',
          'loop 30 K': 'plain',
        }),
        tapDistanceM: 0.5e-3,
      },
    ],
    note: 'Slow stoichiometric benchmark.',
  },
  {
    ...AT_GROWTH,
    label: 'D02',
    runLabel: 'R02',
    targetLabel: 'T1',
    route: 'in situ',
    substrate: 'LaAlO3',
    depositionRateNmPerS: 22,
    thicknessNm: 250,
    pieces: [piece('a', { ...WITH_CURRENTS, 'loop 77 K': 'plain' })],
    note: 'Fast stoichiometric control.',
  },
  {
    ...AT_GROWTH,
    label: 'D03',
    runLabel: 'R03',
    targetLabel: 'T2',
    route: 'in situ',
    substrate: 'LaAlO3',
    depositionRateNmPerS: 20,
    thicknessNm: 300,
    pieces: [
      piece('a', {
        ...WITH_CURRENTS,
        resistance: 'two blocks',
        'loop 77 K': 'plain',
        'loop 30 K': 'plain',
      }),
    ],
    note: 'First run with the liquid-bearing target.',
  },
  {
    ...AT_GROWTH,
    label: 'D04',
    runLabel: 'R03',
    targetLabel: 'T2',
    route: 'in situ',
    substrate: 'tape',
    depositionRateNmPerS: 19,
    thicknessNm: 285,
    pieces: [
      {
        ...piece(
          'a',
          { ...WITH_CURRENTS, 'current 30 K': 'supply limit', 'magnetic transition': 'plain' },
          'Wide bridge.',
        ),
        bridgeWidthM: 200e-6,
        tapDistanceM: 2e-3,
      },
    ],
    note: 'Same run as D03, on tape.',
  },
  {
    ...AT_GROWTH,
    label: 'D05',
    runLabel: 'R04',
    targetLabel: 'T2',
    route: 'in situ',
    substrate: 'LaAlO3',
    surfaceC: 785,
    depositionRateNmPerS: 20,
    thicknessNm: 290,
    pieces: [
      piece('a', {
        scan: 'plain',
        resistance: 'two-byte text',
        'current 77 K': 'plain',
        'loop 77 K': 'plain',
      }),
    ],
    note: 'Colder: does the melt still form?',
  },
  {
    ...AT_GROWTH,
    label: 'D06',
    runLabel: 'R05',
    targetLabel: 'T3',
    route: 'in situ',
    substrate: 'LaAlO3',
    depositionRateNmPerS: 18,
    thicknessNm: 270,
    pieces: [piece('a', { scan: 'plain', resistance: 'plain', 'current 77 K': 'quench' })],
    note: 'Surface dull to the eye.',
  },
  {
    label: 'D07',
    runLabel: 'R06',
    targetLabel: 'T2',
    route: 'ex situ',
    substrate: 'tape',
    surfaceC: 850,
    po2Atm: 1e-3,
    depositionRateNmPerS: 32,
    conversionRateNmPerS: 100,
    thicknessNm: 600,
    pieces: [
      piece(
        'a',
        { scan: 'plain', resistance: 'plain', 'current 77 K': 'plain' },
        'Held long beside the liquid.',
        90,
      ),
      piece('b', { 'scan as grown': 'plain', ...WITH_CURRENTS, 'loop 30 K': 'plain' }, 'Short path.'),
    ],
    note: 'Amorphous layer, two pieces with different paths.',
  },
  {
    label: 'D08',
    runLabel: 'R07',
    targetLabel: 'T2',
    route: 'ex situ',
    substrate: 'LaAlO3',
    surfaceC: 850,
    po2Atm: 1e-3,
    depositionRateNmPerS: 32,
    conversionRateNmPerS: 60,
    thicknessNm: 500,
    pieces: [piece('a', WITH_CURRENTS, 'Held two and a half minutes.', 150)],
    note: '',
  },
  {
    label: 'D09',
    runLabel: 'R08',
    targetLabel: 'T4',
    route: 'in situ',
    substrate: 'LaAlO3',
    surfaceC: 800,
    po2Atm: 1.2e-5,
    depositionRateNmPerS: 20,
    conversionRateNmPerS: null,
    thicknessNm: 280,
    pieces: [
      piece(
        'a',
        { scan: 'plain', resistance: 'plain', 'current 77 K': 'shunt' },
        'Silver left beside the bridge.',
      ),
    ],
    note: 'Low oxygen pressure.',
  },
  {
    label: 'D10',
    runLabel: 'R09',
    targetLabel: 'T6',
    route: 'ex situ',
    substrate: 'LaAlO3',
    surfaceC: 850,
    po2Atm: 1e-3,
    depositionRateNmPerS: 40,
    conversionRateNmPerS: 120,
    thicknessNm: 2400,
    pieces: [
      piece('a', {
        'scan as grown': 'plain',
        scan: 'plain',
        resistance: 'plain',
        'current 77 K': 'cracked through',
      }),
    ],
    note: 'Thick layer; cracks seen after cooling.',
  },
  {
    ...AT_GROWTH,
    label: 'D11',
    runLabel: 'R10',
    targetLabel: 'T5',
    route: 'in situ',
    substrate: 'LaAlO3',
    depositionRateNmPerS: 20,
    thicknessNm: 260,
    pieces: [piece('a', { scan: 'plain', resistance: 'plain', 'current 77 K': 'plain' })],
    note: '',
  },
  {
    ...AT_GROWTH,
    label: 'D12',
    runLabel: 'R11',
    targetLabel: 'T6',
    route: 'in situ',
    substrate: 'LaAlO3',
    depositionRateNmPerS: 24,
    thicknessNm: 310,
    pieces: [
      piece('a', {
        scan: 'plain',
        resistance: 'plain',
        'loop 77 K': 'plain',
        'magnetic transition': 'plain',
      }),
    ],
    note: 'Not yet patterned.',
  },
];

/** A further film, drawn around the first twelve: mostly the liquid-bearing targets, conditions wandering. */
function laterFilm(seed: number, number: number): PlannedFilm {
  const random = randomStream(seed, `plan ${number}`);
  const route = random.uniform() < 0.6 ? 'in situ' : 'ex situ';
  const targets = ['T2', 'T2', 'T6', 'T6', 'T3', 'T4', 'T5', 'T1'] as const;
  const isEx = route === 'ex situ';
  const thicknessNm = Math.round(isEx ? random.between(400, 1600) : random.between(200, 500));
  const hasField = random.uniform() < 0.6;
  const hasLoops = random.uniform() < 0.4;
  return {
    label: `D${String(number).padStart(2, '0')}`,
    runLabel: `R${String(number - 1).padStart(2, '0')}`,
    targetLabel: targets[Math.floor(random.uniform() * targets.length)]!,
    route,
    substrate: random.uniform() < 0.5 ? 'LaAlO3' : 'tape',
    surfaceC: Math.round(isEx ? random.between(820, 890) : random.between(790, 870)),
    po2Atm: Number((10 ** random.between(-4.3, -2.8)).toPrecision(2)),
    depositionRateNmPerS: Number(
      (isEx ? random.between(25, 45) : 2 * 10 ** random.between(0, 1.3)).toPrecision(2),
    ),
    conversionRateNmPerS: isEx ? Math.round(random.between(50, 150)) : null,
    thicknessNm,
    pieces: [
      piece(
        'a',
        {
          ...(isEx ? { 'scan as grown': 'plain' as const } : {}),
          scan: 'plain',
          resistance: 'plain',
          'current 77 K': 'plain',
          ...(hasField ? { 'current 30 K': 'plain' as const } : {}),
          ...(hasLoops ? { 'loop 77 K': 'plain' as const, 'loop 30 K': 'plain' as const } : {}),
        },
        '',
        Math.round(random.between(2, 40)),
      ),
    ],
    note: '',
  };
}

/** The plan of the series; the first films are the same whatever the count. */
export function plannedFilms(seed: number, filmCount: number): PlannedFilm[] {
  return Array.from({ length: filmCount }, (_, i) => FIRST_TWELVE[i] ?? laterFilm(seed, i + 1));
}
