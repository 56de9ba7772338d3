// Catalogue entry: what to weigh for a target.
import { z } from 'zod';
import { DomainError } from '../../science/errors.ts';
import { rareEarthRadius } from '../../science/matter/cation-ratios.ts';
import { ATOMIC_WEIGHTS_TABLE } from '../../science/tables/atomic-weights.ts';
import { CATION_VALENCES_TABLE } from '../../science/tables/cation-valences.ts';
import { CAUTIONS_TABLE } from '../../science/tables/cautions.ts';
import { IONIC_RADII_TABLE } from '../../science/tables/ionic-radii.ts';
import { PRECURSORS_TABLE } from '../../science/tables/precursors.ts';
import { planBatch, type WeighedPrecursor } from '../../science/target/batch.ts';
import { cautionsFor } from '../../science/target/cautions.ts';
import { batchDoubts } from '../../science/target/doubts.ts';
import { DEFAULT_OXYGEN_PER_123 } from '../../science/target/fired-mass.ts';
import { shortComputation } from '../computation.ts';
import { cationsSchema, type Flag, flagsSchema } from '../schema.ts';

// Ranges are checked by the science, whose refusal names the field, the value found and the range.
const symbolSchema = z.string().max(3);
const precursorSchema = z.strictObject({
  formula: z.string().min(1).max(400),
  /** cations it is bought for, as symbols or with their amount per formula; only checked against the formula */
  provides: z
    .union([symbolSchema, z.array(symbolSchema).max(8), z.record(symbolSchema, z.number())])
    .optional(),
  purity: z.number().describe('mass fraction of the named formula in the dried powder; above 0 and up to 1'),
  lossOnDrying: z.number().describe('mass fraction lost on drying; 0 to below 1'),
});
const amountsSchema = z.record(z.string(), z.number());
const oxygenSchema = z.number().describe('oxygen per REBa2Cu3, 6 to 7; 6.93 if left out').optional();

export const targetBatch = shortComputation({
  name: 'target.batch',
  version: 1,
  summary: 'Masses of precursors for a cation ratio and a mass of fired target, and the ratio they give.',
  request: z.strictObject({
    composition: z.strictObject({ cations: cationsSchema, oxygenPer123: oxygenSchema }),
    totalMassG: z.number().describe('mass of the fired target; above 0 and up to 10000'),
    /** the same as composition.oxygenPer123, for a door that keeps the anneal apart from the ratio */
    oxygenPer123: oxygenSchema,
    precursors: z.array(precursorSchema).min(1).max(20),
    balanceStepMg: z.number().describe('above 0 and up to 10000'),
  }),
  response: z.strictObject({
    masses: z
      .array(
        z.strictObject({ formula: z.string(), massMg: z.number().min(0), exactMassMg: z.number().min(0) }),
      )
      .max(20),
    weighedTotalMg: z.number(),
    calcinedTotalMg: z.number(),
    /** what the rounded masses give, with the same sum as the cations asked for */
    targetRatio: amountsSchema,
    /** standard uncertainties of targetRatio */
    ratioU: amountsSchema,
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
  tables: [ATOMIC_WEIGHTS_TABLE, CATION_VALENCES_TABLE, CAUTIONS_TABLE, IONIC_RADII_TABLE, PRECURSORS_TABLE],
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
    const { composition, precursors, totalMassG, balanceStepMg } = request;
    const batch = planBatch({
      cations: composition.cations,
      totalMassG,
      oxygenPer123: chosenOxygen(composition.oxygenPer123, request.oxygenPer123),
      precursors,
      balanceStepMg,
    });
    const radius = rareEarthRadius(batch.targetRatio);
    const flags: Flag[] = [...batchDoubts(batch.weighed, balanceStepMg)];
    batch.weighed.forEach((precursor, p) => {
      flags.push(...providesFlags(precursor, precursors[p]!.provides, p));
    });
    if (!radius)
      flags.push({ code: 'NO_RARE_EARTH', message: 'There is no rare earth, so there is no radius of one.' });
    return {
      masses: batch.weighed.map(({ formula, massMg, exactMassMg }) => ({ formula, massMg, exactMassMg })),
      weighedTotalMg: batch.weighedTotalMg,
      calcinedTotalMg: batch.calcinedTotalMg,
      targetRatio: batch.targetRatio,
      ratioU: batch.ratioU,
      radiusMeanAngstrom: radius?.meanAngstrom ?? null,
      radiusVarianceAngstrom2: radius?.varianceAngstrom2 ?? null,
      cautions: cautionsFor(precursors.map(({ formula }) => formula)),
      flags,
    };
  },
});

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
