// Catalogue entry: what to weigh for a target.
import { z } from 'zod';
import { DomainError } from '../../science/errors.ts';
import { rareEarthRadius } from '../../science/matter/cation-ratios.ts';
import { elementAmounts, parseFormula } from '../../science/matter/formula.ts';
import { ADDITION_PHASES_TABLE } from '../../science/tables/addition-phases.ts';
import { ATOMIC_WEIGHTS_TABLE } from '../../science/tables/atomic-weights.ts';
import { CATION_VALENCES_TABLE } from '../../science/tables/cation-valences.ts';
import { CAUTIONS_TABLE } from '../../science/tables/cautions.ts';
import { IONIC_RADII_TABLE } from '../../science/tables/ionic-radii.ts';
import { PRECURSORS_TABLE } from '../../science/tables/precursors.ts';
import { type ResolvedAddition, withAdditions } from '../../science/target/additions.ts';
import { planBatch, type WeighedPrecursor } from '../../science/target/batch.ts';
import { cautionsFor, sameSubstance } from '../../science/target/cautions.ts';
import { batchDoubts } from '../../science/target/doubts.ts';
import { DEFAULT_OXYGEN_PER_123 } from '../../science/target/fired-mass.ts';
import { density123GPerCm3, pelletMassG } from '../../science/target/pellet.ts';
import { shortComputation } from '../computation.ts';
import { cationsSchema, type Flag, flagsSchema } from '../schema.ts';
import { assaySchema, cationSymbolSchema } from './powder-schema.ts';
import { amountsSchema } from './transfer-schema.ts';

// Ranges are checked by the science, whose refusal names the field, the value found and the range.
const precursorSchema = z.strictObject({
  formula: z.string().min(1).max(400),
  /** cations it is bought for, as symbols or with their amount per formula; only checked against the formula */
  provides: z
    .union([cationSymbolSchema, z.array(cationSymbolSchema).max(8), z.record(cationSymbolSchema, z.number())])
    .optional(),
  purity: z
    .number()
    .describe('mass fraction of the named formula in the dried powder; above 0 and up to 1; this or assay')
    .optional(),
  /** of one metal, whatever compounds hold it: mass fraction in the dried powder */
  assay: assaySchema.optional(),
  /** is the purity on a metals basis? */
  isMetalsBasis: z.boolean().optional(),
  lot: z.string().max(200).optional(),
  lossOnDrying: z.number().describe('mass fraction lost on drying; 0 to below 1'),
});
const formulaSchema = z.string().min(1).max(400);
const oxygenSchema = z.number().describe('oxygen per REBa2Cu3, 6 to 7; 6.93 if left out').optional();

export const targetBatch = shortComputation({
  name: 'target.batch',
  version: 5,
  summary:
    'Masses of precursors for a ratio, formula or base with additions and a mass or size of target, and the ratio they give.',
  request: z.strictObject({
    composition: z.union([
      z.strictObject({ cations: cationsSchema, oxygenPer123: oxygenSchema }),
      z.strictObject({ formula: formulaSchema, oxygenPer123: oxygenSchema }),
      z.strictObject({
        base: formulaSchema,
        additions: z
          .array(
            z.strictObject({
              formula: formulaSchema,
              molPercent: z.number().optional(),
              volPercent: z.number().optional(),
            }),
          )
          .max(10),
        oxygenPer123: oxygenSchema,
      }),
    ]),
    /** x mol%: moles per 100 moles of 123 (the default), or mole fraction of all formulas */
    molPercentMeans: z.enum(['per100Matrix', 'ofTotal']).optional(),
    /** additions on top of the matrix (the default), or their cations out of it */
    additionCations: z.enum(['onTop', 'outOfMatrix']).optional(),
    totalMassG: z.number().describe('mass of the fired target; above 0 and up to 10000').optional(),
    /** in place of totalMassG; taken as dense as 123 */
    pellet: z
      .strictObject({ diameterMm: z.number(), thicknessMm: z.number(), relativeDensity: z.number() })
      .optional(),
    /** the same as composition.oxygenPer123, for a door that keeps the anneal apart from the ratio */
    oxygenPer123: oxygenSchema,
    precursors: z.array(precursorSchema).min(1).max(20),
    balanceStepMg: z.number().describe('above 0 and up to 10000'),
  }),
  response: z.strictObject({
    masses: z
      .array(
        z.strictObject({
          formula: z.string(),
          massMg: z.number().min(0),
          exactMassMg: z.number().min(0),
          lot: z.string().optional(),
        }),
      )
      .max(20),
    weighedTotalMg: z.number(),
    calcinedTotalMg: z.number(),
    /** all of it with calcinedTotalMg makes weighedTotalMg; see science/target/leaving.ts */
    leavingMg: z.strictObject({
      CO2: z.number(),
      H2O: z.number(),
      NO2: z.number(),
      /** negative where oxygen is taken up */
      O2: z.number(),
      other: z.number(),
      moisture: z.number(),
      /** beside the named formulas, counted as gone */
      beside: z.number(),
    }),
    /** what the rounded masses give, with the same sum as the cations asked for */
    targetRatio: amountsSchema,
    /** standard uncertainties of targetRatio */
    ratioU: amountsSchema,
    /** cations asked for, and mass of the fired target, as the request came to */
    wanted: amountsSchema,
    firedMassG: z.number(),
    additions: z.array(
      z.strictObject({
        formula: z.string(),
        molesPerMatrix: z.number(),
        volumeShare: z.number().nullable(),
      }),
    ),
    radiusMeanAngstrom: z.number().nullable(),
    radiusVarianceAngstrom2: z.number().min(0).nullable(),
    cautions: z
      .array(
        z.strictObject({
          matter: z.string(),
          statement: z.string(),
          codes: z.array(z.string()).max(20).readonly(),
          source: z.string(),
        }),
      )
      .max(60),
    flags: flagsSchema,
  }),
  uses: [],
  tables: [
    ADDITION_PHASES_TABLE,
    ATOMIC_WEIGHTS_TABLE,
    CATION_VALENCES_TABLE,
    CAUTIONS_TABLE,
    IONIC_RADII_TABLE,
    PRECURSORS_TABLE,
  ],
  cost: 'instant',
  example: {
    composition: { cations: { Y: 1, Ba: 2, Cu: 3 } },
    totalMassG: 50,
    precursors: [
      { formula: 'Y2O3', provides: 'Y', purity: 0.9999, lossOnDrying: 0.004 },
      { formula: 'BaCO3', provides: 'Ba', purity: 0.998, lossOnDrying: 0.001 },
      { formula: 'CuO', provides: 'Cu', purity: 0.999, lossOnDrying: 0.001 },
    ],
    balanceStepMg: 0.1,
  },
  run(request) {
    const { composition, precursors, balanceStepMg, pellet } = request;
    const oxygenPer123 = chosenOxygen(composition.oxygenPer123, request.oxygenPer123);
    const { cations, additions } = wantedOf(request);
    if ((request.totalMassG === undefined) === (pellet === undefined))
      throw new DomainError(
        'BATCH_RANGE',
        `${pellet === undefined ? 'Neither' : 'Both'} totalMassG and pellet are given; allowed is one of them.`,
      );
    const totalMassG = request.totalMassG ?? pelletMassG(pellet!, cations, oxygenPer123);
    const field = 'cations' in composition ? 'composition.cations' : 'composition';
    const batch = planBatch({ cations, totalMassG, oxygenPer123, precursors, balanceStepMg, field });
    const radius = rareEarthRadius(batch.targetRatio);
    const flags: Flag[] = [...batchDoubts(batch.weighed, balanceStepMg)];
    batch.weighed.forEach((precursor, p) => {
      flags.push(...providesFlags(precursor, precursors[p]!.provides, p));
    });
    flags.push(...twiceFlags(composition), ...noEffectFlags(request, cations));
    if (pellet)
      flags.push({
        code: 'PELLET_AS_123',
        message: `The pellet's mass is that of 123 without pores, ${density123GPerCm3(cations, oxygenPer123).toPrecision(4)} g/cm3, times the relative density; other phases in it are taken as equally dense.`,
      });
    if (!radius)
      flags.push({ code: 'NO_RARE_EARTH', message: 'There is no rare earth, so there is no radius of one.' });
    return {
      masses: batch.weighed.map(({ formula, massMg, exactMassMg }, i) => {
        const { lot } = precursors[i]!;
        return { formula, massMg, exactMassMg, ...(lot === undefined ? {} : { lot }) };
      }),
      weighedTotalMg: batch.weighedTotalMg,
      calcinedTotalMg: batch.calcinedTotalMg,
      leavingMg: { ...batch.leavingMg },
      wanted: cations,
      firedMassG: totalMassG,
      additions: additions.map((addition) => ({ ...addition })),
      targetRatio: batch.targetRatio,
      ratioU: batch.ratioU,
      radiusMeanAngstrom: radius?.meanAngstrom ?? null,
      radiusVarianceAngstrom2: radius?.varianceAngstrom2 ?? null,
      cautions: cautionsFor(precursors.map(({ formula }) => formula)),
      flags,
    };
  },
});

type BatchRequest = z.infer<typeof targetBatch.request>;

/** Cations that the request asks for, however it says it. */
function wantedOf({ composition, molPercentMeans, additionCations }: BatchRequest): {
  cations: Record<string, number>;
  additions: readonly ResolvedAddition[];
} {
  if ('cations' in composition) return { cations: composition.cations, additions: [] };
  const base = 'formula' in composition ? composition.formula : composition.base;
  const { cations, additions } = withAdditions(
    base,
    'formula' in composition ? [] : composition.additions,
    molPercentMeans ?? 'per100Matrix',
    additionCations ?? 'onTop',
    'formula' in composition ? 'composition.formula' : 'composition.base',
  );
  return { cations, additions };
}

/** Asks about an addition that is named twice, however it is written: both are counted. */
function twiceFlags(composition: BatchRequest['composition']): Flag[] {
  if (!('additions' in composition)) return [];
  const elements = composition.additions.map(({ formula }) => elementAmounts(parseFormula(formula)));
  return composition.additions.flatMap(({ formula }, i): Flag[] => {
    const first = elements.findIndex((each) => sameSubstance(each, elements[i]!));
    return first === i
      ? []
      : [
          {
            code: 'ADDITION_TWICE',
            message: `composition.additions[${i}] (${formula}) is the same substance as additions[${first}]: both amounts are counted. Is one of them meant?`,
          },
        ];
  });
}

/** Asks about additions whose cations all come out of the matrix again: what is weighed is the base alone. */
function noEffectFlags(
  { composition, additionCations }: BatchRequest,
  cations: Record<string, number>,
): Flag[] {
  if (!('additions' in composition) || additionCations !== 'outOfMatrix') return [];
  const base = elementAmounts(parseFormula(composition.base));
  const without = composition.additions.filter(({ formula }) =>
    Object.keys(elementAmounts(parseFormula(formula))).every(
      (symbol) => !(symbol in cations) || symbol in base,
    ),
  );
  if (without.length === 0) return [];
  return [
    {
      code: 'ADDITION_WITHOUT_EFFECT',
      message: `${without.map(({ formula }) => formula).join(', ')}: all its cations are in ${composition.base} too and are taken out of it, so the ratio is that of the base, and the share of volume is not what fires out of it. Was it meant on top?`,
    },
  ];
}

function chosenOxygen(ofComposition: number | undefined, ofRequest: number | undefined): number {
  if (ofComposition !== undefined && ofRequest !== undefined && ofComposition !== ofRequest) {
    throw new DomainError(
      'BATCH_RANGE',
      `oxygenPer123 is ${ofRequest} but composition.oxygenPer123 is ${ofComposition}; allowed is one number.`,
    );
  }
  return ofComposition ?? ofRequest ?? DEFAULT_OXYGEN_PER_123;
}

type Provides = z.infer<typeof precursorSchema>['provides'];

/** Compares what a precursor is said to bring with what its formula holds; refuses what the formula lacks. */
function providesFlags(precursor: WeighedPrecursor, provides: Provides, p: number): Flag[] {
  if (provides === undefined) return [];
  const named =
    typeof provides === 'string' ? [provides] : Array.isArray(provides) ? provides : Object.keys(provides);
  const held = Object.keys(precursor.cations);
  for (const symbol of named) {
    const amount = typeof provides === 'object' && !Array.isArray(provides) ? provides[symbol] : undefined;
    const inFormula = precursor.cations[symbol];
    if (inFormula === undefined) {
      throw new DomainError(
        'BATCH_RANGE',
        `precursors[${p}].provides is '${symbol}', which ${precursor.formula} does not hold; allowed is ${held.join(', ')}.`,
      );
    }
    if (amount !== undefined && Math.abs(amount - inFormula) > 1e-6 * inFormula) {
      throw new DomainError(
        'BATCH_RANGE',
        `precursors[${p}].provides.${symbol} is ${amount}, but ${precursor.formula} holds ${inFormula}; allowed is that number.`,
      );
    }
  }
  const unnamed = held.filter((symbol) => !named.includes(symbol));
  if (unnamed.length === 0) return [];
  return [
    {
      code: 'PROVIDES_MORE',
      message: `${precursor.formula} also brings ${unnamed.join(', ')}, which is counted.`,
    },
  ];
}
