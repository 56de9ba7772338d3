// Schema parts of the transfer from target to film.
import { z } from 'zod';

/** a number with its standard uncertainty */
export const statedSchema = z.strictObject({ value: z.number(), standardUncertainty: z.number().min(0) });
/** film atoms per target atom, a common factor free, by element */
export const factorsSchema = z.record(z.string().regex(/^[A-Z][a-z]?$/), statedSchema);
/** share of the deposited atoms that heating loses later, by element; 0 where left out */
export const lossesSchema = factorsSchema.optional();
export const amountsSchema = z.record(z.string(), z.number());
