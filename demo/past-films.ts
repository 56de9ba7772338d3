// An older table of ten invented films as a group keeps one in a spreadsheet: gaps, mixed units and slips, so that
// importing a table has something to doubt.
import { randomStream } from './random.ts';
import { type FilmConditions, filmTruth } from './world.ts';

const HEADINGS = [
  'Sample',
  'Date',
  'Dy:Ba:Cu',
  'Substrate',
  'T heater (C)',
  'pO2',
  'thickness (nm)',
  'rate (nm/s)',
  'Tc mid (K)',
  'width (K)',
  'Jc 77 K sf (MA/cm2)',
  'phases seen',
  'remarks',
] as const;

interface PastRow {
  readonly sample: string;
  readonly date: string;
  readonly cations: FilmConditions['cations'];
  readonly isTape: boolean;
  readonly surfaceC: number;
  readonly po2Atm: number;
  readonly thicknessNm: number;
  readonly rateNmPerS: number;
  readonly phases: string;
  readonly remarks: string;
}

const row = (
  sample: string,
  date: string,
  [Dy, Ba, Cu]: readonly [number, number, number],
  isTape: boolean,
  [surfaceC, po2Atm]: readonly [number, number],
  [thicknessNm, rateNmPerS]: readonly [number, number],
  phases: string,
  remarks: string,
): PastRow => ({
  sample,
  date,
  cations: { Dy, Ba, Cu },
  isTape,
  surfaceC,
  po2Atm,
  thicknessNm,
  rateNmPerS,
  phases,
  remarks,
});

const ROWS: readonly PastRow[] = [
  row('P01', '2022-02-03', [1, 2, 3], false, [835, 4e-4], [240, 0.6], '123', 'slow'),
  row('P02', '2022-02-10', [1, 2, 3], false, [835, 4e-4], [250, 12], '123', 'fast'),
  row('P03', '17.02.2022', [1, 2.2, 3.4], false, [830, 4e-4], [260, 12], '123', ''),
  row('P04', '2022-03-01', [1, 2.4, 3.9], false, [800, 4e-4], [310, 15], '123, BaCuO2, CuO', 'too cold?'),
  row(
    'P05',
    '2022-03-08',
    [1, 2.4, 3.9],
    true,
    [840, 4e-4],
    [450, 15],
    '123 + Dy2O3',
    'thickness from profile',
  ),
  row('P06', '2022-03-15', [1, 2.7, 3.5], false, [835, 4e-4], [270, 15], '123, BaCuO2', ''),
  row('P07', '2022-03-22', [1, 2.2, 4.5], false, [835, 4e-4], [280, 18], '123, CuO', 'rate in A/s?'),
  row('P08', '2022-04-05', [1, 2.5, 4], false, [850, 6e-4], [300, 18], '123', 'best so far'),
  row('P09', '2022-04-12', [1, 2.5, 4], true, [850, 6e-4], [290, 18], '', 'not scanned yet'),
  row('P10', '2022-04-19', [1.3, 2, 3], false, [835, 4e-4], [260, 15], '123; Dy2O3; 211', ''),
];

const PA_PER_MTORR = 0.133322;
const PA_PER_ATM = 101_325;

/** The table as comma-separated text; the first line says that it is invented. */
export function pastFilmsCsv(seed: number): string {
  const lines = ROWS.map((past, i) => {
    const truth = filmTruth(
      {
        cations: past.cations,
        route: 'in situ',
        surfaceC: past.surfaceC,
        po2Atm: past.po2Atm,
        growthRateNmPerS: past.rateNmPerS,
        thicknessNm: past.thicknessNm,
        substrate: past.isTape ? 'tape' : 'LaAlO3',
        liquidHoldS: 0,
      },
      randomStream(seed, `past run ${past.sample}`),
      randomStream(seed, `past film ${past.sample}`),
    );
    const pressurePa = past.po2Atm * PA_PER_ATM;
    const jc = truth.jc77APerM2 / 1e10;
    const cells: Record<(typeof HEADINGS)[number], string> = {
      Sample: past.sample,
      Date: past.date,
      'Dy:Ba:Cu': `${past.cations.Dy}:${past.cations.Ba}:${past.cations.Cu}`,
      Substrate: past.isTape ? 'buffered tape' : 'LAO',
      'T heater (C)': String(past.surfaceC + 45),
      pO2:
        i % 3 === 1
          ? `${pressurePa.toFixed(1)} Pa`
          : i % 3 === 2
            ? `${(pressurePa / 100).toFixed(2)} mbar`
            : `${(pressurePa / PA_PER_MTORR).toFixed(0)} mTorr`,
      // a slip on purpose: one thickness stands in micrometres
      'thickness (nm)':
        past.sample === 'P05' ? (past.thicknessNm / 1000).toFixed(2) : String(past.thicknessNm),
      // and one rate in angstrom a second
      'rate (nm/s)': past.sample === 'P07' ? String(past.rateNmPerS * 10) : String(past.rateNmPerS),
      'Tc mid (K)': past.sample === 'P06' ? '' : truth.tcMidpointK.toFixed(1),
      'width (K)': past.sample === 'P03' ? '-' : truth.transitionWidthK.toFixed(1),
      'Jc 77 K sf (MA/cm2)': past.sample === 'P09' ? 'n/a' : jc < 0.1 ? '<0.1' : jc.toFixed(2),
      'phases seen': past.phases,
      remarks: past.remarks,
    };
    return HEADINGS.map((heading) => (/[",]/.test(cells[heading]) ? `"${cells[heading]}"` : cells[heading]));
  });
  const note = '# Invented data of the demonstration series: these films were never made.';
  return `${[note, HEADINGS.join(','), ...lines.map((cells) => cells.join(','))].join('\n')}\n`;
}
