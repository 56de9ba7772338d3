// Files, tables, measurements and changes as the pages ask for them.

import type { z } from 'zod';
import type {
  changeSchema,
  FileLook,
  ImportRequest,
  importAnswerSchema,
  MeasurementView,
  rolesSchema,
  tableImportAnswerSchema,
  tableLookSchema,
} from '../api/contract.ts';
import type { MeasurementSettings, ReadingAnswers, TableReading } from '../records/kinds.ts';
import { api, dataOf } from './api.ts';
import { newId } from './records.ts';

export type Change = z.infer<typeof changeSchema>;
export type ImportAnswer = z.infer<typeof importAnswerSchema>;
export type KindRoles = z.infer<typeof rolesSchema>[number];
export type TableLook = z.infer<typeof tableLookSchema>;
export type TableImportAnswer = z.infer<typeof tableImportAnswerSchema>;

interface FileRef {
  seriesId: string;
  sha256: string;
  fileName: string;
}

export async function lookAtFile(
  file: FileRef & { reading?: ReadingAnswers },
  signal?: AbortSignal,
): Promise<FileLook> {
  return (await dataOf(api.POST('/api/imports/look', { body: file, signal }))) as FileLook;
}

export async function importRoles(): Promise<KindRoles[]> {
  return await dataOf(api.GET('/api/imports/roles'));
}

export async function importFile(request: ImportRequest, signal?: AbortSignal): Promise<ImportAnswer> {
  return (await dataOf(api.POST('/api/imports', { body: request, signal }))) as unknown as ImportAnswer;
}

export async function measurementView(measurementId: string): Promise<MeasurementView> {
  const asked = api.GET('/api/measurements/{measurementId}', { params: { path: { measurementId } } });
  return (await dataOf(asked)) as unknown as MeasurementView;
}

export async function reduceAgain(
  measurementId: string,
  order: { changeId: string; settings: MeasurementSettings },
  signal?: AbortSignal,
): Promise<MeasurementView> {
  const asked = api.POST('/api/measurements/{measurementId}/reduce', {
    params: { path: { measurementId } },
    body: order,
    signal,
  });
  return (await dataOf(asked)) as unknown as MeasurementView;
}

type TableRef = FileRef & { reading?: TableReading };

export async function lookAtTable(
  file: TableRef,
  mapping: unknown,
  signal?: AbortSignal,
): Promise<TableLook> {
  return (await dataOf(api.POST('/api/tables/look', { body: { ...file, mapping }, signal }))) as TableLook;
}

export async function importTable(
  file: TableRef,
  mapping: unknown,
  changeId: string,
  signal?: AbortSignal,
): Promise<TableImportAnswer> {
  return await dataOf(api.POST('/api/tables/import', { body: { ...file, mapping, changeId }, signal }));
}

/** Takes a change back; the change that did it can be taken back too. Answers with its id. */
export async function undoChange(id: string): Promise<string> {
  const asked = api.POST('/api/changes/{id}/undo', { params: { path: { id } }, body: { changeId: newId() } });
  return (await dataOf(asked)).changeId;
}

/** Version of each catalogue entry as it runs now, by name. */
export async function versionsNow(): Promise<Map<string, number>> {
  const entries = await dataOf(api.GET('/api/computations'));
  return new Map(entries.map(({ name, version }) => [name, version]));
}

/** What was changed in a series, newest first. */
export async function seriesChanges(seriesId: string): Promise<Change[]> {
  const asked = api.GET('/api/series/{seriesId}/changes', { params: { path: { seriesId } } });
  return await dataOf(asked);
}

/** Where a raw file is sent back as an attachment. */
export const fileAddress = (sha256: string): string => `/api/files/${sha256}`;
