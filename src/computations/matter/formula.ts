// Catalogue entry: what a formula holds and weighs.
import { z } from 'zod';
import { cationsOf, rareEarthShares, sharesOf } from '../../science/matter/cation-ratios.ts';
import { elementAmounts, OPEN_RARE_EARTH, parseFormula, printFormula } from '../../science/matter/formula.ts';
import { molarMass } from '../../science/matter/molar-mass.ts';
import { ATOMIC_WEIGHTS_TABLE } from '../../science/tables/atomic-weights.ts';
import { shortComputation } from '../computation.ts';
import { cationsSchema, type Flag, flagsSchema, quantitySchema } from '../schema.ts';

const amountsSchema = z.record(z.string().regex(/^([A-Z][a-z]?|RE)$/), z.number().min(0));

export const matterFormula = shortComputation({
  name: 'matter.formula',
  version: 1,
  summary: 'Elements, cations and molar mass of a formula; RE stays open until a rare earth is named.',
  request: z.strictObject({
    formula: z.string().min(1).max(400),
    /** what RE stands for: one rare earth, or proportions of several */
    rareEarth: z.union([z.string().max(3), cationsSchema]).optional(),
  }),
  response: z.strictObject({
    /** as read, in Peritect's spelling */
    formula: z.string(),
    /** moles per mole of formula; RE where it is still open */
    elements: amountsSchema,
    cations: amountsSchema,
    cationShares: amountsSchema,
    molarMassGPerMol: quantitySchema.nullable(),
    flags: flagsSchema,
  }),
  uses: [],
  tables: [ATOMIC_WEIGHTS_TABLE],
  cost: 'instant',
  example: { formula: 'REBa2Cu3O6.93', rareEarth: { Y: 0.5, Gd: 0.5 } },
  run({ formula: text, rareEarth }) {
    const flags: Flag[] = [];
    const formula = parseFormula(text);
    let elements = elementAmounts(formula);
    const shares =
      rareEarth === undefined
        ? undefined
        : rareEarthShares(typeof rareEarth === 'string' ? { [rareEarth]: 1 } : rareEarth, 'rareEarth');
    const openAmount = elements[OPEN_RARE_EARTH];
    if (openAmount !== undefined && shares) {
      const { [OPEN_RARE_EARTH]: _, ...others } = elements;
      const filled: Record<string, number> = {};
      for (const [symbol, share] of Object.entries(shares))
        if (share > 0) filled[symbol] = share * openAmount + (others[symbol] ?? 0);
      elements = {
        ...filled,
        ...Object.fromEntries(Object.entries(others).filter(([symbol]) => !(symbol in filled))),
      };
    } else if (openAmount !== undefined) {
      flags.push({
        code: 'RARE_EARTH_OPEN',
        message: `RE in ${printFormula(formula)} is not chosen, so there is no molar mass: name rareEarth.`,
      });
    } else if (shares) {
      flags.push({
        code: 'RARE_EARTH_UNUSED',
        message: `${printFormula(formula)} holds no RE; rareEarth was not used.`,
      });
    }
    const isOpen = OPEN_RARE_EARTH in elements;
    const mass = isOpen ? null : molarMass(elements);
    const cations = cationsOf(elements);
    return {
      formula: printFormula(formula),
      elements,
      cations,
      cationShares: sharesOf(cations),
      molarMassGPerMol: mass && {
        value: mass.gramPerMol,
        standardUncertainty: mass.standardUncertaintyGramPerMol,
        unit: 'g/mol',
      },
      flags,
    };
  },
});
