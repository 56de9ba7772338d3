import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  activitiesOfPotentials,
  dose,
  filmAmounts,
  fluxesAlong,
  lossOver,
  oxygenNeededFor,
  type SurfaceChemistry,
} from '../../../src/science/growth/evaporation.ts';
import { fitLoss, statedLosses } from '../../../src/science/growth/evaporation-budget.ts';
import { placeSegments, samplePath } from '../../../src/science/growth/path.ts';
import {
  bariumFlux,
  copperFlux,
  layerFlux,
  lineDoubtDecades,
  linePressurePa,
  lossFlux,
  metalLimitLog10Po2,
  molecularFlux,
} from '../../../src/science/growth/vapour.ts';

const FREE = { sticking: 1, layer: null };
const at = (temperatureC: number, po2Atm: number, waterPa = 0) => ({
  temperatureK: temperatureC + 273.15,
  po2Atm,
  activityBaO: 1,
  activityCu: 1,
  waterPa,
});
const FILM = filmAmounts({ Y: 1, Ba: 2, Cu: 3 }, 1e-6);

function held(temperatureC: number, durationS: number, po2Atm = 1e-5) {
  const start = { temperatureC, po2Atm };
  return samplePath(placeSegments(start, [{ kind: 'hold', durationS }]), start);
}
function chemistryFor(n: number, sticking = 1): SurfaceChemistry {
  const one = new Float64Array(n).fill(1);
  return {
    activityBaO: one,
    activityCu: one,
    waterPa: 0,
    sticking,
    layer: null,
    surfaceLog10Po2: 'as the path',
  };
}
const NO_DOUBTS = { temperatureK: 0, log10Po2: 0, sticking: 0, activityBa: 0, activityCu: 0, thickness: 0 };

describe('the vapour over a film', () => {
  it('of copper over Cu2O falls as the fourth root of pO2', () => {
    const ratio = copperFlux(at(850, 1e-7), FREE) / copperFlux(at(850, 1e-5), FREE);
    expect(Math.log10(ratio) / 2).toBeCloseTo(0.25, 3);
  });

  it('of copper does not rise further once the surface is metal, nor jump there', () => {
    const limit = 10 ** metalLimitLog10Po2(1123.15);
    expect(copperFlux(at(850, limit / 100), FREE) / copperFlux(at(850, limit), FREE)).toBeCloseTo(1, 4);
    expect(copperFlux(at(850, limit * 1.0001), FREE) / copperFlux(at(850, limit), FREE)).toBeCloseTo(1, 3);
  });

  it('of barium is one of two published lines, four to fifteen times apart below 1200 K', () => {
    for (const temperatureC of [750, 800, 850, 900]) {
      const ratio =
        bariumFlux('BaO-1939', at(temperatureC, 1e-5), FREE) /
        bariumFlux('BaO-1968', at(temperatureC, 1e-5), FREE);
      expect(ratio).toBeGreaterThan(3.5);
      expect(ratio).toBeLessThan(15);
    }
  });

  it('is doubted more, the further the line is extrapolated', () => {
    expect(lineDoubtDecades('BaO-1968', 1000)).toBeGreaterThan(lineDoubtDecades('BaO-1968', 1200));
    expect(lineDoubtDecades('BaO-1968', 1640)).toBe(0.1);
  });

  it('with 1 Pa of water at 900 degC carries more barium as hydroxide than as oxide', () => {
    expect(bariumFlux('BaO-1939', at(900, 1e-5, 1), FREE)).toBeGreaterThan(
      2 * bariumFlux('BaO-1939', at(900, 1e-5), FREE),
    );
  });

  it('behind a thick layer of gas is what diffuses through it, and behind none what leaves freely', () => {
    const layer = { thicknessM: 0.01, diffusivityM2PerS: 2e-5, totalPressurePa: 101325 };
    const free = molecularFlux(1e-3, 0.0635, 1123);
    const through = lossFlux(1e-3, 0.0635, 1123, 1, layer);
    expect(through / layerFlux(1e-3, 1123, layer)).toBeCloseTo(1, 2);
    expect(free / through).toBeGreaterThan(500); // of the order of 1e3 at 1 atm
    expect(lossFlux(1e-3, 0.0635, 1123, 1, { ...layer, thicknessM: 1e-12 }) / free).toBeCloseTo(1, 4);
  });

  it('of copper agrees within a tenth between the two lines for the metal', () => {
    for (const temperatureK of [1073, 1173, 1273])
      expect(
        linePressurePa('Cu-coefficients', temperatureK) / linePressurePa('Cu-1984', temperatureK),
      ).toBeCloseTo(1, 0.8);
  });
});

describe('potentials', () => {
  it('of zero against BaO and of the stablest copper oxide are unit activities', () => {
    expect(activitiesOfPotentials(1123, 1, 0, 0)).toEqual({ activityBaO: 1, activityCu: 1 }); // CuO is stable at 1 atm
    const low = activitiesOfPotentials(1123, 1e-5, -20000, -20000);
    expect(low.activityBaO).toBeCloseTo(Math.exp(-20000 / (8.314462618 * 1123)), 12);
    expect(low.activityCu).toBeLessThan(1);
  });
});

describe('what a film loses', () => {
  it('holds as many cations as 123 of its thickness: 1.15e22 Ba in 1 um', () => {
    expect((FILM.ba * 6.02214076e23) / 1e22).toBeCloseTo(1.152, 3);
    expect(FILM.cu / FILM.re).toBeCloseTo(3, 12);
  });

  it('goes as 1/thickness, and first order never loses more than a constant activity', () => {
    const path = held(900, 3600);
    const fluxes = fluxesAlong(path, chemistryFor(path.timeS.length));
    fc.assert(
      fc.property(fc.double({ min: 1e-8, max: 1e-5, noNaN: true }), (thicknessM) => {
        const film = filmAmounts({ Y: 1, Ba: 2, Cu: 3 }, thicknessM);
        const { cu } = lossOver(path.timeS, { ba: fluxes.ba1939, cu: fluxes.cu }, film, 1);
        const share = dose(path.timeS, fluxes.cu) / film.cu;
        expect(cu.firstOrder).toBeCloseTo(1 - Math.exp(-share), 9);
        expect(cu.firstOrder).toBeLessThanOrEqual(cu.constant);
        expect(cu.falling).toBeGreaterThanOrEqual(0);
        expect(cu.falling).toBeLessThanOrEqual(1);
      }),
      { numRuns: 40 },
    );
  });

  it('is a quarter of the copper of 1 um in an hour at 900 degC and 1e-5 bar, and under half a percent of the barium', () => {
    const path = held(900, 3600, 1e-5 / 1.01325);
    const fluxes = fluxesAlong(path, chemistryFor(path.timeS.length));
    const { cu, ba } = lossOver(path.timeS, { ba: fluxes.ba1939, cu: fluxes.cu }, FILM, 1);
    expect(cu.firstOrder).toBeGreaterThan(0.22);
    expect(cu.firstOrder).toBeLessThan(0.28);
    expect(ba.firstOrder).toBeLessThan(0.005);
  });

  it('with a steep falling activity loses less, with none the constant loss', () => {
    const path = held(900, 3600);
    const fluxes = fluxesAlong(path, chemistryFor(path.timeS.length));
    const by = (exponent: number) =>
      lossOver(path.timeS, { ba: fluxes.ba1939, cu: fluxes.cu }, FILM, exponent).cu;
    expect(by(4).falling).toBeLessThan(by(1).falling);
    expect(by(0).falling / by(0).constant).toBeCloseTo(1, 2);
  });

  it('spreads to first order as simulated paths do', () => {
    const path = held(850, 600);
    const n = path.timeS.length;
    const doubts = { ...NO_DOUBTS, temperatureK: 5 };
    const { cu } = statedLosses(path, chemistryFor(n), FILM, 1, doubts);
    const shifted = (kelvin: number) => {
      const hot = { ...path, temperatureK: path.temperatureK.map((each) => each + kelvin) };
      return -Math.expm1(-dose(hot.timeS, fluxesAlong(hot, chemistryFor(n)).cu) / FILM.cu);
    };
    const line = cu.firstOrder.value * Math.LN10 * lineDoubtDecades('Cu-coefficients', 1123.15);
    expect(cu.firstOrder.standardUncertainty).toBeCloseTo(
      Math.hypot((shifted(5) - shifted(-5)) / 2, line),
      4,
    );
  });

  it('is fitted back from simulated compositions, and a Ba loss from elsewhere is told', () => {
    const pairs = [600, 1800, 3600].map((durationS) => {
      const path = held(880, durationS);
      const chemistry = chemistryFor(path.timeS.length);
      const fluxes = fluxesAlong(path, chemistry);
      return {
        before: { Y: 1, Ba: 2, Cu: 3 },
        after: {
          Y: 1,
          Ba: 2 * 0.95,
          Cu: 3 * Math.exp((-0.3 * dose(path.timeS, fluxes.cu)) / FILM.cu),
        },
        relativeRatioU: 0.01,
        thicknessM: 1e-6,
        path,
        chemistry,
      };
    });
    expect(fitLoss(pairs, 'cu').scale.value).toBeCloseTo(0.3, 9);
    const barium = fitLoss(pairs, 'ba1968').scale;
    expect(barium.value - 2 * barium.standardUncertainty!).toBeGreaterThan(1);
  });

  it('needs the oxygen potential at which the model loses as much', () => {
    const path = held(850, 3600, 1e-3);
    const chemistry = chemistryFor(path.timeS.length);
    const lost = -Math.expm1(
      -dose(path.timeS, fluxesAlong(path, { ...chemistry, surfaceLog10Po2: -6 }).cu) / FILM.cu,
    );
    expect(oxygenNeededFor(path, chemistry, FILM, lost)).toBeCloseTo(-6, 2);
    expect(oxygenNeededFor(path, chemistry, FILM, 0.999)).toBeNull();
  });

  it('is refused without a thickness and without a pair', () => {
    expect(() => filmAmounts({ Y: 1 }, 0)).toThrow(/thicknessNm is 0; allowed is above 0/);
    expect(() => fitLoss([], 'cu')).toThrow(/No pair/);
  });
});
