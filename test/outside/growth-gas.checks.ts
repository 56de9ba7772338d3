// Growth beside published numbers: what fills and leaves a chamber, vapour, gas, and how a film lags.
import { cumulativeStdNormalProbability, linearRegression } from 'simple-statistics';
import { GAS_CONSTANT } from '../../src/science/equilibrium/oxygen.ts';
import { pathAtFilm, pressureAfterPa, throughputPaM3PerS } from '../../src/science/growth/chamber.ts';
import { fluenceJPerM2 } from '../../src/science/growth/deposition.ts';
import { arrivalLimitMPerS, layerLimitMPerS } from '../../src/science/growth/limit.ts';
import { ATM_PER_UNIT } from '../../src/science/growth/oxygen-range.ts';
import { diffusionLine } from '../../src/science/growth/oxygenation.ts';
import { thicknessShareAt } from '../../src/science/growth/plume.ts';
import {
  copperFlux,
  gasDiffusivityM2PerS,
  layerFlux,
  linePressurePa,
  lossFlux,
} from '../../src/science/growth/vapour.ts';
import { propagate } from '../../src/science/numerics/propagate.ts';
import { studentBound } from '../../src/science/numerics/student-t.ts';
import { GAS_DIFFUSION } from '../../src/science/tables/gas-diffusion.ts';
import { OXYGEN_DIFFUSION } from '../../src/science/tables/oxygen-diffusion.ts';
import type { OutsideCheck } from './outside-check.ts';

const AVOGADRO = 6.02214076e23;
const PA_PER_TORR = 133.322;

/** Temperature at which a pressure of copper is reached, degC, by bisection of its line. */
function copperReachesC(pressureTorr: number): number {
  let [low, high] = [600, 1600];
  while (high - low > 1e-6) {
    const middle = (low + high) / 2;
    if (linePressurePa('Cu-coefficients', middle) < pressureTorr * PA_PER_TORR) low = middle;
    else high = middle;
  }
  return low - 273.15;
}

/** What a film follows of a step of temperature after so many time constants, %. */
function followedPercent(timeConstants: number): number {
  const film = pathAtFilm(
    {
      timeS: Float64Array.of(0, 0, 10 * timeConstants),
      temperatureK: Float64Array.of(300, 400, 400),
      log10Po2Atm: Float64Array.of(-1, -1, -1),
    },
    null,
    10,
  );
  return film.temperatureK[2]! - 300;
}

/** Line of ln D over 1/T of the tabulated points along ab, by a library. */
const libraryLine = () =>
  linearRegression(
    OXYGEN_DIFFUSION.records.flatMap((record) =>
      record.kind === 'point' ? [[1 / (record.temperatureC + 273.15), Math.log(record.d)]] : [],
    ),
  );

const SUPERSATURATION = [
  { value: 336, standardUncertainty: 40 },
  { value: 286, standardUncertainty: 20 },
];

const TRANSPORT_PAGE =
  'an online calculator of mass diffusion, preset of He and N2 (20 degC, 7.2e-5 m2/s, 0.2 m, 60 to 20 kPa)';

export const CHECKS: readonly OutsideCheck[] = [
  {
    functionName: 'linePressurePa',
    quantity: 'temperature at which copper has 1e-4 Torr',
    source: 'thin film evaporation reference of a university clean room, table: Cu 1017 degC at 1e-4 Torr',
    provenance: 'looked-up',
    expected: '1017',
    unit: 'degC',
    got: () => copperReachesC(1e-4),
    tolerance: 10,
    toleranceReason: 'the table was drawn from older pressures; 10 degC are 0.1 decade',
  },
  {
    functionName: 'copperFlux',
    quantity: 'copper that leaves metal at 1300 K where a Langmuir experiment found it, log10 of g/(cm2 s)',
    source:
      'D. Bariaux, A. Ponslet, Bull. Classe Sci. (1966), loss of mass of a copper sphere: coefficient of evaporation 1, log p(mm) = 9.20 - 1.70e4/T, as a rate by Z = 3.5e22 p[Torr]/sqrt(M T)',
    provenance: 'looked-up',
    expected: '-5.77',
    unit: 'log10 g/(cm2 s)',
    got: () =>
      Math.log10(
        (copperFlux(
          { temperatureK: 1300, po2Atm: 1e-12, activityBaO: 1, activityCu: 1, waterPa: 0 },
          { sticking: 1, layer: null },
        ) *
          63.546) /
          1e4,
      ),
    tolerance: 0.08,
    toleranceReason: 'the printed 9.20 and 1.70e4 are known to half a place: 0.04 in log p',
  },
  {
    functionName: 'layerFlux',
    quantity: 'diffusion of a gas through a layer of another',
    source: TRANSPORT_PAGE,
    provenance: 'looked-up',
    expected: '5.9080e-3',
    unit: 'mol/(m2 s)',
    got: () =>
      layerFlux(40_000, 293.15, { thicknessM: 0.2, diffusivityM2PerS: 7.2e-5, totalPressurePa: 101325 }),
    tolerance: 2e-6,
    toleranceReason: 'the page works with 101.33 kPa and four digits of R',
  },
  {
    functionName: 'lossFlux',
    quantity:
      'flux through a layer so thick that the surface does not count, as its mass transfer coefficient',
    source: TRANSPORT_PAGE,
    provenance: 'looked-up',
    expected: '3.6000e-4',
    unit: 'm/s',
    got: () =>
      lossFlux(1, 0.004, 293.15, 1, { thicknessM: 0.2, diffusivityM2PerS: 7.2e-5, totalPressurePa: 101325 }) *
      GAS_CONSTANT *
      293.15,
  },
  {
    functionName: 'layerLimitMPerS',
    quantity: 'growth fed through a layer, turned back into the flux of O2',
    source: `${TRANSPORT_PAGE}; its flux, two atoms a molecule`,
    provenance: 'derived',
    expected: '5.9080e-3',
    unit: 'mol/(m2 s)',
    got: () =>
      (layerLimitMPerS(
        40_000,
        293.15,
        { totalPressurePa: 101325, boundaryM: 0.2, diffusivity: 7.2e-5 },
        1,
        9568,
      ) *
        9568) /
      2,
    tolerance: 2e-6,
    toleranceReason: 'as above',
  },
  {
    functionName: 'arrivalLimitMPerS',
    quantity: 'coefficient of the rate at which a gas strikes a surface, from oxygen that feeds growth',
    source:
      'an online tool for exposure of surfaces, technical explanation: Z = 3.5e22 p[Torr]/sqrt(M T) /cm2 s',
    provenance: 'looked-up',
    expected: '3.5e22',
    unit: 'sqrt(K g/mol)/(Torr cm2 s)',
    got: () =>
      ((arrivalLimitMPerS(PA_PER_TORR, 1100, 1, 1, 9568) * 9568 * AVOGADRO) / 2 / 1e4) *
      Math.sqrt(31.998 * 1100),
  },
  {
    functionName: 'gasDiffusivityM2PerS',
    quantity: 'O2 in N2 at 273.2 K from the tabulated value at 293 K',
    source:
      'R. Bird, W. Stewart, E. Lightfoot, Transport Phenomena, table 17.1-1: N2-O2 0.181 cm2/s at 273.2 K',
    provenance: 'looked-up',
    expected: '0.181',
    unit: 'cm2/s',
    got: () =>
      1e4 *
      gasDiffusivityM2PerS(GAS_DIFFUSION.records.find(({ id }) => id === 'N2')!.d * 1e-4, 273.2, 101325),
    tolerance: 0.003,
    toleranceReason: 'two measurements, 1.5 % apart',
  },
  {
    functionName: 'pressureAfterPa',
    quantity: 'pressure in 1 m3 after 46 s at 0.1 m3/s from 1000 mbar',
    source: 'an engineering reference site, evacuation time, third example: 10 mbar after 46 s',
    provenance: 'looked-up',
    expected: '10',
    unit: 'mbar',
    got: () => pressureAfterPa(1000, 46, 1, 0, 0.1),
  },
  {
    functionName: 'throughputPaM3PerS',
    quantity: 'throughput of one flow at 20 degC over that at 0 degC',
    source: 'an engineer on units of mass flow controllers, of 0 and 20 degC: (273 + 20)/273 = 1.073',
    provenance: 'looked-up',
    expected: '1.073',
    unit: '1',
    got: () => throughputPaM3PerS(1, 293.15) / throughputPaM3PerS(1, 273.15),
  },
  {
    functionName: 'throughputPaM3PerS',
    quantity: '1 sccm as an amount a time',
    source: 'R. Berg, T. Gooding, R. Vest, Flow Meas. Instrum. (2013), abstract: 1 sccm is about 0.7 umol/s',
    provenance: 'looked-up',
    expected: '0.7',
    unit: 'umol/s',
    got: () => (1e6 * throughputPaM3PerS(1, 273.15)) / (GAS_CONSTANT * 273.15),
  },
  {
    functionName: 'ATM_PER_UNIT',
    quantity: 'one atmosphere in mbar',
    source: 'lecture notes on vacuum systems: 760 Torr, 101325 Pa, 1013 mbar',
    provenance: 'looked-up',
    expected: '1013',
    unit: 'mbar',
    got: () => 1 / ATM_PER_UNIT.mbar,
  },
  {
    functionName: 'pathAtFilm',
    quantity: 'share of a step that a first-order lag has followed after three time constants',
    source: 'an online simulator of thermocouples as first-order lags, theory: 95.0 % at 3 tau',
    provenance: 'looked-up',
    expected: '95.0',
    unit: '%',
    got: () => followedPercent(3),
  },
  {
    functionName: 'fluenceJPerM2',
    quantity: 'fluence of 120 mJ on a spot of 3 mm across',
    source: 'an online guide to laser energy density, worked example: 1.70 J/cm2',
    provenance: 'looked-up',
    expected: '1.70',
    unit: 'J/cm2',
    got: () =>
      fluenceJPerM2(
        { value: 0.12, standardUncertainty: null },
        { value: Math.PI * 1.5e-3 ** 2, standardUncertainty: null },
      ).value / 1e4,
  },
  {
    functionName: 'thicknessShareAt',
    quantity: 'fall-off on a plane facing a small flat source, at 45 degrees',
    source:
      'manual of an imaging toolbox, cos4th: relative illumination (d/s)^4, s = sqrt(d^2 + height^2), evaluated at height = d',
    provenance: 'looked-up',
    expected: '0.25',
    unit: '1',
    got: () => thicknessShareAt(50, 50, 1),
  },
  {
    functionName: 'studentBound',
    quantity: "Student's t that holds 95 % for 3 degrees of freedom",
    source: 'H. Quene, H. van den Bergh, Quantitative Methods and Statistics, appendix C, table of t: 3.182',
    provenance: 'looked-up',
    expected: '3.182',
    unit: '1',
    got: () => studentBound(0.95, 3),
  },
  {
    functionName: 'propagate',
    quantity: 'odds that a supersaturation of 50 +- 44.7 mol/m3 is any at all',
    source: 'simple-statistics 7.12.1, cumulativeStdNormalProbability(50/sqrt(40^2 + 20^2))',
    provenance: 'reference library',
    expected: cumulativeStdNormalProbability(50 / Math.hypot(40, 20)).toFixed(4),
    unit: '1',
    got: () => propagate(([bulk, face]) => [bulk! - face!], SUPERSATURATION).oddsAtLeast(0, 0),
    tolerance: 0.016,
    toleranceReason: 'a share of 4000 draws: three standard deviations',
  },
  {
    functionName: 'diffusionLine',
    quantity: 'ln of the diffusivity of oxygen along ab extrapolated to 1/T = 0',
    source: 'simple-statistics 7.12.1, linearRegression of ln D over 1/T of the nine tabulated points',
    provenance: 'reference library',
    expected: libraryLine().b.toFixed(9),
    unit: 'ln m2/s',
    got: () => diffusionLine('ab').lnD0,
  },
];
