// Weighing plans beside published recipes.

import { rareEarthRadius } from '../../src/science/matter/cation-ratios.ts';
import { elementAmounts, parseFormula } from '../../src/science/matter/formula.ts';
import { molarMass } from '../../src/science/matter/molar-mass.ts';
import { ADDITION_PHASES } from '../../src/science/tables/addition-phases.ts';
import { withAdditions } from '../../src/science/target/additions.ts';
import { type Batch, planBatch } from '../../src/science/target/batch.ts';
import { firedMassG } from '../../src/science/target/fired-mass.ts';
import type { OutsideCheck } from './outside-check.ts';

const pure = (formula: string) => ({ formula, purity: 1, lossOnDrying: 0 });

/** The batch whose unfired powders weigh 3 g together, as in the published recipe. */
function threeGrams(): Batch {
  const plan = (totalMassG: number): Batch =>
    planBatch({
      cations: { Y: 1, Ba: 2, Cu: 3 },
      totalMassG,
      oxygenPer123: 6.93,
      precursors: ['Y2O3', 'BaCO3', 'CuO'].map(pure),
      balanceStepMg: 1e-6,
    });
  return plan((2 * 3000) / plan(2).weighedTotalMg);
}
const grams = (p: number): number => threeGrams().weighed[p]!.exactMassMg / 1000;
const RECIPE =
  'teaching slides on preparing 1-2-3 materials: 0.454 g Y2O3, 1.587 g BaCO3, 0.959 g CuO, mixed';
const CARBONATE_LOSS = 'stoichiometry of 1/2 Y2O3 + 2 BaCO3 + 3 CuO, worked out apart from this code';

/** Share of the powders' mass that a batch of 1-2-3 loses on firing to this oxygen, %. */
function firingLossPercent(oxygenPer123: number): number {
  const batch = planBatch({
    cations: { Y: 1, Ba: 2, Cu: 3 },
    totalMassG: 100,
    oxygenPer123,
    precursors: ['Y2O3', 'BaCO3', 'CuO'].map(pure),
    balanceStepMg: 1e-6,
  });
  return 100 * (1 - batch.calcinedTotalMg / batch.weighedTotalMg);
}

const gramPerMol = (formula: string): number => molarMass(elementAmounts(parseFormula(formula))).gramPerMol;
/** Share of the mass that an element has in a formula, %. */
const massPercent = (formula: string, symbol: string): number =>
  (100 * elementAmounts(parseFormula(formula))[symbol]! * gramPerMol(symbol)) / gramPerMol(formula);

/** Volume of a formula of CuO that its vol% is counted with, angstrom^3. */
function volumeOfCuO(): number {
  const volPercent = 20;
  const { additions } = withAdditions('YBa2Cu3O7', [{ formula: 'CuO', volPercent }], 'per100Matrix', 'onTop');
  return (
    (volPercent * ADDITION_PHASES.volume123Angstrom3) / ((100 - volPercent) * additions[0]!.molesPerMatrix)
  );
}
const COPPER_OXIDES =
  'table of copper oxides (SCIRP article 4800377): tenorite a 4.6837, b 3.4226, c 5.1288, beta 99.54, V 81.080, 6516 kg/m3';

/** Share of Cu in CuO powder at which an assay stands for as much as the pure compound, %. */
function assayOfPureCuO(): number {
  const massOf = (copper: object): number =>
    planBatch({
      cations: { Y: 1, Ba: 2, Cu: 3 },
      totalMassG: 100,
      oxygenPer123: 6.93,
      precursors: [pure('Y2O3'), pure('BaCO3'), { formula: 'CuO', lossOnDrying: 0, ...copper }],
      balanceStepMg: 1e-6,
    }).weighed[2]!.exactMassMg;
  const assay = { cation: 'Cu', massFraction: 0.5, standardUncertainty: 0 };
  return (50 * massOf({ assay })) / massOf({ purity: 1 });
}
const ANALYSIS =
  'textbook of solids, chapter 7, problem 5: an oxide of Y, Ba, Cu of 11.9 % Y, 36.8 % Ba, 34.1 % Cu, the rest oxygen';

export const CHECKS: readonly OutsideCheck[] = [
  {
    functionName: 'planBatch',
    quantity: 'Y2O3 in a 3 g mixture for Y-123',
    source: RECIPE,
    provenance: 'looked-up',
    expected: '0.454',
    unit: 'g',
    got: () => grams(0),
  },
  {
    functionName: 'planBatch',
    quantity: 'BaCO3 in a 3 g mixture for Y-123',
    source: RECIPE,
    provenance: 'looked-up',
    expected: '1.587',
    unit: 'g',
    got: () => grams(1),
  },
  {
    functionName: 'planBatch',
    quantity: 'CuO in a 3 g mixture for Y-123',
    source: RECIPE,
    provenance: 'looked-up',
    expected: '0.959',
    unit: 'g',
    got: () => grams(2),
  },
  {
    functionName: 'firedMassG',
    quantity: 'molar mass of YBa2Cu3O7 from cations and copper valence',
    source: 'encyclopedia entry of yttrium barium copper oxide, properties table',
    provenance: 'looked-up',
    expected: '666.19',
    unit: 'g/mol',
    got: () => firedMassG({ Y: 1, Ba: 2, Cu: 3 }, 7),
  },
  {
    functionName: 'planBatch',
    quantity: 'mass lost on firing the carbonate batch to O6.93',
    source: CARBONATE_LOSS,
    provenance: 'derived',
    expected: '10.8734',
    unit: '%',
    got: () => firingLossPercent(6.93),
  },
  {
    functionName: 'planBatch',
    quantity: 'mass lost on firing the carbonate batch to O6.10',
    source: CARBONATE_LOSS,
    provenance: 'derived',
    expected: '12.653',
    unit: '%',
    got: () => firingLossPercent(6.1),
  },
  {
    functionName: 'planBatch',
    quantity: 'BaCO3 for a tenth of a mole of Y-123',
    source: 'a primer on molecular weights for making 1-2-3, futurescience.com: 11.29, 39.47, 23.86 g',
    provenance: 'looked-up',
    expected: '39.47',
    unit: 'g',
    got: () =>
      planBatch({
        cations: { Y: 1, Ba: 2, Cu: 3 },
        totalMassG: firedMassG({ Y: 0.1, Ba: 0.2, Cu: 0.3 }, 6.5),
        oxygenPer123: 6.5,
        precursors: ['Y2O3', 'BaCO3', 'CuO'].map(pure),
        balanceStepMg: 1e-6,
      }).weighed[1]!.exactMassMg / 1000,
  },
  {
    functionName: 'parseFormula, molarMass',
    quantity: 'yttrium in YBa2Cu4O8',
    source: ANALYSIS,
    provenance: 'looked-up',
    expected: '11.9',
    unit: '%',
    got: () => massPercent('YBa2Cu4O8', 'Y'),
  },
  {
    functionName: 'parseFormula, molarMass',
    quantity: 'copper in YBa2Cu4O8',
    source: ANALYSIS,
    provenance: 'looked-up',
    expected: '34.1',
    unit: '%',
    got: () => massPercent('YBa2Cu4O8', 'Cu'),
  },
  {
    functionName: 'withAdditions',
    quantity: 'cell volume of CuO behind its vol%',
    source: COPPER_OXIDES,
    provenance: 'looked-up',
    expected: '81.080',
    unit: 'angstrom3',
    got: () => 4 * volumeOfCuO(),
  },
  {
    functionName: 'withAdditions, molarMass',
    quantity: 'density of CuO',
    source: COPPER_OXIDES,
    provenance: 'looked-up',
    expected: '6.516',
    unit: 'g/cm3',
    got: () => gramPerMol('CuO') / (0.602214076 * volumeOfCuO()),
  },
  {
    functionName: 'planBatch',
    quantity: 'assay of copper at which CuO powder counts as pure',
    source: 'mineral page of tenorite, chemical composition: Cu 79.89, O 20.11',
    provenance: 'looked-up',
    expected: '79.89',
    unit: '%',
    got: assayOfPureCuO,
  },
  {
    functionName: 'parseFormula, molarMass',
    quantity: 'molar mass of a hydrate with half a water',
    source: 'chemical dictionary, cupric nitrate hydrate, 2.5 waters, formula mass',
    provenance: 'looked-up',
    expected: '232.59',
    unit: 'g/mol',
    got: () => gramPerMol('Cu(NO3)2\u00b72.5H2O'),
  },
  {
    functionName: 'rareEarthRadius',
    quantity: 'variance of the radius of Y and Eu, 1 to 1, as the difference of their radii',
    source: 'notes on magnetism of a university, variance of ionic radii in Y1-xMxBa2Cu3O6+y: Eu-Y 4.7 pm',
    provenance: 'looked-up',
    expected: '4.7',
    unit: 'pm',
    got: () => 200 * Math.sqrt(rareEarthRadius({ Y: 1, Eu: 1 })!.varianceAngstrom2),
  },
];
