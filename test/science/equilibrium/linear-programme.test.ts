// The same minimum by a linear programme of a library, over every solid and a fine sample of melts written on their own.
import fc from 'fast-check';
import loadHighs from 'highs';
import { describe, expect, it } from 'vitest';
import { LIQUID, phaseSystem } from '../../../src/science/equilibrium/phase-system.ts';
import { pointEquilibrium } from '../../../src/science/equilibrium/point-equilibrium.ts';
import { printedMelt } from '../../simulate/melt-energy.ts';
import { conditionsArb, type Shares, sharesArb } from './drawn-conditions.ts';

const N_CONDITIONS = 200;
const N_COMPOSITIONS = 10;
/** Melts sampled: RE in even steps of its logarithm and Ba in even steps, and the edge without RE. */
const SAMPLE: readonly (readonly [number, number])[] = [
  0,
  ...Array.from({ length: 11 }, (_, i) => 10 ** (-5 + (4.6 * i) / 10)),
].flatMap((y) => Array.from({ length: 24 }, (_, j): [number, number] => [y, ((j + 0.5) / 24) * (1 - y)]));

/** Costs of about 1 keep the dual numbers of the library small. */
const J_PER_COST = 10_000;

const highs = await loadHighs();

interface Columns {
  shares: Shares[];
  heights: number[];
  names: string[];
}

/** Least energy of a mixture with the given cations, and the share of each phase. */
function solved({ shares, heights, names }: Columns, at: Shares) {
  const n = heights.length;
  return highs.withModel((model) => {
    model.options.set({
      output_flag: false,
      presolve: 'off',
      solver: 'simplex',
      primal_feasibility_tolerance: 1e-10,
      dual_feasibility_tolerance: 1e-10,
    });
    model.passModel({
      numCols: n,
      numRows: 3,
      colCost: Float64Array.from(heights, (height) => height / J_PER_COST),
      colLower: new Float64Array(n),
      colUpper: new Float64Array(n).fill(2),
      rowLower: Float64Array.from(at),
      rowUpper: Float64Array.from(at),
      matrix: {
        format: 'csc',
        numCols: n,
        numRows: 3,
        starts: Int32Array.from({ length: n + 1 }, (_, i) => 3 * i),
        indices: Int32Array.from({ length: 3 * n }, (_, i) => i % 3),
        values: Float64Array.from(shares.flat(), (share) => (share < 1e-8 ? 0 : share)), // HiGHS drops smaller ones itself
      },
    });
    model.run();
    const amounts = model.getSolution().colValue!;
    const parts = new Map<string, number>();
    names.forEach((name, i) => {
      if (amounts[i]! > 0) parts.set(name, (parts.get(name) ?? 0) + amounts[i]!);
    });
    return { energy: J_PER_COST * model.getObjectiveValue(), parts };
  });
}

describe('pointEquilibrium beside a linear programme (HiGHS)', () => {
  it(`has its energy and its phases at ${N_CONDITIONS * N_COMPOSITIONS} random points`, () => {
    const places = fc.sample(
      fc.tuple(conditionsArb, fc.array(sharesArb, { minLength: N_COMPOSITIONS, maxLength: N_COMPOSITIONS })),
      { numRuns: N_CONDITIONS, seed: 20 },
    );
    let withLiquid = 0;
    let otherSets = 0;
    for (const [{ member, conditions }, compositions] of places) {
      const system = phaseSystem(member, conditions);
      const columns: Columns = { shares: [], heights: [], names: [] };
      const add = (name: string, shares: Shares, height: number): void => {
        columns.names.push(name);
        columns.shares.push(shares);
        columns.heights.push(height);
      };
      system.names.forEach((name, i) => {
        const [re, ba, cu] = [0, 1, 2].map((k) => system.shares[3 * i + k]!) as [number, number, number];
        if (system.isFree[i]) add(name, [re, ba, cu], system.heights[i]!);
      });
      const offset = conditions.offsetsJPerMol?.[LIQUID] ?? 0;
      const melt = (y: number, b: number): number =>
        printedMelt(member.melt, conditions.temperatureK, conditions.po2Atm, y, b).omega + offset;
      if (system.isMeltFree) for (const [y, b] of SAMPLE) add(LIQUID, [y, b, 1 - y - b], melt(y, b));
      const nSampled = columns.names.length;
      for (const shares of compositions) {
        const found = pointEquilibrium(system, shares);
        for (const { name, composition } of found.phases) {
          if (name === LIQUID) add(name, composition, melt(composition[0], composition[1]));
        }
        const ours = shares.reduce((sum, share, k) => sum + (share > 0 ? share * found.plane[k]! : 0), 0);
        const { energy, parts } = solved(columns, shares);
        // the melts found are among the columns: no sample may lie lower, and nothing be left to gain
        const isOneMelt = found.phases.length === 1 && found.phases[0]!.name === LIQUID; // may stand for two close ones
        expect(energy).toBeGreaterThan(ours - 1e-3);
        expect(energy).toBeLessThan(ours + (isOneMelt ? 5 : 1e-3));
        const oursBy = new Map<string, number>();
        for (const { name, share } of found.phases) oursBy.set(name, (oursBy.get(name) ?? 0) + share);
        const differs = [...new Set([...parts.keys(), ...oursBy.keys()])].some(
          (name) => Math.abs((parts.get(name) ?? 0) - (oursBy.get(name) ?? 0)) > 1e-3,
        );
        if (differs) otherSets++;
        if (oursBy.has(LIQUID)) withLiquid++;
        for (const list of [columns.names, columns.shares, columns.heights]) list.length = nSampled;
      }
    }
    expect(withLiquid).toBeGreaterThan(300); // the melt took part
    expect(otherSets).toBe(0);
  });
});
