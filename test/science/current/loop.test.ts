import { describe, expect, it } from 'vitest';
import { type LoopInput, magnetisationLoop } from '../../../src/science/current/loop.ts';
import { seededRandom } from '../../../src/science/numerics/seeded-random.ts';
import { type LoopTruth, loopFields, simulateLoop } from '../../simulate/magnetisation-loop.ts';

const PIECE = { aM: 4e-3, bM: 6e-3, thicknessM: 500e-9 };
const kim = (b: number) => 2e10 / (1 + b / 0.5);
const FIELDS = loopFields(5, 0.05);

function request(truth: Partial<LoopTruth> = {}, fieldT: number[] = FIELDS, seed = 1): LoopInput {
  const all = { ...PIECE, jc: kim, noiseAmpereM2: 1e-8, ...truth };
  return {
    fieldT,
    momentAmpereM2: simulateLoop(all, fieldT, seededRandom(seed).normal),
    shape: { kind: 'rectangle', ...PIECE },
    uncertainties: { aM: 0, bM: 0, thicknessM: 0 },
  };
}
const codes = (result: { flags: { code: string }[] }) => result.flags.map((f) => f.code);

describe('magnetisationLoop', () => {
  it('finds a known Jc(B) within its uncertainty and 1 % from 0.1 T up', () => {
    const result = magnetisationLoop(request());
    const points = result.points.filter((p) => p.fieldT >= 0.1);
    expect(points.length).toBeGreaterThan(15);
    for (const p of points) expect(Math.abs(p.jc.value / kim(p.fieldT) - 1)).toBeLessThan(0.01);
  });

  it('does not see a linear background, and gives its slope', () => {
    const result = magnetisationLoop(request({ backgroundAmpereM2PerT: -1e-5 }));
    const slope = result.background!.slopeAmpereM2PerT;
    expect(Math.abs(slope.value + 1e-5)).toBeLessThan(4 * slope.standardUncertainty);
    for (const p of result.points.filter((q) => q.fieldT >= 0.1))
      expect(Math.abs(p.jc.value / kim(p.fieldT) - 1)).toBeLessThan(0.01);
  });

  it('takes the sides in either order, with their uncertainties', () => {
    const one = request();
    const u = { aM: 1e-4, bM: 2e-4, thicknessM: 1e-8 };
    const a = magnetisationLoop({ ...one, uncertainties: u });
    const turned = { kind: 'rectangle' as const, aM: PIECE.bM, bM: PIECE.aM, thicknessM: PIECE.thicknessM };
    const b = magnetisationLoop({ ...one, shape: turned, uncertainties: { ...u, aM: u.bM, bM: u.aM } });
    expect(b.points).toEqual(a.points);
  });

  it('marks the points below the field of the piece itself', () => {
    const result = magnetisationLoop(request());
    expect(codes(result)).toContain('SELF_FIELD_ROUNDED');
    expect(result.points.find((p) => p.fieldT === 0)!.isRounded).toBe(true);
    expect(result.points.find((p) => p.fieldT === 1)!.isRounded).toBe(false);
  });

  it('does not use the virgin curve as a branch', () => {
    const withVirgin = magnetisationLoop(request());
    const n = FIELDS.indexOf(Math.max(...FIELDS));
    const all = request();
    const without = magnetisationLoop({
      ...all,
      fieldT: FIELDS.slice(n),
      momentAmpereM2: Array.from(all.momentAmpereM2).slice(n),
    });
    expect(without.points.map((p) => p.jc.value)).toEqual(withVirgin.points.map((p) => p.jc.value));
  });

  it('leaves out fields in the turn-round of a branch', () => {
    const all = request();
    const cut = magnetisationLoop({
      ...all,
      fieldT: FIELDS.slice(0, 201),
      momentAmpereM2: Array.from(all.momentAmpereM2).slice(0, 201),
    });
    for (const p of cut.points) expect(Math.abs(p.jc.value / kim(p.fieldT) - 1)).toBeLessThan(0.02);
    expect(cut.points.some((p) => p.fieldT === 0)).toBe(false);
  });

  it('flags a loop that does not close and puts the gap into the uncertainty', () => {
    const result = magnetisationLoop(request({ driftAmpereM2: 1e-5 }));
    const point = result.points.find((p) => p.fieldT === 2)!;
    expect(codes(result)).toContain('LOOP_UNCLOSED');
    expect(Math.abs(point.jc.value - kim(2))).toBeLessThan(3 * point.jc.standardUncertainty);
  });

  it('flags a loop whose two halves differ', () => {
    const all = request();
    const shifted = { ...all, fieldT: FIELDS.map((b) => b + 0.1) };
    expect(codes(magnetisationLoop(shifted))).toContain('LOOP_ASYMMETRIC');
  });

  it('mirrors a single branch through both signs, says so, and refuses one of a single sign', () => {
    const all = request();
    const part = (from: number, to: number) => ({
      ...all,
      fieldT: FIELDS.slice(from, to),
      momentAmpereM2: Array.from(all.momentAmpereM2).slice(from, to),
    });
    const falling = magnetisationLoop(part(100, 301));
    expect(codes(falling)).toContain('LOOP_ONE_BRANCH_MIRRORED');
    expect(falling.points.find((p) => p.fieldT === 1)!.jc.value / kim(1)).toBeCloseTo(1, 2);
    const rising = magnetisationLoop(part(301, 500));
    expect(rising.points.find((p) => p.fieldT === 1)!.jc.value / kim(1)).toBeCloseTo(1, 2);
    expect(() => magnetisationLoop(part(0, 100))).toThrow(/Only rising field.*other sweep direction/);
  });

  it('turns a loop of the wrong sign and says so', () => {
    const all = request();
    const turned = magnetisationLoop({ ...all, momentAmpereM2: Array.from(all.momentAmpereM2, (m) => -m) });
    expect(codes(turned)).toContain('LOOP_SIGN');
    expect(turned.points.find((p) => p.fieldT === 1)!.jc.value / kim(1)).toBeCloseTo(1, 2);
  });

  it('refuses exchanged columns in words', () => {
    const all = request();
    expect(() =>
      magnetisationLoop({ ...all, fieldT: all.momentAmpereM2, momentAmpereM2: all.fieldT }),
    ).toThrow(/columns look exchanged/);
  });

  it('keeps a moment wrong by 1000 and says that no film carries that', () => {
    const all = request();
    const emu = { ...all, temperatureK: 77, momentAmpereM2: Array.from(all.momentAmpereM2, (m) => 1000 * m) };
    const result = magnetisationLoop(emu);
    expect(result.points.length).toBeGreaterThan(5);
    expect(codes(result)).toContain('JC_ABOVE_DEPAIRING');
  });

  it('gives a bound where the loop has closed', () => {
    const result = magnetisationLoop(
      request({ jc: (b) => (b < 2 ? 2e10 * (1 - b / 2) : 0), noiseAmpereM2: 1e-7 }),
    );
    expect(codes(result)).toContain('LOOP_CLOSED');
    expect(result.points.every((p) => p.fieldT < 2)).toBe(true);
  });

  it('has 95 % intervals that hold the truth 90 to 99 times in a hundred', () => {
    const slow = (b: number) => 2e10 * Math.exp(-b / 4);
    let held = 0;
    let total = 0;
    for (let seed = 0; seed < 200; seed++) {
      const result = magnetisationLoop(request({ jc: slow, noiseAmpereM2: 1e-6 }, FIELDS, seed));
      for (const p of result.points.filter((q) => q.fieldT >= 0.1)) {
        total++;
        if (Math.abs(p.jc.value - slow(p.fieldT)) < 1.96 * p.jc.standardUncertainty) held++;
      }
    }
    expect(total).toBeGreaterThan(2000);
    expect(held / total).toBeGreaterThanOrEqual(0.9);
    expect(held / total).toBeLessThanOrEqual(0.99);
  });

  it.each([5e-7, 1e-7, 1e-8])(
    'has 95 %% intervals that hold the truth at every field of a branch that bends, with noise %s A m2',
    (noiseAmpereM2) => {
      const held = new Map<number, number>();
      const rounds = 40;
      for (let seed = 0; seed < rounds; seed++)
        for (const p of magnetisationLoop(request({ noiseAmpereM2 }, FIELDS, seed)).points) {
          if (p.fieldT < 0.1 || p.fieldT > 4.5) continue;
          const isHeld = Math.abs(p.jc.value - kim(p.fieldT)) < 1.96 * p.jc.standardUncertainty;
          held.set(p.fieldT, (held.get(p.fieldT) ?? 0) + Number(isHeld));
        }
      expect(held.size).toBeGreaterThan(15);
      for (const [, times] of held) expect(times / rounds).toBeGreaterThanOrEqual(0.85);
    },
  );

  it('takes 2 % of a side and 7 % of the thickness where nobody states their uncertainty, and says so', () => {
    const { uncertainties: _none, ...bare } = request();
    const result = magnetisationLoop(bare);
    const point = result.points.find((p) => p.fieldT === 1)!;
    // d ln Jc by hand for 4 x 6 mm: a (12 - 4)/(4 (6 - 4/3)) = 12/7 less, b 6/(6 - 4/3) = 9/7
    const expected = Math.hypot(0.07, (0.02 * 12) / 7, (0.02 * 9) / 7);
    expect(point.jc.standardUncertainty / point.jc.value).toBeCloseTo(expected, 3);
    expect(codes(result)).toContain('GEOMETRY_UNCERTAINTY_MISSING');
  });

  it('refuses unequal columns, few rows and sides that are not above zero', () => {
    const all = request();
    expect(() => magnetisationLoop({ ...all, fieldT: [1] })).toThrow(/1 fields but/);
    expect(() => magnetisationLoop({ ...all, fieldT: [1, 2], momentAmpereM2: [1, 2] })).toThrow(
      /2 of 2 rows/,
    );
    expect(() => magnetisationLoop({ ...all, shape: { ...all.shape, thicknessM: 0 } })).toThrow(
      /thicknessM is 0 m/,
    );
  });
});
