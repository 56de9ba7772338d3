// What a worker thread does: plan, run a part, merge, or run a short entry whole. Errors are carried as data, since a
// thrown class loses its fields on the way.

import type { FilmTableMapping } from '../formats/film-table/schema.ts';
import type { ColumnMapping, ReadingAnswers, TableReading } from '../records/kinds.ts';
import { findComputationOrThrow } from '../runner/find-computation.ts';
import { parseRequest } from '../runner/prepare.ts';
import { isLong } from '../runner/run-here.ts';
import type { CarriedError } from '../runner/runner.ts';
import { toWire } from '../runner/wire.ts';
import { DomainError } from '../science/errors.ts';
import {
  type FileOutcome,
  type LookedFile,
  lookAtBytes,
  type ReadCurve,
  type ReadTable,
  readCurveBytes,
  readTableBytes,
} from './file-tasks.ts';

export type Outcome<T> = { ok: true; value: T } | { ok: false; error: CarriedError };

function carried<T>(work: () => T): Outcome<T> {
  try {
    return { ok: true, value: work() };
  } catch (error) {
    if (!(error instanceof DomainError)) throw error;
    return { ok: false, error: { code: error.code, sentence: error.sentence, remedy: error.remedy } };
  }
}

function longOrThrow(name: string) {
  const entry = findComputationOrThrow(name);
  if (!isLong(entry)) throw new Error(`${name} has no plan.`);
  return entry;
}

export function runShort({ name, request }: { name: string; request: unknown }): Outcome<unknown> {
  return carried(() => {
    const entry = findComputationOrThrow(name);
    if (isLong(entry)) throw new Error(`${name} is planned in parts.`);
    return toWire(entry.run(parseRequest(entry, request)));
  });
}

export function plan({ name, request }: { name: string; request: unknown }): Outcome<readonly unknown[]> {
  return carried(() => {
    const entry = longOrThrow(name);
    return entry.plan(parseRequest(entry, request));
  });
}

export function runPart({ name, part }: { name: string; part: unknown }): Outcome<unknown> {
  return carried(() => longOrThrow(name).runPart(part));
}

export function merge({
  name,
  request,
  results,
}: {
  name: string;
  request: unknown;
  results: unknown[];
}): Outcome<unknown> {
  return carried(() => {
    const entry = longOrThrow(name);
    return toWire(entry.merge(parseRequest(entry, request), results));
  });
}

interface LookAsked {
  bytes: Uint8Array;
  fileName: string;
  reading?: ReadingAnswers;
}

export function look({ bytes, fileName, reading }: LookAsked): FileOutcome<LookedFile> {
  return lookAtBytes(bytes, fileName, reading);
}

export function readCurve({
  bytes,
  mapping,
}: {
  bytes: Uint8Array;
  mapping: ColumnMapping;
}): FileOutcome<ReadCurve> {
  return readCurveBytes(bytes, mapping);
}

export function readTable({
  bytes,
  mapping,
  usualRareEarth,
  reading,
}: {
  bytes: Uint8Array;
  mapping: FilmTableMapping | null;
  usualRareEarth: string | null;
  reading?: TableReading;
}): FileOutcome<ReadTable> {
  return readTableBytes(bytes, mapping, usualRareEarth, reading);
}
