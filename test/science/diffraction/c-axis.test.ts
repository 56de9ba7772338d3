import { describe, expect, it } from 'vitest';
import {
  ANGLE_PRIORS_DEG,
  assignOrders,
  fitCAxis,
  seenTwoThetaDeg,
} from '../../../src/science/diffraction/c-axis.ts';
import { twoThetaDegOfSpacing } from '../../../src/science/diffraction/lattice.ts';

const CU = 1.54059292;
const seen = (c: number, order: number, scale = { shiftDeg: 0, zeroDeg: 0, axialDeg: 0 }): number =>
  seenTwoThetaDeg(twoThetaDegOfSpacing(c / order, CU), scale);
const lines = (c: number, orders: number[], scale?: Parameters<typeof seen>[2]) =>
  orders.map((order) => ({ order, twoThetaDeg: seen(c, order, scale), twoThetaDegU: 0.002 }));
const titanate = (order: number, scale: Parameters<typeof seen>[2]) => ({
  twoThetaDeg: seen(3.90528, order, scale),
  twoThetaDegU: 0.002,
  spacingAngstrom: 3.90528 / order,
  relativeSpacingU: 0.0005 / 3.90528,
});

describe('fitCAxis', () => {
  it('gives back c and the displacement from exact positions of many orders', () => {
    const fit = fitCAxis(
      lines(11.7, [2, 3, 4, 5, 6, 7, 9], { shiftDeg: 0.05, zeroDeg: 0, axialDeg: 0 }),
      [],
      CU,
    );
    expect(Math.abs(fit.cAngstrom - 11.7)).toBeLessThan(0.0005);
    expect(Math.abs(fit.shiftDeg - 0.05)).toBeLessThan(0.005);
  });

  it('agrees with the straight line of c_l on cos2(theta)/sin(theta), the textbook extrapolation', () => {
    const orders = [2, 4, 5, 7, 9];
    const placed = lines(11.72, orders, { shiftDeg: 0.04, zeroDeg: 0, axialDeg: 0 });
    let [n, sx, sy, sxx, sxy] = [0, 0, 0, 0, 0];
    for (const { order, twoThetaDeg, twoThetaDegU } of placed) {
      const theta = (twoThetaDeg * Math.PI) / 360;
      const x = Math.cos(theta) ** 2 / Math.sin(theta);
      const y = (order * CU) / (2 * Math.sin(theta));
      const weight = (Math.tan(theta) / (y * twoThetaDegU)) ** 2; // dc = c cot(theta) dtheta
      n += weight;
      sx += weight * x;
      sy += weight * y;
      sxx += weight * x * x;
      sxy += weight * x * y;
    }
    const intercept = (sxx * sy - sx * sxy) / (n * sxx - sx * sx);
    expect(Math.abs(fitCAxis(placed, [], CU).cAngstrom - intercept)).toBeLessThan(0.0005);
  });

  it('rests on the prior displacement when there is one order: u(c) = c cot(theta) u(theta)', () => {
    const fit = fitCAxis(lines(11.7, [5]), [], CU);
    const theta = (seen(11.7, 5) * Math.PI) / 360;
    const cot2 = Math.cos(2 * theta) / Math.sin(2 * theta);
    const positionU = Math.hypot(
      0.002,
      0.003,
      ANGLE_PRIORS_DEG.shift * Math.cos(theta),
      ANGLE_PRIORS_DEG.zero,
      ANGLE_PRIORS_DEG.axial * cot2,
    );
    const expected = (11.7 / Math.tan(theta)) * ((positionU * Math.PI) / 360);
    expect(fit.cAngstromU / expected).toBeCloseTo(1, 3);
  });

  it('is surer with a substrate line of known spacing, and no longer biased by a large displacement', () => {
    const scale = { shiftDeg: 0.2, zeroDeg: 0, axialDeg: 0 };
    const alone = fitCAxis(lines(11.7, [5], scale), [], CU);
    const held = fitCAxis(lines(11.7, [5], scale), [titanate(2, scale)], CU);
    expect(held.cAngstromU).toBeLessThan(alone.cAngstromU / 4);
    expect(Math.abs(held.cAngstrom - 11.7)).toBeLessThan(2 * held.cAngstromU);
    expect(Math.abs(alone.cAngstrom - 11.7)).toBeGreaterThan(0.01);
  });

  it('widens the uncertainty when the positions do not agree with one c', () => {
    const good = lines(11.7, [2, 4, 5, 7]);
    const bad = good.map((line, i) => ({
      ...line,
      twoThetaDeg: line.twoThetaDeg + (i % 2 === 0 ? 0.03 : -0.03),
    }));
    expect(fitCAxis(bad, [], CU).cAngstromU).toBeGreaterThan(3 * fitCAxis(good, [], CU).cAngstromU);
  });
});

describe('assignOrders', () => {
  const peak = (twoThetaDeg: number) => ({ twoThetaDeg, areaCountsDeg: 100, significance: 30 });
  const expected = { value: 11.7, range: 0.1 };
  const everywhere = (twoThetaDeg: number): boolean => twoThetaDeg > 10 && twoThetaDeg < 80;

  it('finds every order of a film among lines of others', () => {
    const peaks = [
      ...[2, 3, 4, 5, 6, 7].map((order) => peak(seen(11.74, order))),
      peak(29.15),
      peak(33.8),
      peak(48.5),
    ];
    const found = assignOrders(peaks, CU, everywhere, expected);
    expect([...found!.peakOfOrder].sort(([p], [q]) => p - q)).toEqual([
      [2, 0],
      [3, 1],
      [4, 2],
      [5, 3],
      [6, 4],
      [7, 5],
    ]);
    expect(Math.abs(found!.cAngstrom - 11.74)).toBeLessThan(0.02);
  });

  it('does not make a 123 of an oxide’s lines', () => {
    expect(assignOrders([29.15, 33.8, 48.5, 57.6].map(peak), CU, everywhere, expected)).toBeUndefined();
  });

  it('does not take a line near (004) alone for a 123, since (005) is twenty times stronger', () => {
    expect(assignOrders([peak(30.5), peak(29.8), peak(31.6)], CU, everywhere, expected)).toBeUndefined();
  });
});
