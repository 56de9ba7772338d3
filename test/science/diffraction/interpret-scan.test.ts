import { describe, expect, it } from 'vitest';
import { interpretScan } from '../../../src/science/diffraction/interpret-scan.ts';
import { usualSecondPhases } from '../../../src/science/diffraction/known-cells.ts';
import { radiationOf } from '../../../src/science/diffraction/radiation.ts';
import { prepareScan } from '../../../src/science/diffraction/scan.ts';
import { filmLines, simulateScan } from '../../simulate/diffraction-scan.ts';
import type { FilmScan } from '../../simulate/film-scans.ts';
import { simulateFilmScan } from '../../simulate/film-scans.ts';

const { radiation } = radiationOf('Cu');
const interpret = (
  scan: Pick<FilmScan, 'twoThetaDeg' | 'counts'>,
  substrate: string | undefined,
  candidates = usualSecondPhases('Y'),
) =>
  interpretScan(prepareScan(scan.twoThetaDeg, scan.counts), radiation, {
    rareEarth: 'Y',
    substrate,
    candidates,
  });

const TITANATE = [1, 2, 3].map((order) => ({
  spacing: 3.90528 / order,
  area: [3000, 12_000, 2500][order - 1]!,
  width: 0.05,
}));
const yttria = (share: number) =>
  [
    [12, 1],
    [16, 0.3],
    [32, 0.45],
  ].map(([n, r]) => ({ spacing: 10.6041 / Math.sqrt(n!), share: share * r!, width: 0.25 }));

describe('interpretScan over 120 simulated films with known truth', () => {
  const answers = Array.from({ length: 120 }, (_, k) => {
    const scan = simulateFilmScan(k);
    return { scan, found: interpret(scan, scan.substrate) };
  });

  it('finds the (00l) orders of every film', () => {
    expect(answers.filter(({ found }) => found.cAxis === undefined)).toEqual([]);
  });

  it('holds the true c inside its 95 % interval in 90 to 99.5 % of them', () => {
    const inside = answers.filter(
      ({ scan, found }) => Math.abs(found.cAxis!.cAngstrom - scan.cAngstrom) < 1.96 * found.cAxis!.cAngstromU,
    );
    expect(inside.length / answers.length).toBeGreaterThanOrEqual(0.9);
    expect(inside.length / answers.length).toBeLessThanOrEqual(0.995);
  });

  it('gives c to 0.003 angstrom in the middle of them: the interval is not held by being wide', () => {
    const widths = answers.map(({ found }) => found.cAxis!.cAngstromU).sort((p, q) => p - q);
    expect(widths[60]!).toBeLessThan(0.003);
  });

  it('calls hardly any absent phase present: fewer than 2 in 100', () => {
    const asked = answers.flatMap(({ found }) => found.phases.slice(1));
    const wrong = asked.filter((phase) => phase.answer === 'present');
    expect(wrong.length / asked.length).toBeLessThan(0.02);
  });
});

describe('a second phase that is there', () => {
  it('is seen in nearly every film when it is plentiful, and never denied', () => {
    const answers = Array.from({ length: 24 }, (_, k) => {
      const scan = simulateFilmScan(k, yttria(0.5));
      return interpret(scan, scan.substrate).phases.find((phase) => phase.formula === 'Y2O3')!.answer;
    });
    expect(answers).not.toContain('absent');
    expect(answers.filter((answer) => answer === 'present').length).toBeGreaterThanOrEqual(18);
  });
});

describe('names of lines', () => {
  const film = simulateScan({ lines: [...filmLines(11.69, 300), ...TITANATE], kBetaShare: 0.005, seed: 12 });

  it('tells the substrate’s K-beta lines from a film’s', () => {
    const { peaks, labels } = interpret(film, 'SrTiO3');
    const at = (twoThetaDeg: number) =>
      labels[peaks.findIndex((peak) => Math.abs(peak.twoThetaDeg - twoThetaDeg) < 0.1)];
    expect(at(46.47)).toEqual({ label: 'SrTiO3 (002)', kind: 'substrate' });
    expect(at(41.77)).toEqual({ label: 'SrTiO3 (002) K-beta', kind: 'substrate K-beta' });
    expect(at(38.47)).toEqual({ label: '123 (005)', kind: 'film' });
  });

  it('recognises a substrate that was not named, and says so', () => {
    const { substrates, remarks } = interpret(film, undefined);
    expect(substrates.map((substrate) => substrate.id)).toEqual(['SrTiO3']);
    expect(remarks.map((remark) => remark.code)).toContain('SUBSTRATE_RECOGNISED');
  });

  it('takes no tape layer for an angle standard', () => {
    const { substrates, remarks } = interpret(film, 'LaMnO3/MgO/alloy X');
    expect(substrates.every((substrate) => !substrate.isAngleStandard)).toBe(true);
    expect(remarks.find((remark) => remark.code === 'SUBSTRATE_UNKNOWN')?.message).toMatch(/'alloy X'/);
  });
});

describe('a substrate named wrong', () => {
  const scan = simulateScan({ lines: [...filmLines(11.7, 2000), ...TITANATE], seed: 23 });

  it.each(['LaAlO3', 'MgO'])(
    '%s where the lines are those of SrTiO3 is said, and its lines are not taken for the film',
    (named) => {
      const { cAxis, remarks, substrates } = interpret(scan, named);
      expect(remarks.find((remark) => remark.code === 'SUBSTRATE_DISAGREES')?.message).toContain('SrTiO3');
      expect(substrates.map(({ id }) => id)).toEqual(['SrTiO3']);
      expect(Math.abs(cAxis!.cAngstrom - 11.7)).toBeLessThan(1.96 * cAxis!.cAngstromU);
    },
  );

  it('is not suspected where it is right', () => {
    expect(interpret(scan, 'SrTiO3').remarks.map(({ code }) => code)).not.toContain('SUBSTRATE_DISAGREES');
  });
});

describe('lines that fall on one another', () => {
  it('leave CeO2 (200) unable to prove Gd2O3 (400)', () => {
    const lines = [...filmLines(11.7, 300), { spacing: 5.411 / 2, area: 200, width: 0.2 }];
    const scan = simulateScan({ lines, seed: 13 });
    const found = interpretScan(prepareScan(scan.twoThetaDeg, scan.counts), radiation, {
      rareEarth: 'Gd',
      substrate: 'CeO2/YSZ/Ni-W',
      candidates: ['Gd2O3'],
    });
    const oxide = found.phases.find((phase) => phase.formula === 'Gd2O3')!;
    expect(oxide.answer).not.toBe('present');
    expect(oxide.lines.find((line) => line.label === 'Gd2O3 (400)')?.coveredBy).toBe('CeO2 (002)');
  });

  it('leave one line at 43 degrees, on LaAlO3 (002) K-beta, unable to prove BaZrO3', () => {
    const lines = [
      ...filmLines(11.7, 300),
      { spacing: 3.79, area: 3000, width: 0.05 },
      { spacing: 1.895, area: 12_000, width: 0.05 },
    ];
    const scan = simulateScan({ lines, kBetaShare: 0.01, seed: 14 });
    const zirconate = interpret(scan, 'LaAlO3', ['BaZrO3']).phases.find(
      (phase) => phase.formula === 'BaZrO3',
    )!;
    expect(zirconate.answer).not.toBe('present');
    expect(zirconate.lines.find((line) => line.label === 'BaZrO3 (200)')?.coveredBy).toBeDefined();
  });
});

describe('films that are not c-axis 123', () => {
  it('are found to hold no 123 when nothing of it is there', () => {
    const scan = simulateScan({
      lines: TITANATE,
      hump: { centreDeg: 29.5, fwhmDeg: 6, heightCounts: 40 },
      seed: 15,
    });
    const found = interpret(scan, 'SrTiO3');
    expect(found.cAxis).toBeUndefined();
    expect(found.phases[0]).toMatchObject({ formula: 'YBa2Cu3O7', texture: 'c-axis' });
    expect(found.phases[0]!.answer).not.toBe('present');
    expect(found.amorphous.answer).toBe('yes');
  });

  it('show a-axis grains by (200)', () => {
    const scan = simulateScan({
      lines: [...filmLines(11.69, 300), ...TITANATE, { spacing: 3.8203 / 2, area: 90, width: 0.15 }],
      seed: 16,
    });
    expect(interpret(scan, 'SrTiO3').phases.find((phase) => phase.texture === 'a-axis')?.answer).toBe(
      'present',
    );
  });

  it('are said to look like theta when only doubled angles fit', () => {
    const scan = simulateScan({ lines: filmLines(11.69, 400), seed: 17 });
    const halved = { twoThetaDeg: scan.twoThetaDeg.map((angle) => angle / 2), counts: scan.counts };
    const found = interpret(halved, undefined);
    expect(found.remarks.map((remark) => remark.code)).toContain('SCAN_LOOKS_LIKE_THETA');
    // a line at half its angle may fall on one of Cu2O: it proves nothing
    expect(new Set(found.phases.map(({ answer }) => answer))).toEqual(new Set(['cannot say']));
  });
});

describe('an amorphous hump', () => {
  it('is answered no where none is, with many counts', () => {
    const scan = simulateScan({ lines: filmLines(11.69, 4000), backgroundCounts: 2000, seed: 18 });
    expect(interpret(scan, undefined).amorphous.answer).not.toBe('yes');
  });

  it('has the share of area that was put in', () => {
    const scan = simulateScan({
      lines: filmLines(11.69, 200),
      hump: { centreDeg: 29.5, fwhmDeg: 6, heightCounts: 60 },
      backgroundCounts: 100,
      seed: 19,
    });
    const { share, shareU, answer } = interpret(scan, undefined).amorphous;
    const hump = 60 * 6 * Math.sqrt(Math.PI / (4 * Math.LN2));
    const crystalline = 200 * (0.4 + 0.06 + 1); // (003), (004), (005) stand inside the window
    expect(answer).toBe('yes');
    expect(Math.abs(share! - hump / (hump + crystalline))).toBeLessThan(3 * shareU! + 0.03);
  });

  it('is not answered where the scan does not reach', () => {
    const scan = simulateScan({ lines: filmLines(11.69, 400), fromDeg: 36, seed: 20 });
    expect(interpret(scan, undefined).amorphous).toMatchObject({ answer: 'cannot say', share: null });
  });
});
