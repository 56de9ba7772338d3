// Records from a page: what is read, and the changes that write. Every change has an id made here, so that a repeat of
// a request that broke off does nothing twice.
import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { v7 as newId } from 'uuid';
import type { RecordBodies, RecordKind, StoredRecord } from '../records/kinds.ts';
import type { SeriesView } from '../records/series-view.ts';
import { api, dataOf } from './api.ts';

export { newId };

export const seriesKey = (seriesId: string) => ['series', seriesId] as const;

export function useSeriesList() {
  return useQuery({ queryKey: ['series'], queryFn: () => dataOf(api.GET('/api/series')) });
}

export function useSeriesView(seriesId: string) {
  return useQuery({
    queryKey: seriesKey(seriesId),
    queryFn: async () =>
      (await dataOf(
        api.GET('/api/series/{seriesId}', { params: { path: { seriesId } } }),
      )) as unknown as SeriesView,
  });
}

/** After any change of a series: read it and its history again. */
export function useRefresh() {
  const client = useQueryClient();
  return () => client.invalidateQueries();
}

interface Creation<Kind extends RecordKind> {
  kind: Kind;
  seriesId: string | null;
  body: RecordBodies[Kind];
  id?: string;
  changeId?: string;
}

/** Creates a record; answers it as stored. */
export async function createRecord<Kind extends RecordKind>(
  creation: Creation<Kind>,
): Promise<StoredRecord<Kind>> {
  const { kind, seriesId, body, id = newId(), changeId = newId() } = creation;
  const record = await dataOf(
    api.POST('/api/records/{kind}', {
      params: { path: { kind } },
      body: { id, changeId, seriesId, body },
    }),
  );
  return record as unknown as StoredRecord<Kind>;
}

/** Writes a new revision of a record as it was seen; refused in words if it changed meanwhile. */
export async function reviseRecord<Kind extends RecordKind>(
  seen: { kind: string; id: string; revision: number },
  body: RecordBodies[Kind],
  changeId = newId(),
): Promise<StoredRecord<Kind>> {
  const record = await dataOf(
    api.PUT('/api/records/{kind}/{id}', {
      params: {
        path: { kind: seen.kind as RecordKind, id: seen.id },
        header: { 'if-match': String(seen.revision) },
      },
      body: { changeId, body },
    }),
  );
  return record as unknown as StoredRecord<Kind>;
}

/** Marks a record deleted; undo brings it back. */
export async function removeRecord(
  seen: { kind: string; id: string; revision: number },
  changeId = newId(),
): Promise<void> {
  await dataOf(
    api.DELETE('/api/records/{kind}/{id}', {
      params: {
        path: { kind: seen.kind as RecordKind, id: seen.id },
        header: { 'if-match': String(seen.revision) },
        query: { changeId },
      },
    }),
  );
}

/** A mutation that refreshes what the page shows when it is done. */
export function useChange<Input, Output>(change: (input: Input) => Promise<Output>) {
  const refresh = useRefresh();
  return useMutation({ mutationFn: change, onSuccess: () => refresh() });
}
