// The simulated instrument files hold the truth that they were asked for, read here by hand.
import { describe, expect, it } from 'vitest';
import { currentFile, loopFile, resistanceFile, scanFile } from './instrument-files.ts';

const numbers = (text: string, separator: RegExp) =>
  text
    .split(/\r?\n/)
    .filter((line) => /^\s*-?\d/.test(line))
    .map((line) => line.trim().split(separator).map(Number));

describe('simulated instrument files', () => {
  it('put (005) where the c axis says', () => {
    const rows = numbers(scanFile({ pieceLabel: 'Z1', cAxisAngstrom: 11.7, peakCounts: 5000 }).text, /,/);
    const [top] = rows
      .filter(([at]) => at! > 38 && at! < 39)
      .reduce((best, row) => (row[1]! > best[1]! ? row : best));
    const expected = (360 / Math.PI) * Math.asin((5 * 1.540593) / (2 * 11.7));
    expect(Math.abs(top! - expected)).toBeLessThan(0.06);
  });

  it('rise from 10 to 90 % over the width asked for', () => {
    const { text } = resistanceFile({ pieceLabel: 'Z1', midpointK: 90, widthK: 2, resistanceAt300Ohm: 50 });
    const rows = numbers(text.replaceAll(',', '.'), /\t/);
    const at = (k: number) =>
      rows.reduce((best, row) => (Math.abs(row[0]! - k) < Math.abs(best[0]! - k) ? row : best));
    const share = (k: number) => (1000 * at(k)[1]!) / (50 * (0.1 + (0.9 * at(k)[0]!) / 300));
    expect(share(89)).toBeCloseTo(0.1, 1);
    expect(share(90)).toBeCloseTo(0.5, 1);
    expect(share(91)).toBeCloseTo(0.9, 1);
  });

  it('reach the criterion at the critical current asked for', () => {
    const { text } = currentFile({ pieceLabel: 'Z1', icA: 0.3, powerIndex: 25, tapDistanceM: 2e-3 });
    const over = numbers(text, /;/).find(([, millivolts]) => millivolts! >= 2e-4)!;
    expect(over[0]!).toBeCloseTo(0.3, 2);
  });

  it('open by twice the half-loop moment', () => {
    const { text } = loopFile({
      pieceLabel: 'Z1',
      jcAPerM2: 2e10,
      lengthM: 6e-3,
      widthM: 4e-3,
      thicknessM: 500e-9,
    });
    const atOne = numbers(text, /\s+/).filter(([field]) => field === 1);
    // 4 x 6 mm, 500 nm, 2e10 A/m2 [derived: closed form]: half-loop moment 1.8667e-4 A m2
    expect((atOne[0]![1]! - atOne[1]![1]!) / 2).toBeCloseTo(1.8667e-4, 6);
  });
});
