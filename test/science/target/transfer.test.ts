import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/science/numerics/seeded-random.ts';
import { planBatch } from '../../../src/science/target/batch.ts';
import { pairDoubts } from '../../../src/science/target/pair-doubts.ts';
import { filmFromTarget, fitTransfer, targetForFilm } from '../../../src/science/target/transfer.ts';

const stated = (value: number, standardUncertainty = 0) => ({ value, standardUncertainty });
const amount = fc.double({ min: 0.1, max: 10, noNaN: true });
const factor = fc.double({ min: 0.3, max: 3, noNaN: true });
const POWDERS = [
  { formula: 'Y2O3', purity: 0.9999, lossOnDrying: 0.004 },
  { formula: 'BaCO3', purity: 0.998, lossOnDrying: 0.001 },
  { formula: 'CuO', purity: 0.999, lossOnDrying: 0.001 },
];

describe('the target for a wanted film', () => {
  it('gives the film back, weighed and deposited, within 1e-9', () => {
    fc.assert(
      fc.property(
        amount,
        amount,
        amount,
        factor,
        factor,
        fc.double({ min: 0, max: 0.5, noNaN: true }),
        (y, ba, cu, tBa, tCu, loss) => {
          const film = { Y: y, Ba: ba, Cu: cu };
          const factors = { Y: stated(1), Ba: stated(tBa), Cu: stated(tCu) };
          const losses = { Cu: stated(loss) };
          const target = targetForFilm(film, factors, losses).ratio;
          const batch = planBatch({
            cations: target,
            totalMassG: 50,
            oxygenPer123: 6.93,
            precursors: POWDERS,
            balanceStepMg: 1e-9,
          });
          const back = filmFromTarget(batch.targetRatio, factors, losses).ratio;
          for (const symbol of ['Y', 'Ba', 'Cu'] as const)
            expect(back[symbol]! / film[symbol]).toBeCloseTo(1, 9);
        },
      ),
    );
  });

  it('does not depend on a common factor of the transfer factors', () => {
    const film = { Dy: 1, Ba: 2.3, Cu: 3.8 };
    const one = targetForFilm(film, { Dy: stated(1), Ba: stated(0.9), Cu: stated(1.1) });
    const two = targetForFilm(film, { Dy: stated(3), Ba: stated(2.7), Cu: stated(3.3) });
    for (const symbol of Object.keys(film)) expect(two.ratio[symbol]).toBeCloseTo(one.ratio[symbol]!, 12);
  });

  it('is refused where nothing says how an element goes over', () => {
    expect(() =>
      targetForFilm({ Y: 1, Ba: 2, Cu: 3, Zr: 0.05 }, { Y: stated(1), Ba: stated(1), Cu: stated(1) }),
    ).toThrow(/factors\.Zr is missing/);
    expect(() => targetForFilm({ Y: 1 }, { Y: stated(0) })).toThrow(/factors\.Y is 0; allowed is above 0/);
    expect(() => targetForFilm({ Y: 1 }, { Y: stated(1) }, { Y: stated(1) })).toThrow(/losses\.Y is 1/);
  });
});

describe('transfer factors from pairs', () => {
  const target = { Y: 1, Ba: 2, Cu: 3 };

  it('are the ratio of ratios for one pair', () => {
    const fit = fitTransfer(
      [{ label: 'a', target, film: { Y: 1, Ba: 1.8, Cu: 3.3 }, filmRelativeU: 0.03, targetRelativeU: 0 }],
      'Y',
    );
    expect(fit.factors.Ba!.value).toBeCloseTo(0.9, 12);
    expect(fit.factors.Cu!.value).toBeCloseTo(1.1, 12);
    // both amounts of the quotient count: 3 % times the root of two
    expect(fit.factors.Ba!.standardUncertainty / 0.9).toBeCloseTo(0.03 * Math.SQRT2, 12);
    expect(fit.probability).toBeNull();
  });

  it('are the mean of ln ratio, their uncertainty that of a mean', () => {
    const films = [1.8, 1.9, 2.0, 2.1].map((ba) => ({ Y: 1, Ba: ba, Cu: 3 }));
    const fit = fitTransfer(
      films.map((film, i) => ({ label: String(i), target, film, filmRelativeU: 0.1, targetRelativeU: 0 })),
      'Y',
    );
    const mean = films.reduce((sum, { Ba }) => sum + Math.log(Ba / 2), 0) / 4;
    expect(Math.log(fit.factors.Ba!.value)).toBeCloseTo(mean, 12);
    expect(fit.factors.Ba!.standardUncertainty / fit.factors.Ba!.value).toBeCloseTo(
      (0.1 * Math.SQRT2) / 2,
      12,
    );
  });

  it('do not move with the element that is set to 1, but for their common factor', () => {
    const pairs = [
      { label: 'a', target, film: { Y: 1, Ba: 1.8, Cu: 3.1 }, filmRelativeU: 0.02, targetRelativeU: 0.01 },
      { label: 'b', target, film: { Y: 1.1, Ba: 2, Cu: 3.3 }, filmRelativeU: 0.02, targetRelativeU: 0.01 },
    ];
    const [byY, byCu] = ['Y', 'Cu'].map((reference) => fitTransfer(pairs, reference).factors);
    expect(byCu!.Ba!.value / byCu!.Y!.value).toBeCloseTo(byY!.Ba!.value, 10);
  });

  it('hold the next film in their interval 95 times of 100', () => {
    const truth = { Ba: Math.log(0.92), Cu: Math.log(1.05) };
    let [inside, all] = [0, 0];
    for (let seed = 0; seed < 600; seed++) {
      const random = seededRandom(seed);
      const film = () => {
        const [y, ba, cu] = [0, truth.Ba, truth.Cu].map((ln) => Math.exp(ln + 0.03 * random.normal()));
        return { Y: y!, Ba: 2 * ba!, Cu: 3 * cu! };
      };
      const pairs = Array.from({ length: 5 }, (_, i) => ({
        label: String(i),
        target,
        film: film(),
        filmRelativeU: 0.03,
        targetRelativeU: 0,
      }));
      const { nextFilm } = fitTransfer(pairs, 'Y');
      const next = film();
      for (const [symbol, per] of [
        ['Ba', 2],
        ['Cu', 3],
      ] as const) {
        const found = next[symbol] / per / next.Y;
        all++;
        if (found >= nextFilm[symbol]!.low && found <= nextFilm[symbol]!.high) inside++;
      }
    }
    // the Birge ratio only widens, so a little above 95 %
    expect(inside / all).toBeGreaterThan(0.93);
    expect(inside / all).toBeLessThan(0.995);
  });

  it('stay as uncertain as the one target behind all films, however many there are', () => {
    let [inside, all] = [0, 0];
    for (let seed = 0; seed < 400; seed++) {
      const random = seededRandom(seed);
      const off = (u: number) => Math.exp(u * random.normal());
      const measured = { Y: off(0.03), Ba: 2 * off(0.03), Cu: 3 * off(0.03) };
      const pairs = Array.from({ length: 10 }, (_, i) => ({
        label: String(i),
        target: measured,
        film: { Y: off(0.01), Ba: 1.84 * off(0.01), Cu: 3.15 * off(0.01) },
        filmRelativeU: 0.01,
        targetRelativeU: 0.03,
      }));
      const { factors } = fitTransfer(pairs, 'Y');
      for (const [symbol, truth] of [
        ['Ba', 0.92],
        ['Cu', 1.05],
      ] as const) {
        const { value, standardUncertainty } = factors[symbol]!;
        all++;
        if (Math.abs(value - truth) < 1.96 * standardUncertainty) inside++;
      }
    }
    expect(inside / all).toBeGreaterThan(0.92); // 0.5 if each film counted the target anew
    expect(inside / all).toBeLessThan(0.99);
  });

  it('of two targets weigh films of one together: 1/(u_f^2/k + u_t^2) each', () => {
    const pair = (label: string, ba: number, film: number) => ({
      label,
      target: { Y: 1, Ba: ba },
      film: { Y: 1, Ba: film },
      filmRelativeU: { Y: 1e-9, Ba: 0.02 },
      targetRelativeU: { Y: 0, Ba: 0.03 },
    });
    const { factors } = fitTransfer(
      [pair('a', 2, 2), pair('b', 2, 2), pair('c', 2, 2), pair('d', 2.5, 2.6)],
      'Y',
    );
    const [many, one] = [1 / (0.02 ** 2 / 3 + 0.03 ** 2), 1 / (0.02 ** 2 + 0.03 ** 2)];
    expect(factors.Ba!.value).toBeCloseTo(Math.exp((one * Math.log(1.04)) / (many + one)), 9);
    expect(factors.Ba!.standardUncertainty / factors.Ba!.value).toBeCloseTo(1 / Math.sqrt(many + one), 9);
  });

  it('are refused where an uncertainty is so small that its square is lost', () => {
    const pair = { label: 'a', target: { Y: 1, Ba: 2 }, film: { Y: 1, Ba: 2 }, filmRelativeU: 1e-300 };
    expect(() => fitTransfer([{ ...pair, targetRelativeU: 0 }], 'Y')).toThrow(
      'pairs[0].filmRelativeU is 1e-300; allowed is 1e-12 to below 1.',
    );
  });

  it('grow where films scatter by more than was stated', () => {
    const pairs = [1.6, 2.0, 2.4].map((ba, i) => ({
      label: String(i),
      target,
      film: { Y: 1, Ba: ba, Cu: 3 },
      filmRelativeU: 0.01,
      targetRelativeU: 0,
    }));
    const fit = fitTransfer(pairs, 'Y');
    expect(fit.probability).toBeLessThan(1e-6);
    expect(fit.factors.Ba!.standardUncertainty).toBeGreaterThan(0.05);
  });

  it('are refused where the data cannot say', () => {
    const pair = {
      label: 'a',
      target,
      film: { Y: 1, Ba: 2, Cu: 3, Zr: 0.1 },
      filmRelativeU: 0.02,
      targetRelativeU: 0,
    };
    expect(() => fitTransfer([pair], 'Y')).toThrow(/No pair holds Zr both in target and film/);
    expect(() => fitTransfer([{ ...pair, film: { Ba: 2, Cu: 3 } }], 'Y')).toThrow(/lacks the reference Y/);
    expect(() => fitTransfer([{ ...pair, film: target, filmRelativeU: 0 }], 'Y')).toThrow(
      /filmRelativeU is 0/,
    );
  });

  it('are refused where there is one element alone, or an uncertainty is missing', () => {
    const alone = { label: 'a', target: { Y: 1 }, film: { Y: 1 }, filmRelativeU: 0.02, targetRelativeU: 0 };
    expect(() => fitTransfer([alone], 'Y')).toThrow(/hold Y alone: with one element there is no ratio/);
    const pair = {
      label: 'a',
      target,
      film: target,
      filmRelativeU: { Y: 0.01, Ba: 0.02 },
      targetRelativeU: 0,
    };
    expect(() => fitTransfer([pair], 'Y')).toThrow(/pairs\[0\]\.filmRelativeU\.Cu is NaN/);
  });
});

describe('doubts about pairs', () => {
  const pair = (label: string, ba: number, target: Record<string, number> = { Y: 1, Ba: 2, Cu: 3 }) => ({
    label,
    target,
    film: { Y: 1, Ba: ba, Cu: 3 },
    filmRelativeU: 0.02,
    targetRelativeU: 0,
  });
  const codes = (pairs: Parameters<typeof pairDoubts>[0]) => pairDoubts(pairs).map(({ code }) => code);

  it('ask about a film entered twice, by its numbers or by its name', () => {
    const other = { Y: 1, Ba: 2.2, Cu: 3.2 };
    expect(codes([pair('a', 1.9), pair('b', 1.9), pair('c', 2.1, other)])).toEqual(['PAIR_TWICE']);
    expect(codes([pair('a', 1.9), pair('a', 2, other)])).toEqual(['LABEL_TWICE']);
    const doubled = { ...pair('b', 1.9), film: { Y: 2, Ba: 3.8, Cu: 6 } }; // the same ratio, another sum
    expect(codes([pair('a', 1.9), doubled, pair('c', 2.1, other)])).toEqual(['PAIR_TWICE']);
  });

  it('say that one target alone tells nothing of a change of target', () => {
    expect(codes([pair('a', 1.9), pair('b', 2)])).toEqual(['TARGETS_ALIKE']);
    expect(codes([pair('a', 1.9)])).toEqual([]);
    expect(codes([pair('a', 1.9), pair('b', 2, { Y: 1, Ba: 2.2, Cu: 3 })])).toEqual([]);
  });
});
