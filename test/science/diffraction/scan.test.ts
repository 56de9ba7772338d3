import { describe, expect, it } from 'vitest';
import { prepareScan } from '../../../src/science/diffraction/scan.ts';
import { filmLines, simulateScan } from '../../simulate/diffraction-scan.ts';

const plain = simulateScan({ lines: filmLines(11.7, 300), toDeg: 60, seed: 3 });
const codes = (twoThetaDeg: number[], counts: number[]): string[] =>
  prepareScan(twoThetaDeg, counts).remarks.map((remark) => remark.code);

describe('prepareScan', () => {
  it('takes Poisson counts as counts and says nothing', () => {
    const scan = prepareScan(plain.twoThetaDeg, plain.counts);
    expect(scan.noise.kind).toBe('poisson');
    expect(scan.remarks).toEqual([]);
  });

  it('reads the noise of counts per second off the scan and turns them back into counts', () => {
    const scan = prepareScan(
      plain.twoThetaDeg,
      plain.counts.map((count) => count / 10),
    );
    expect(scan.noise.kind).toBe('estimated');
    expect(scan.countsPerUnit).toBeGreaterThan(8.5);
    expect(scan.countsPerUnit).toBeLessThan(11.5);
    expect(scan.noise.variancePerCount).toBeCloseTo(1, 9);
  });

  it('takes few whole counts as counts, most points zero', () => {
    const faint = simulateScan({ lines: [], backgroundCounts: 0.4, seed: 5 });
    expect(prepareScan(faint.twoThetaDeg, faint.counts).noise.kind).toBe('poisson');
  });

  it('says that a smoothed scan looks smoothed', () => {
    const smooth = plain.counts.map((_, i) => {
      const near = plain.counts.slice(Math.max(0, i - 2), i + 3);
      return near.reduce((sum, count) => sum + count, 0) / near.length;
    });
    const { remarks } = prepareScan(plain.twoThetaDeg, smooth);
    expect(remarks[0]?.message).toMatch(/looks smoothed/);
  });

  it('turns a falling scan round and remembers where each point stood', () => {
    const scan = prepareScan(plain.twoThetaDeg.toReversed(), plain.counts.toReversed());
    expect(scan.remarks.map((remark) => remark.code)).toEqual(['SCAN_FALLING']);
    expect(scan.placeOfInput[0]).toBe(plain.counts.length - 1);
    expect(scan.counts[0]).toBe(plain.counts[0]);
  });

  it('averages an angle that stands twice', () => {
    const twoThetaDeg = [
      ...plain.twoThetaDeg.slice(0, 100),
      plain.twoThetaDeg[99]!,
      ...plain.twoThetaDeg.slice(100),
    ];
    const counts = [...plain.counts.slice(0, 99), 40, 60, ...plain.counts.slice(100)];
    const scan = prepareScan(twoThetaDeg, counts);
    expect(scan.counts[99]).toBe(50);
    expect(scan.remarks.map((remark) => remark.code)).toContain('SCAN_ANGLE_REPEATED');
  });

  it('sorts an encoder that steps back a little, and says so', () => {
    const twoThetaDeg = [...plain.twoThetaDeg];
    [twoThetaDeg[50], twoThetaDeg[51]] = [twoThetaDeg[51]!, twoThetaDeg[50]!];
    expect(codes(twoThetaDeg, plain.counts)).toContain('SCAN_ANGLE_JITTER');
  });

  it('refuses two scans in one, naming the point and the angles', () => {
    const twice = [...plain.twoThetaDeg, ...plain.twoThetaDeg];
    expect(() => prepareScan(twice, [...plain.counts, ...plain.counts])).toThrow(
      /SCAN_TWO_IN_ONE.*from 60 to 10 degrees at point 2502.*one scan at a time/,
    );
  });

  it('refuses lengths that differ, a scan too short, an angle past 180, and a scan of zeros', () => {
    expect(() => prepareScan(plain.twoThetaDeg, plain.counts.slice(1))).toThrow(
      /2501 angles but 2500 counts/,
    );
    expect(() => prepareScan([1, 2, 3], [4, 5, 6])).toThrow(/has 3 points; at least 50/);
    expect(() =>
      prepareScan(
        plain.twoThetaDeg.map((angle) => angle * 4),
        plain.counts,
      ),
    ).toThrow(/SCAN_ANGLE_RANGE/);
    expect(() =>
      prepareScan(
        plain.twoThetaDeg,
        plain.counts.map(() => 0),
      ),
    ).toThrow(/None of the 2501 points/);
  });

  it('flags counts below zero and steps that vary', () => {
    const lowered = plain.counts.map((count) => count - 60);
    expect(codes(plain.twoThetaDeg, lowered)).toContain('SCAN_NEGATIVE_COUNTS');
    const uneven = plain.twoThetaDeg.map((angle, i) => angle + (i > 1000 ? 0.02 * (i - 1000) : 0));
    expect(codes(uneven, plain.counts)).toContain('SCAN_STEPS_VARY');
  });

  it('masks a spike one point wide but no line two points wide', () => {
    const counts = [...plain.counts];
    counts[700] = 900;
    const scan = prepareScan(plain.twoThetaDeg, counts);
    expect(scan.counts[700]).toBeNaN();
    expect(scan.maskedTwoThetaDeg).toEqual([plain.twoThetaDeg[700]]);
    const line = [...plain.counts];
    for (const [off, more] of [
      [-2, 150],
      [-1, 500],
      [0, 700],
      [1, 480],
      [2, 140],
    ] as const)
      line[700 + off]! += more;
    expect(prepareScan(plain.twoThetaDeg, line).maskedTwoThetaDeg).toEqual([]);
  });

  it('masks the flat top of a detector at its limit', () => {
    const strong = simulateScan({ lines: [{ spacing: 1.95264, area: 30_000 }], toDeg: 60, seed: 4 });
    const limited = strong.counts.map((count) => Math.min(count, 20_000));
    const scan = prepareScan(strong.twoThetaDeg, limited);
    expect(scan.remarks[0]).toMatchObject({ code: 'SCAN_SATURATED' });
    expect(scan.maskedTwoThetaDeg.length).toBeGreaterThan(2);
  });
});
