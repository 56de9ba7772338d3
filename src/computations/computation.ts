// What a catalogue entry is. A door (command line, HTTP, job, page) knows this shape and no entry by name.
import type { z } from 'zod';

/** instant: a slider can drive it; interactive: under a few seconds; long: planned in parts. */
export type Cost = 'instant' | 'interactive' | 'long';

/** Name and content digest of a table an entry rests on; a changed byte makes stored results stale. */
export interface TableDigest {
  readonly table: string;
  readonly digest: string;
}

interface Described<Request, Response> {
  /** `subject.capability`, part of the contract */
  readonly name: string;
  /** raised whenever the same request gives another response */
  readonly version: number;
  readonly summary: string;
  readonly request: z.ZodType<Request, unknown>;
  readonly response: z.ZodType<Response, unknown>;
  /** names of the entries and readers whose change changes this one's answer */
  readonly uses: readonly string[];
  readonly tables: readonly TableDigest[];
  readonly cost: Cost;
  /** a request as it stands on the wire; its response's digest is kept by `npm run check` */
  readonly example: unknown;
}

export interface ShortComputation<Request, Response> extends Described<Request, Response> {
  /** Pure and deterministic: a seed is part of the request. */
  run(request: Request): Response;
}

export interface LongComputation<Request, Response, Part, PartResult> extends Described<Request, Response> {
  readonly cost: 'long';
  plan(request: Request): readonly Part[];
  runPart(part: Part): PartResult;
  /** @param results one a part, in the plan's order */
  merge(request: Request, results: readonly PartResult[]): Response;
}

/** An entry whose request type is forgotten; `parseRequest` of the runner stands between the wire and `run`. */
type Erased<Entry> = Omit<Entry, 'request'> & { readonly request: z.ZodType<unknown, unknown> };

export type Computation =
  | Erased<ShortComputation<never, unknown>>
  | Erased<LongComputation<never, unknown, unknown, unknown>>;

/** Gives a short entry its types from its schemas. */
export function shortComputation<Request, Response>(
  entry: ShortComputation<Request, Response>,
): ShortComputation<Request, Response> {
  return entry;
}

/** Gives a long entry its types from its schemas, its plan and its parts. */
export function longComputation<Request, Response, Part, PartResult>(
  entry: LongComputation<Request, Response, Part, PartResult>,
): LongComputation<Request, Response, Part, PartResult> {
  return entry;
}
