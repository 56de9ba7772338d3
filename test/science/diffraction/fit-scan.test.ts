import { describe, expect, it } from 'vitest';
import {
  countingSignificance,
  FALSE_ALARMS_PER_SCAN,
  normalUpperQuantile,
} from '../../../src/science/diffraction/find-peaks.ts';
import { fitScan } from '../../../src/science/diffraction/fit-scan.ts';
import { radiationOf } from '../../../src/science/diffraction/radiation.ts';
import { prepareScan } from '../../../src/science/diffraction/scan.ts';
import { simulateScan } from '../../simulate/diffraction-scan.ts';

const { radiation } = radiationOf('Cu');
const fitOf = (truth: Parameters<typeof simulateScan>[0]) => {
  const { twoThetaDeg, counts } = simulateScan(truth);
  return { ...fitScan(prepareScan(twoThetaDeg, counts), radiation), counts };
};

describe('fitScan', () => {
  it('reports a line from noise alone in few of forty empty scans', () => {
    let alarms = 0;
    for (let seed = 1; seed <= 40; seed++) {
      alarms += fitOf({ lines: [], seed, stepDeg: 0.05, backgroundCounts: 20 + 10 * seed }).peaks.length;
    }
    expect(FALSE_ALARMS_PER_SCAN).toBe(0.05);
    expect(alarms).toBeLessThanOrEqual(6); // 2 expected; 7 or more has a chance of 0.5 %
  });

  it('gives back the area of a line and of one on its foot, fitted together', () => {
    const { peaks } = fitOf({
      lines: [
        { spacing: 2.34, area: 500, width: 0.1 },
        { spacing: 2.322, area: 60, width: 0.1 },
      ],
      seed: 8,
    });
    expect(peaks).toHaveLength(2);
    for (const [p, area] of [500, 60].entries()) {
      const { areaCountsDeg, areaCountsDegU } = peaks[p]!;
      expect(Math.abs(areaCountsDeg - area)).toBeLessThan(4 * areaCountsDegU + 0.02 * area);
    }
  });

  it('does not take K-alpha2 of a strong line for a line of its own', () => {
    const { peaks } = fitOf({ lines: [{ spacing: 1.302, area: 3000, width: 0.04 }], seed: 9 });
    expect(
      peaks.filter(
        (peak) =>
          Math.abs(peak.twoThetaDeg - 72.8) > 0.02 && peak.twoThetaDeg > 72.75 && peak.areaCountsDeg > 100,
      ),
    ).toEqual([]);
  });

  it('draws background and fit over every point, the fit within the noise of the counts', () => {
    const { fitCounts, backgroundCounts, counts } = fitOf({
      lines: [{ spacing: 2.34, area: 200, width: 0.1 }],
      seed: 10,
    });
    expect(fitCounts).toHaveLength(counts.length);
    expect(backgroundCounts).toHaveLength(counts.length);
    let squares = 0;
    for (let i = 0; i < counts.length; i++)
      squares += (counts[i]! - fitCounts[i]!) ** 2 / Math.max(fitCounts[i]!, 1);
    expect(squares / counts.length).toBeGreaterThan(0.9);
    expect(squares / counts.length).toBeLessThan(1.1);
  });

  it('keeps the background flat under a line: no more than 3 % off its true level', () => {
    const { backgroundCounts } = fitOf({
      lines: [{ spacing: 2.34, area: 400, width: 0.1 }],
      seed: 11,
      backgroundCounts: 400,
    });
    const place = Math.round((38.44 - 10) / 0.02);
    const truth = 400 * (0.35 + 1.6 * Math.exp(-38.44 / 18));
    expect(Math.abs(backgroundCounts[place]! / truth - 1)).toBeLessThan(0.03);
  });
});

describe('normalUpperQuantile', () => {
  // [memory: standard normal table]
  it.each([
    [0.025, 1.96],
    [0.00135, 3],
    [3.167e-5, 4],
  ])('puts a tail of %d above %d standard deviations', (tail, z) => {
    expect(Math.abs(normalUpperQuantile(tail) - z)).toBeLessThan(1e-3);
  });
});

describe('countingSignificance', () => {
  it('tends to net over root of background where both are large', () => {
    expect(countingSignificance(300, 1e6)).toBeCloseTo(0.3, 4);
  });

  it('is far below net over root of background for few counts, and nothing for a deficit', () => {
    expect(countingSignificance(3, 0.25)).toBeLessThan(3 / Math.sqrt(0.25) / 1.5);
    expect(countingSignificance(-5, 10)).toBe(0);
  });
});
