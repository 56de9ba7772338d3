// Which record names which, and which files a body names. The rules are the same for every write.
import { issueSentences } from '../computations/schema-issues.ts';
import {
  PARENT_FIELD,
  RECORD_KINDS,
  RECORD_SCHEMAS,
  type RecordBodies,
  type RecordKind,
} from '../records/kinds.ts';
import { StoreError } from './errors.ts';

/** Kinds that may belong to no series, and then serve all. */
export const SHARED_KINDS: readonly RecordKind[] = ['lot', 'rememberedMapping', 'powder', 'chamber'];
/** Those of them that every series shows. */
export const KINDS_OF_ALL: readonly RecordKind[] = ['powder', 'chamber'];

const PARENT_KIND: Partial<Record<RecordKind, RecordKind>> = {
  run: 'target',
  film: 'run',
  piece: 'film',
  treatment: 'piece',
  measurement: 'piece',
  analysis: 'measurement',
  typedFacts: 'piece',
  verdict: 'piece',
};

/** Fields beside the parent's that name a record; removing what they name is refused while the namer is there. */
const NAMING_FIELDS: Partial<Record<RecordKind, Readonly<Record<string, RecordKind>>>> = {
  series: { benchmarkPieceId: 'piece', controlPieceId: 'piece' },
  target: { lotIds: 'lot' },
  run: { chamberId: 'chamber' },
  treatment: { planId: 'pathPlan', chamberId: 'chamber' },
  pathPlan: { chamberId: 'chamber' },
  measurement: { stateTreatmentId: 'treatment' },
  typedFacts: { stateTreatmentId: 'treatment' },
  verdict: { stateTreatmentId: 'treatment' },
  proposals: { seriesId: 'series' },
};

export interface Mention {
  readonly field: string;
  readonly toId: string;
  /** the kind that the field may name */
  readonly kind: RecordKind;
}

/** One record as a write left it. */
export interface TouchedRecord {
  readonly id: string;
  readonly kind: RecordKind;
  readonly seriesId: string | null;
  readonly label: string | null;
  readonly revision: number;
  readonly isDeleted: boolean;
  readonly mentions: readonly Mention[];
  readonly files: ReadonlySet<string>;
}

export function isRecordKind(kind: string): kind is RecordKind {
  return (RECORD_KINDS as readonly string[]).includes(kind);
}

/** @returns the record it hangs on; null where there is none */
export function parentIdOf(kind: RecordKind, body: object): string | null {
  const field = PARENT_FIELD[kind];
  const parentId = field === undefined ? null : (body as Record<string, unknown>)[field];
  return typeof parentId === 'string' ? parentId : null;
}

/** Every record that the body names, its parent first. */
export function mentionsIn(kind: RecordKind, body: object): Mention[] {
  const mentions: Mention[] = [];
  const parentField = PARENT_FIELD[kind];
  const parentKind = PARENT_KIND[kind];
  const fields = {
    ...(parentField && parentKind ? { [parentField]: parentKind } : {}),
    ...NAMING_FIELDS[kind],
  };
  for (const [field, namedKind] of Object.entries(fields)) {
    const named = (body as Record<string, unknown>)[field];
    const ids = new Set(Array.isArray(named) ? named : [named]);
    for (const id of ids) if (typeof id === 'string') mentions.push({ field, toId: id, kind: namedKind });
  }
  return mentions;
}

/** SHA-256 of every stored file a body names: `fileSha256` and `blob`, at any depth. */
export function filesNamedIn(body: unknown, found = new Set<string>()): Set<string> {
  if (Array.isArray(body)) for (const part of body) filesNamedIn(part, found);
  else if (body !== null && typeof body === 'object') {
    for (const [field, part] of Object.entries(body)) {
      if ((field === 'blob' || field === 'fileSha256') && typeof part === 'string') found.add(part);
      else filesNamedIn(part, found);
    }
  }
  return found;
}

/** The lab's own name of a record, where its kind has one. */
export function labelOf(body: object): string | null {
  const label = (body as { label?: unknown }).label;
  return typeof label === 'string' ? label : null;
}

/** `film "A 12"`, or `analysis 0190...` where there is no label. */
export function recordName(kind: string, id: string, label: string | null): string {
  return label === null ? `${kind} ${id}` : `${kind} ${JSON.stringify(label)}`;
}

/**
 * The body as its schema has it.
 *
 * @throws StoreError RECORD_BODY with up to five faults, each with its field and the value found
 */
export function parsedBody<Kind extends RecordKind>(kind: Kind, body: unknown): RecordBodies[Kind] {
  const parsed = RECORD_SCHEMAS[kind].safeParse(body);
  if (parsed.success) return parsed.data as RecordBodies[Kind];
  const faults = issueSentences(parsed.error, body);
  throw new StoreError('RECORD_BODY', `A ${kind} cannot be kept: ${faults.join('; ')}.`, {
    data: {
      kind,
      faults: parsed.error.issues.map(({ path, message }) => ({ path: path.map(String), message })),
    },
  });
}
