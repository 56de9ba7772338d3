import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fieldName } from '../../../src/science/equilibrium/assemblage.ts';
import { bordersOf, diagramOf, phasesAt, tieTrianglesOf } from '../../../src/science/equilibrium/diagram.ts';
import { LIQUID, phaseSystem } from '../../../src/science/equilibrium/phase-system.ts';
import { pointEquilibrium } from '../../../src/science/equilibrium/point-equilibrium.ts';
import { at, conditionsArb, MEMBERS, type Shares, sharesArb } from './drawn-conditions.ts';

describe('diagramOf', () => {
  it('has the field and the phase shares of the exact point, but for slivers along a border', () => {
    const places = fc.sample(fc.tuple(conditionsArb, fc.array(sharesArb, { minLength: 40, maxLength: 40 })), {
      numRuns: 100,
      seed: 30,
    });
    let others = 0;
    let worst = 0;
    let misplaced = 0;
    for (const [{ member, conditions }, compositions] of places) {
      const system = phaseSystem(member, conditions);
      const diagram = diagramOf(system);
      for (const shares of compositions) {
        const exact = pointEquilibrium(system, shares);
        const { phases } = phasesAt(diagram, ...shares);
        const shareIn = (list: readonly { name: string; share: number }[], name: string): number =>
          list.reduce((sum, phase) => sum + (phase.name === name ? phase.share : 0), 0);
        const names = new Set([...phases, ...exact.phases].map(({ name }) => name));
        const most = Math.max(
          ...[...names].map((name) => Math.abs(shareIn(phases, name) - shareIn(exact.phases, name))),
        );
        worst = Math.max(worst, most);
        if (most > 0.01) misplaced++;
        if (fieldName(phases) !== fieldName(exact.phases)) {
          others++;
          // a phase that only one of them has is a sliver
          for (const name of names) {
            const [p, q] = [shareIn(phases, name), shareIn(exact.phases, name)];
            if (p === 0 || q === 0) expect(Math.max(p, q)).toBeLessThan(0.02);
          }
        }
      }
    }
    expect(others).toBeLessThan(0.005 * 4000);
    // near pure CuO a tie line to the melt is long and the melt's edge nearly straight: 1 J moves the share most there
    expect(misplaced).toBeLessThan(0.005 * 4000);
    expect(worst).toBeLessThan(0.2);
  });

  it('lies above the exact energy by no more than its sampling, and never below it', () => {
    const places = fc.sample(fc.tuple(conditionsArb, fc.array(sharesArb, { minLength: 20, maxLength: 20 })), {
      numRuns: 60,
      seed: 31,
    });
    for (const [{ member, conditions }, compositions] of places) {
      const system = phaseSystem(member, conditions);
      const diagram = diagramOf(system);
      for (const shares of compositions) {
        const { plane } = pointEquilibrium(system, shares);
        const exact = shares.reduce((sum, share, k) => sum + (share > 0 ? share * plane[k]! : 0), 0);
        const { facet } = phasesAt(diagram, ...shares);
        const ours = -diagram.hull.heightAbove(facet, ...shares, 0);
        expect(ours).toBeGreaterThan(exact - 0.02);
        expect(ours).toBeLessThan(exact + 15.01); // what the melt alone may lie above
      }
    }
  });

  it('tiles the whole triangle, each facet once', () => {
    for (const [temperatureC, po2Atm] of [
      [850, 0.21],
      [1000, 0.21],
      [900, 1e-4],
    ] as const) {
      const { hull } = diagramOf(phaseSystem(MEMBERS[3]!, at(temperatureC, po2Atm)));
      let area = 0;
      for (let facet = 0; facet < hull.facetCount; facet++) {
        if (!hull.isAlive[facet]) continue;
        const [p, q, r] = [0, 1, 2].map((k) => {
          const point = hull.corners[3 * facet + k]!;
          return [hull.shares[3 * point]!, hull.shares[3 * point + 1]!] as const;
        }) as [readonly [number, number], readonly [number, number], readonly [number, number]];
        area += Math.abs((q[0] - p[0]) * (r[1] - p[1]) - (r[0] - p[0]) * (q[1] - p[1]));
      }
      expect(area).toBeCloseTo(1, 9);
    }
  });

  it('is convex to 0.05 J: no point of it lies below any of its planes', () => {
    for (const member of MEMBERS.slice(0, 6)) {
      const { hull } = diagramOf(phaseSystem(member, at(980, 0.1)));
      for (let facet = 0; facet < hull.facetCount; facet++) {
        if (!hull.isAlive[facet]) continue;
        for (let point = 0; point < hull.heights.length; point++) {
          const [a, b, c] = [0, 1, 2].map((k) => hull.shares[3 * point + k]!) as [number, number, number];
          expect(hull.heightAbove(facet, a, b, c, hull.heights[point]!)).toBeGreaterThan(-0.05);
        }
      }
    }
  });

  it('draws tie triangles of three different phases whose own middle holds those three', () => {
    const system = phaseSystem(MEMBERS[4]!, at(960, 0.21));
    const diagram = diagramOf(system);
    const triangles = tieTrianglesOf(diagram);
    expect(triangles.some(({ phases }) => phases.includes(LIQUID))).toBe(true);
    for (const { phases, corners } of triangles) {
      const middle = [0, 1, 2].map(
        (k) => corners.reduce((sum, point) => sum + diagram.hull.shares[3 * point + k]!, 0) / 3,
      ) as unknown as Shares;
      expect(phasesAt(diagram, ...middle).phases.map(({ name }) => name)).toEqual(phases);
    }
  });

  it('draws the edge of the melt between different fields, and none where the melt is held back', () => {
    const borders = bordersOf(diagramOf(phaseSystem(MEMBERS[4]!, at(960, 0.21))));
    expect(borders.length).toBeGreaterThan(5);
    for (const { fields } of borders) {
      expect(fields[0]).not.toBe(fields[1]);
      expect(fields.every((field) => field.includes(LIQUID))).toBe(true);
    }
    const held = diagramOf(phaseSystem(MEMBERS[4]!, at(960, 0.21, { heldBack: [LIQUID] })));
    expect(bordersOf(held)).toEqual([]);
    expect(held.names).not.toContain(LIQUID);
  });
});
