// Schema parts of the powders that a target is weighed from.
import { z } from 'zod';

export const cationSymbolSchema = z.string().max(3);
/** of one metal, whatever compounds hold it: mass fraction in the dried powder */
export const assaySchema = z.strictObject({
  cation: cationSymbolSchema,
  massFraction: z.number(),
  standardUncertainty: z.number(),
});
