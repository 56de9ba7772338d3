// Schema parts that every catalogue entry shares: quantities, flags, cations, numeric arrays.
import { z } from 'zod';

/** Longest numeric array a request may carry, inline or as a blob. */
export const MAX_ARRAY_LENGTH = 2_000_000;
/** Longest array that may stand inline on the wire; longer ones travel as a blob. */
const MAX_INLINE_LENGTH = 200_000;

/** A measured or fitted number: its unit is fixed by the schema that holds it. */
export const quantitySchema = z.strictObject({
  value: z.number(),
  standardUncertainty: z.number().min(0),
  unit: z.string().max(40),
});
export type Quantity = z.infer<typeof quantitySchema>;

/** Why a result is missing, extrapolated or doubtful; the sentence is for people. */
export const flagSchema = z.strictObject({ code: z.string().max(60), message: z.string().max(1000) });
export type Flag = z.infer<typeof flagSchema>;
export const flagsSchema = z.array(flagSchema).max(200);

/** Amount of each cation; any common factor. A cation given as 0 or left out is the same. */
export const cationsSchema = z.record(z.string().regex(/^[A-Z][a-z]?$/), z.number().min(0).max(1e6));
export type Cations = z.infer<typeof cationsSchema>;

/** Column of a stored table of little-endian float64: the runner turns it into a Float64Array before `run`. */
export const blobColumnSchema = z.strictObject({
  blob: z.string().regex(/^[0-9a-f]{64}$/),
  column: z.number().int().min(0).max(999),
});
export type BlobColumn = z.infer<typeof blobColumnSchema>;

/** A stored JSON document: the runner puts the document in its place before `run`. */
export const blobDocumentSchema = z.strictObject({ blob: z.string().regex(/^[0-9a-f]{64}$/) });
export type BlobDocument = z.infer<typeof blobDocumentSchema>;

/** What `run` sees of a numeric array, whichever way it travelled. */
export type NumericArray = Float64Array;

const toFloat64 = (values: (number | null)[]): Float64Array =>
  Float64Array.from(values, (value) => value ?? Number.NaN);

interface ArraySchemaOptions {
  /** may a number be missing (null on the wire, NaN inside)? */
  allowsMissing?: boolean;
  max?: number;
}

/**
 * Numeric array of a request: inline numbers or one column of a blob on the wire, a Float64Array inside. `run` never
 * sees the blob form, since the runner resolves it first; so the output type is the resolved one.
 */
export function numericArray({ allowsMissing = false, max = MAX_INLINE_LENGTH }: ArraySchemaOptions = {}) {
  const element = allowsMissing ? z.number().nullable() : z.number();
  const inline = z.array(element).max(max).transform(toFloat64);
  const resolved = z.custom<Float64Array>((value) => value instanceof Float64Array);
  return z.union([inline, blobColumnSchema, resolved]) as unknown as z.ZodType<
    NumericArray,
    (number | null)[] | BlobColumn | Float64Array
  >;
}

/** Numeric array of a response: NaN inside becomes null on the wire, where `allowsMissing` says so. */
export function numericResult({ allowsMissing = false, max = MAX_ARRAY_LENGTH }: ArraySchemaOptions = {}) {
  const element = allowsMissing ? z.number().nullable() : z.number();
  return z.array(element).max(max) as unknown as z.ZodType<ArrayLike<number>>;
}
