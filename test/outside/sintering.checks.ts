// Diffusion into grains, closing on cooling, and the mass of 123 beside published numbers.
import { diffusingBody, SPHERE } from '../../src/science/numerics/diffusion-modes.ts';
import { massOf123 } from '../../src/science/target/sinter.ts';
import { closureTemperatureK } from '../../src/science/target/sinter-closure.ts';
import type { OutsideCheck } from './outside-check.ts';

const KCAL_J = 4184;
const YEAR_S = 365.25 * 86_400;
/** Å^3 times this is cm3 per mole of cells */
const PER_ANGSTROM3 = 0.602214076;

/** What a sphere with nothing inside has taken up when its surface is at 1 all the time. */
const sphereUptake = (theta: number): number => 1 + diffusingBody(SPHERE, 1)(theta).take(0);
const POLYMER = 'manual of a polymer engineering library';
const SERIES = 'the last digits depend on where a series is cut';

export const CHECKS: readonly OutsideCheck[] = [
  {
    functionName: 'diffusingBody',
    quantity: 'uptake of a sphere of 0.2 mm radius, 1e-10 m2/s, 100 s',
    source: `${POLYMER} (uptake_sphere after Crank 1975, p. 91), worked example`,
    provenance: 'looked-up',
    expected: '0.9484368978658284',
    unit: '1',
    got: () => sphereUptake((1e-10 * 100) / 0.2e-3 ** 2),
    tolerance: 1e-12,
    toleranceReason: SERIES,
  },
  {
    functionName: 'diffusingBody',
    quantity: 'uptake of a sphere of 0.1 mm radius, 1e-11 m2/s, 100 s',
    source: `${POLYMER} (uptake_constc_sphere after Crank 1975, p. 91), worked example`,
    provenance: 'looked-up',
    expected: '0.7704787380259631',
    unit: '1',
    got: () => sphereUptake((1e-11 * 100) / 1e-4 ** 2),
    tolerance: 1e-12,
    toleranceReason: SERIES,
  },
  {
    functionName: 'closureTemperatureK',
    quantity: 'closure of argon in muscovite, 63 kcal/mol, D0 2.3 cm2/s, radius 0.1 mm, 10 K a million years',
    source: 'Harrison et al. 2009, Geochim. Cosmochim. Acta 73, 1039, abstract: 425 degC at 10 kbar',
    provenance: 'looked-up',
    expected: '425',
    unit: 'degC',
    got: () =>
      closureTemperatureK(
        { shape: 'sphere', lengthM: 1e-4, d0M2PerS: 2.3e-4, activationJPerMol: 63 * KCAL_J },
        10 / (1e6 * YEAR_S),
      ) - 273.15,
    tolerance: 2.5,
    toleranceReason:
      'the source prints to the nearest 5 degC (425 and 405); a cylinder or plate would give 433 or 451',
  },
  {
    functionName: 'massOf123',
    quantity: 'density of YBa2Cu3O6 from its cell',
    source:
      'Swinnea, Steinfink 1987, J. Mater. Res., crystal structure of YBa2Cu3O6, abstract: a 3.863(2), c 11.830(4), Z 1',
    provenance: 'looked-up',
    expected: '6.115',
    unit: 'g/cm3',
    got: () => massOf123(0) / (PER_ANGSTROM3 * 3.863 ** 2 * 11.83),
    tolerance: 0.0015,
    toleranceReason: 'a of 3.863 is rounded: half of its last place is 0.0016 g/cm3',
  },
];
