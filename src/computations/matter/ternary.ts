// Catalogue entry: where a cation ratio lies in the RE-Ba-Cu triangle.
import { z } from 'zod';
import { rareEarthRadius, ternaryCoordinates } from '../../science/matter/cation-ratios.ts';
import { isRareEarth } from '../../science/matter/elements.ts';
import { IONIC_RADII_TABLE } from '../../science/tables/ionic-radii.ts';
import { shortComputation } from '../computation.ts';
import { cationsSchema, type Flag, flagsSchema } from '../schema.ts';

const isOutside = (symbol: string): boolean => !isRareEarth(symbol) && symbol !== 'Ba' && symbol !== 'Cu';
const shareSchema = z.number().min(0).max(1);

export const matterTernary = shortComputation({
  name: 'matter.ternary',
  version: 1,
  summary: 'Coordinates in the RE-Ba-Cu triangle, and mean and variance of the rare-earth radius.',
  request: z.strictObject({ cations: cationsSchema }),
  response: z.strictObject({
    /** shares of RE + Ba + Cu, adding to 1; all rare earths counted together */
    re: shareSchema,
    ba: shareSchema,
    cu: shareSchema,
    /** share of all cations that are none of the three */
    outside: shareSchema,
    /** trivalent, eightfold; null without a rare earth */
    radiusMeanAngstrom: z.number().nullable(),
    radiusVarianceAngstrom2: z.number().min(0).nullable(),
    flags: flagsSchema,
  }),
  uses: [],
  tables: [IONIC_RADII_TABLE],
  cost: 'instant',
  example: { cations: { Y: 0.5, Gd: 0.5, Ba: 2, Cu: 3, Zr: 0.1 } },
  run({ cations }) {
    const flags: Flag[] = [];
    const point = ternaryCoordinates(cations);
    const radius = rareEarthRadius(cations);
    if (!radius)
      flags.push({ code: 'NO_RARE_EARTH', message: 'There is no rare earth, so there is no radius of one.' });
    if (point.outside > 0) {
      const others = Object.keys(cations).filter((symbol) => cations[symbol]! > 0 && isOutside(symbol));
      flags.push({
        code: 'OUTSIDE_TRIANGLE',
        message: `${others.join(', ')} make ${(100 * point.outside).toPrecision(3)} % of the cations and lie outside the triangle; the point shows RE, Ba and Cu only.`,
      });
    }
    return {
      ...point,
      radiusMeanAngstrom: radius?.meanAngstrom ?? null,
      radiusVarianceAngstrom2: radius?.varianceAngstrom2 ?? null,
      flags,
    };
  },
});
