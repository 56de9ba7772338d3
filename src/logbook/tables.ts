// The tables of the store as the queries see them. Times are UTC ISO text, bodies JSON text, truth values 0 or 1.
import type { Dialect, Kysely } from 'kysely';

export interface Tables {
  schema_steps: { step: number; name: string; at: string };
  changes: {
    /** 1, 2, 3 ... in the order of commit */
    sequence: number;
    id: string;
    at: string;
    by: string;
    what: string;
    series_id: string | null;
    result: string;
    undoes: string | null;
  };
  records: {
    id: string;
    kind: string;
    series_id: string | null;
    parent_id: string | null;
    label: string | null;
    revision: number;
    body: string;
    created_at: string;
    updated_at: string;
    by: string;
    is_deleted: number;
  };
  revisions: {
    record_id: string;
    revision: number;
    change_id: string;
    at: string;
    by: string;
    body: string;
    is_deleted: number;
  };
  /** which record names which, made from the newest bodies: parents and every other naming field */
  mentions: { from_id: string; field: string; to_id: string };
  files: { sha256: string; bytes: number; first_name: string; media: string; at: string };
}

export type DialectName = 'sqlite' | 'postgres';

/** A database of another engine, handed in from outside; its Kysely dialect is made anew for each store. */
export interface GivenDatabase {
  readonly dialectName: DialectName;
  readonly dialect: Dialect;
}

/** The connections of an open store. `reader` may be the same as `writer`. */
export interface Connections {
  readonly dialectName: DialectName;
  readonly writer: Kysely<Tables>;
  readonly reader: Kysely<Tables>;
}
