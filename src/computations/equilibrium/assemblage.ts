// Catalogue entry: which phases are there at a composition, T and pO2, how much of each, and how sure that is.
import { z } from 'zod';
import { assemblageAt, FIELD_JOINT } from '../../science/equilibrium/assemblage.ts';
import { LIQUID } from '../../science/equilibrium/diagram.ts';
import {
  diagramDoubts,
  disputeDoubts,
  placeholderDoubts,
  triangleComposition,
} from '../../science/equilibrium/limits.ts';
import { shortComputation } from '../computation.ts';
import { cationsSchema, flagsSchema, quantitySchema } from '../schema.ts';
import { conditionFields, conditionsOf, EQUILIBRIUM_TABLES, isMoved, membersOf } from './request.ts';

const shareSchema = z.number().min(0).max(1);

export const equilibriumAssemblage = shortComputation({
  name: 'equilibrium.assemblage',
  version: 1,
  summary: 'Phases at a cation ratio, temperature and oxygen pressure, with the odds of each phase field.',
  request: z.strictObject({ cations: cationsSchema, ...conditionFields }),
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
    /** J per mole of its cations that each phase lies above the plane of the stable ones here */
    driving: z.record(z.string(), z.number()),
    flags: flagsSchema,
  }),
  uses: [],
  tables: EQUILIBRIUM_TABLES,
  cost: 'instant',
  example: { cations: { Dy: 1, Ba: 3, Cu: 6 }, temperatureC: 900, po2Atm: 0.1 },
  run(request) {
    const { rareEarth, shares, doubts } = triangleComposition(request.cations);
    const conditions = conditionsOf(request, rareEarth);
    const { odds, phases, liquidShare, driving } = assemblageAt(membersOf(request), conditions, shares);
    const liquidOdds = Object.entries(odds)
      .filter(([field]) => field.split(FIELD_JOINT).includes(LIQUID))
      .reduce((sum, [, probability]) => sum + probability, 0);
    return {
      odds,
      phases: phases.map(({ name, share, shareU, composition: [re, ba, cu] }) => ({
        name,
        share,
        shareU,
        composition: {
          cations: Object.fromEntries(
            Object.entries({ [rareEarth]: re, Ba: ba, Cu: cu }).filter(([, amount]) => amount > 0),
          ),
        },
      })),
      liquidShare: { ...liquidShare, unit: '1' },
      driving,
      flags: [
        ...doubts,
        ...diagramDoubts(rareEarth, request.temperatureC, request.po2Atm, isMoved(request)),
        ...disputeDoubts(liquidOdds),
        ...placeholderDoubts(
          rareEarth,
          phases.map(({ name }) => name),
        ),
      ],
    };
  },
});
