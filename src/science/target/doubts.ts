// What is doubtful in a weighing plan though it can be computed: drying, purity, balance. Pure.
import type { Doubt } from '../doubt.ts';
import { atomicWeight } from '../matter/elements.ts';
import { elementAmounts, parseFormula } from '../matter/formula.ts';
import { volatileFraction } from '../matter/molar-mass.ts';
import { PRECURSORS } from '../tables/precursors.ts';
import type { WeighedPrecursor } from './batch.ts';
import { sameSubstance } from './cautions.ts';

/** A loss this near to what the formula itself gives off, relative, is more likely that than moisture. */
const REACTION_LOSS_MARGIN = 0.1;
/** Below this purity the rest of the powder is too much to pass over in silence. */
const LOW_PURITY = 0.95;
/** Share of a mass above which one balance step is worth a word. */
const COARSE_STEP_SHARE = 1e-3;

/**
 * Doubts about a batch, each a question to the person who weighs.
 *
 * @param weighed       precursors with their masses, mg
 * @param balanceStepMg step of the balance
 */
export function batchDoubts(weighed: readonly WeighedPrecursor[], balanceStepMg: number): Doubt[] {
  return weighed.flatMap((precursor) => [
    ...powderDoubts(precursor),
    ...weighingDoubts(precursor, balanceStepMg),
  ]);
}

const percent = (share: number): string => `${(100 * share).toPrecision(3)} %`;

function powderDoubts(precursor: WeighedPrecursor): Doubt[] {
  const { formula, purity, lossOnDrying, isMetalsBasis } = precursor;
  const doubts: Doubt[] = [];
  const { assay, cations, molarMassGPerMol } = precursor;
  if (assay !== undefined) {
    const most = (cations[assay.cation]! * atomicWeight(assay.cation).value) / molarMassGPerMol;
    if (assay.massFraction > most + 2 * assay.standardUncertainty)
      doubts.push({
        code: 'ASSAY_ABOVE_FORMULA',
        message: `${formula}: ${percent(assay.massFraction)} ${assay.cation} is more than the pure compound holds, ${percent(most)}. Is it the share of ${formula}, as an assay of active oxygen gives it? Then it is a purity. Only a powder with a compound richer in ${assay.cation} beside can hold more.`,
      });
  }
  const ownLoss = volatileFraction(precursor.elements);
  if (ownLoss > 0 && Math.abs(lossOnDrying - ownLoss) <= REACTION_LOSS_MARGIN * ownLoss) {
    doubts.push({
      code: 'LOSS_IS_REACTION',
      message: `${formula}: lossOnDrying ${percent(lossOnDrying)} is what the formula itself gives off on firing (${percent(ownLoss)}). Is it moisture? If it was measured by firing to the oxide, enter only what leaves below decomposition; the mass given here counts it twice.`,
    });
  }
  if (isMetalsBasis) {
    doubts.push({
      code: 'PURITY_METALS_BASIS',
      message: `${formula}: a purity on a metals basis counts foreign metals only and is no mass fraction of the compound: water, carbonate and other compounds of the same metal are not in it. Give an assay of the metal instead, or fire a witness portion.`,
    });
  }
  if (purity === 1) {
    doubts.push({
      code: 'PURITY_EXACT',
      message: `${formula}: purity 1 is taken as exact and adds nothing to ratioU. A certificate gives a figure; is it on a metals basis?`,
    });
  } else if (purity !== undefined && purity < LOW_PURITY) {
    doubts.push({
      code: 'PURITY_LOW',
      message: `${formula}: purity ${percent(purity)}; the other ${percent(1 - purity)} is taken to bring no cation. If it is an oxide, carbonate or hydroxide of the same metal, weigh by the metal's content instead.`,
    });
  }
  if (precursor.assay === undefined && isHydrate(formula)) {
    doubts.push({
      code: 'HYDRATE_WATER',
      message: `${formula}: the water of the formula is counted from the formula, but a hydrate's number of waters drifts with the air. Give an assay of the metal, or fire a witness portion to the oxide; formula water is never entered as lossOnDrying.`,
    });
  }
  const known = PRECURSORS.records.find((row) =>
    sameSubstance(elementAmounts(parseFormula(row.formula)), precursor.elements),
  );
  if (known?.takesUp && lossOnDrying === 0) {
    doubts.push({
      code: 'DRY_FIRST',
      message: `${formula}: ${known.takesUp}. Drying: ${known.drying}. Measure the loss on a witness portion and enter it as lossOnDrying.`,
    });
  }
  return doubts;
}

/** Whether a part of the formula after a dot is water. */
const isHydrate = (formula: string): boolean =>
  parseFormula(formula)
    .slice(1)
    .some((unit) => sameSubstance(elementAmounts([unit]), { H: 2, O: 1 }));

function weighingDoubts({ formula, exactMassMg, massMg }: WeighedPrecursor, balanceStepMg: number): Doubt[] {
  if (exactMassMg === 0) {
    return [{ code: 'NOT_NEEDED', message: `${formula} is not needed for this ratio: its mass is 0.` }];
  }
  if (massMg === 0) {
    return [
      {
        code: 'BELOW_STEP',
        message: `${formula}: ${exactMassMg.toPrecision(3)} mg is below half the balance's step of ${balanceStepMg} mg and rounds to 0. Make a larger batch, or weigh it as a diluted mixture.`,
      },
    ];
  }
  if (balanceStepMg > COARSE_STEP_SHARE * massMg) {
    return [
      {
        code: 'COARSE_BALANCE',
        message: `${formula}: the balance's step of ${balanceStepMg} mg is ${percent(balanceStepMg / massMg)} of its mass.`,
      },
    ];
  }
  return [];
}
