// Growth beside published numbers: films that crack, particles that coarsen.
import { startRadius } from '../../src/science/growth/coarsening.ts';
import {
  biaxialModulus,
  energyReleaseRate,
  expansionRecord,
  inPlanePoisson,
  mechanicsRecord,
  planeStrainModulus,
} from '../../src/science/growth/cracking.ts';
import type { OutsideCheck } from './outside-check.ts';

/** Silicon with the axes of the plane along [100]: published as 166 and 64 GPa. */
const SILICON = { c11: 166, c22: 166, c33: 166, c12: 64, c13: 64, c23: 64 };
/** The same turned by 45 degrees about the normal: published as 194, 35 and 64 GPa. */
const SILICON_TURNED = { c11: 194, c22: 194, c33: 166, c12: 35, c13: 64, c23: 64 };
const MAILING_LIST =
  'a mailing list on micromachining: stiffness of silicon 166, 64 and turned 194, 35, 64 GPa; E 130 GPa, nu 0.279 along <100>, E 169 GPa, nu 0.064 along <110>';

/** Mean expansion of silicon from 25 to 800 degC by a published formula, 1e-6/K. */
function siliconPerMK(): number {
  const [from, to, steps] = [298.15, 1073.15, 4000];
  let sum = 0;
  for (let i = 0; i < steps; i++) {
    const t = from + ((i + 0.5) / steps) * (to - from);
    sum += 3.725 * (1 - Math.exp(-5.88e-3 * (t - 124))) + 5.548e-4 * t;
  }
  return sum / steps;
}

export const CHECKS: readonly OutsideCheck[] = [
  {
    functionName: 'biaxialModulus',
    quantity: 'biaxial modulus of silicon (100), the axes turned by 45 degrees',
    source: MAILING_LIST,
    provenance: 'looked-up',
    expected: '180.6', // 169/(1 - 0.064)
    unit: 'GPa',
    got: () => biaxialModulus(SILICON_TURNED),
    tolerance: 1.5,
    toleranceReason: 'the stiffnesses are printed to whole GPa',
  },
  {
    functionName: 'inPlanePoisson',
    quantity: 'Poisson ratio of silicon along <100>',
    source: MAILING_LIST,
    provenance: 'looked-up',
    expected: '0.279',
    unit: '1',
    got: () => inPlanePoisson(SILICON),
    tolerance: 0.003,
    toleranceReason: 'the stiffnesses are printed to whole GPa',
  },
  {
    functionName: 'planeStrainModulus',
    quantity: 'plane-strain modulus E/(1 - nu^2) of silicon along <100>',
    source: MAILING_LIST,
    provenance: 'looked-up',
    expected: '141', // 130/(1 - 0.279^2) = 141.0
    unit: 'GPa',
    got: () => planeStrainModulus(SILICON),
  },
  {
    functionName: 'energyReleaseRate',
    quantity: 'geometry factor of an edge crack, from the energy that a surface crack frees',
    source: 'an online table of stress intensity factors, single edge crack: f = 1.12 for a short crack',
    provenance: 'looked-up',
    expected: '1.12',
    unit: '1',
    got: () =>
      Math.sqrt(energyReleaseRate(mechanicsRecord('z-surface').value, 3, 5, 7) / ((Math.PI * 9 * 5) / 7)),
  },
  {
    functionName: 'expansionRecord',
    quantity: 'mean expansion of silicon from 25 to 800 degC',
    source:
      'Y. Okada, Y. Tokumaru, J. Appl. Phys. (1984), abstract: (3.725 {1 - exp[-5.88e-3 (T - 124)]} + 5.548e-4 T) 1e-6/K, its mean',
    provenance: 'looked-up',
    expected: siliconPerMK().toFixed(3),
    unit: '1e-6/K',
    got: () => expansionRecord('Si').value,
    tolerance: 0.2,
    toleranceReason: "the row is a handbook's mean with a standard uncertainty of 0.2",
  },
  {
    functionName: 'expansionRecord',
    quantity: 'mean expansion of a film of 123',
    source:
      'a study of buffer layers quoting 13e-6/K for 123 beside 11e-6/K for CeO2 (citation of Phys. Status Solidi A 150 (1995))',
    provenance: 'looked-up',
    expected: '13',
    unit: '1e-6/K',
    got: () => expansionRecord('123').value,
    tolerance: 1,
    toleranceReason: 'an in-plane mean of another range; the row is an effective value from cracks',
  },
  {
    functionName: 'startRadius',
    quantity: 'radius of touching spheres in a diamond lattice, in edges of its cell',
    source:
      'an online reference on lattices, packing fraction: 0.340 for eight spheres of radius sqrt(3)/8 a cell',
    provenance: 'looked-up',
    expected: '0.21651',
    unit: '1',
    got: () => startRadius(0.34, 8),
    tolerance: 1e-4,
    toleranceReason: 'the packing fraction is printed to three places, a third of it in the radius',
  },
];
