// Catalogue entry: which phases are there at a composition, T and pO2, how much of each, and how sure that is.
import { z } from 'zod';
import { type Assemblage, assemblageAt, FIELD_JOINT } from '../../science/equilibrium/assemblage.ts';
import { filmComposition } from '../../science/equilibrium/film-composition.ts';
import { diagramDoubts, disputeDoubts, placeholderDoubts } from '../../science/equilibrium/limits.ts';
import { LIQUID } from '../../science/equilibrium/phase-system.ts';
import { shortComputation } from '../computation.ts';
import { cationsSchema, flagsSchema, quantitySchema } from '../schema.ts';
import {
  conditionFields,
  conditionsOf,
  EQUILIBRIUM_TABLES,
  isMoved,
  membersOf,
  restShare,
  sinksSchema,
} from './request.ts';

const shareSchema = z.number().min(0).max(1);

export const equilibriumAssemblage = shortComputation({
  name: 'equilibrium.assemblage',
  version: 3,
  summary: 'Phases at a cation ratio, temperature and oxygen pressure, with the odds of each phase field.',
  request: z.strictObject({ cations: cationsSchema, sinks: sinksSchema, ...conditionFields }),
  response: z.strictObject({
    /** probability of each field; its key is its sorted phase names joined by ' + ' */
    odds: z.record(z.string(), shareSchema),
    /** the member with the median liquid share; shares are of the cations and add to 1 */
    phases: z.array(
      z.strictObject({
        name: z.string(),
        share: shareSchema,
        shareU: z.number().min(0),
        composition: z.strictObject({ cations: cationsSchema }),
      }),
    ),
    liquidShare: quantitySchema,
    /** middle 95 % of the members */
    liquidInterval: z.strictObject({ low: shareSchema, high: shareSchema }),
    /** Cu+ share of the copper in the median member's liquid; null without liquid */
    cuprousShare: shareSchema.nullable(),
    /** J per mole of its cations that each phase lies above the plane of the stable ones here */
    driving: z.record(z.string(), z.number()),
    /** chemical potentials in the median member, J per mole of REO1.5, BaO and CuO from these oxides, at this pO2 */
    potentialsJPerMol: z.strictObject({ re: z.number(), ba: z.number(), cu: z.number() }),
    flags: flagsSchema,
  }),
  uses: [],
  tables: EQUILIBRIUM_TABLES,
  cost: 'instant',
  example: { cations: { Dy: 1, Ba: 3, Cu: 6 }, temperatureC: 900, po2Atm: 0.1 },
  run(request) {
    const film = filmComposition(request.cations, request.sinks);
    const { rareEarth, inert } = film;
    const conditions = conditionsOf(request, rareEarth, film.radiusBeyondYAngstrom);
    const found = assemblageAt(membersOf(request), conditions, film.shares);
    const rest = restShare(inert);
    const inertNames = inert.map(({ name }) => name);
    const odds = Object.fromEntries(
      Object.entries(found.odds).map(([field, probability]) => [
        [...field.split(FIELD_JOINT), ...inertNames].sort().join(FIELD_JOINT),
        probability,
      ]),
    );
    const liquidOdds = Object.entries(odds)
      .filter(([field]) => field.split(FIELD_JOINT).includes(LIQUID))
      .reduce((sum, [, probability]) => sum + probability, 0);
    const [re, ba, cu] = found.potentials;
    return {
      odds,
      phases: [
        ...found.phases.map(({ name, share, shareU, composition }) => ({
          name,
          share: share * rest,
          shareU: shareU * rest,
          composition: {
            cations: Object.fromEntries(
              [rareEarth, 'Ba', 'Cu']
                .map((symbol, k) => [symbol, composition[k]!] as const)
                .filter(([, amount]) => amount > 0),
            ),
          },
        })),
        ...inert.map(({ name, share, composition }) => ({
          name,
          share,
          shareU: 0,
          composition: { cations: composition },
        })),
      ],
      liquidShare: {
        value: found.liquidShare.value * rest,
        standardUncertainty: found.liquidShare.standardUncertainty * rest,
        unit: '1',
      },
      liquidInterval: { low: found.liquidInterval.low * rest, high: found.liquidInterval.high * rest },
      cuprousShare: found.cuprousShare,
      driving: found.driving,
      potentialsJPerMol: { re, ba, cu },
      flags: [
        ...film.doubts,
        ...diagramDoubts(rareEarth, request.temperatureC, request.po2Atm, isMoved(request)),
        ...disputeDoubts(liquidOdds, found.driving[LIQUID] ?? Number.POSITIVE_INFINITY),
        ...placeholderDoubts(rareEarth, namesThatMatter(found)),
      ],
    };
  },
});

/** A field with less than this is no rival. */
const RIVAL_ODDS = 0.05;
/** A phase this near to the stable ones may decide, J per mole of cations. */
const RIVAL_J_PER_MOL = 1000;

/** Phases of every field with some odds, and those that lie just above: what decides the answer. */
function namesThatMatter({ odds, driving }: Assemblage): string[] {
  const inFields = Object.entries(odds)
    .filter(([, probability]) => probability >= RIVAL_ODDS)
    .flatMap(([field]) => field.split(FIELD_JOINT));
  const near = Object.entries(driving)
    .filter(([, height]) => Math.abs(height) < RIVAL_J_PER_MOL)
    .map(([name]) => name);
  return [...new Set([...inFields, ...near])];
}
