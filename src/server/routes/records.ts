// Records over HTTP: create, revise, remove, read, history, undo. The rules are the logbook's.
import type { FastifyInstance } from 'fastify';
import type { ZodTypeProvider } from 'fastify-type-provider-zod';
import { z } from 'zod';
import {
  anyRecordSchema,
  changeRequestSchema,
  changeSchema,
  createRequestSchema,
  reviseRequestSchema,
  revisionSchema,
  seriesListSchema,
} from '../../api/contract.ts';
import { firstAnswer } from '../../jobs/first-answer.ts';
import { seriesViewFrom } from '../../jobs/series-view.ts';
import type { AnyRecord } from '../../logbook/reader.ts';
import type { Store } from '../../logbook/store.ts';
import { recordIdSchema } from '../../records/common.ts';
import { RECORD_KINDS, type RecordBodies, type RecordKind } from '../../records/kinds.ts';
import { seriesViewSchema } from '../../records/series-view.ts';
import { ServerError } from '../errors.ts';

const kindSchema = z.enum(RECORD_KINDS as [RecordKind, ...RecordKind[]]);
const kindParams = z.object({ kind: kindSchema });
const recordParams = z.object({ kind: kindSchema, id: recordIdSchema });
const seriesParams = z.object({ seriesId: recordIdSchema });
const ifMatch = z.object({ 'if-match': z.string().max(20).optional() });

/** Made by the program from what it read and computed: nobody writes them by hand, or a result could be made up. */
const COMPUTED_KINDS: readonly RecordKind[] = ['measurement', 'analysis', 'verdict', 'proposals'];

function refuseComputed(kind: RecordKind): void {
  if (COMPUTED_KINDS.includes(kind))
    throw new ServerError('KIND_COMPUTED', `A record of the kind ${kind} cannot be written by hand.`);
}

/** The revision that the caller saw: the number in If-Match, with or without quotes. */
function seenRevision(header: string | undefined): number {
  const number = Number((header ?? '').replaceAll('"', '').replace(/^W\//, ''));
  if (!Number.isInteger(number) || number < 1) {
    throw new ServerError(
      'IF_MATCH_MISSING',
      `If-Match is '${header ?? ''}', expected a revision such as 3.`,
    );
  }
  return number;
}

function nameOf(body: unknown): string {
  const label = (body as { label?: unknown } | null)?.label;
  return typeof label === 'string' ? ` ${label.slice(0, 100)}` : '';
}

export function registerRecords(root: FastifyInstance, store: Store): void {
  const app = root.withTypeProvider<ZodTypeProvider>();
  app.get(
    '/api/series',
    { schema: { summary: 'Every series', tags: ['series'], response: { 200: seriesListSchema } } },
    async () => {
      const series = await store.read.list('series');
      return Promise.all(
        series.map(async ({ id, body }) => ({
          id,
          label: body.label,
          isInvented: body.isInvented,
          filmCount: (await store.read.list('film', { seriesId: id })).length,
        })),
      );
    },
  );
  app.get(
    '/api/series/:seriesId',
    {
      schema: {
        summary: 'A series with all that belongs to it',
        tags: ['series'],
        params: seriesParams,
        response: { 200: seriesViewSchema },
      },
      serializerCompiler: () => (data: unknown) => JSON.stringify(data),
    },
    async ({ params }) => {
      await store.read.findOrThrow('series', params.seriesId);
      return seriesViewFrom(await store.read.seriesRecords(params.seriesId));
    },
  );
  app.get(
    '/api/series/:seriesId/changes',
    {
      schema: {
        summary: 'What was changed in a series, newest first',
        tags: ['series'],
        params: seriesParams,
        response: { 200: z.array(changeSchema) },
      },
    },
    async ({ params }) =>
      (await store.read.changes({ seriesId: params.seriesId, limit: 200 })).map(
        ({ id, at, by, what, undoes, undoneBy }) => ({
          id,
          at,
          by,
          what,
          undoes,
          isUndone: undoneBy !== null,
        }),
      ),
  );
  app.post(
    '/api/changes/:id/undo',
    {
      schema: {
        summary: 'Take a change back by a new one',
        tags: ['series'],
        params: z.object({ id: recordIdSchema }),
        body: changeRequestSchema,
        response: { 200: z.object({ changeId: recordIdSchema }) },
      },
    },
    async ({ params, body }) => {
      await store.undo({ changeId: body.changeId, ofChange: params.id });
      return { changeId: body.changeId };
    },
  );
  app.post(
    '/api/records/:kind',
    {
      schema: {
        summary: 'Create a record; a repeat with the same change id answers with the first result',
        tags: ['records'],
        params: kindParams,
        body: createRequestSchema,
        response: { 201: anyRecordSchema },
      },
    },
    async ({ params, body }, reply) => {
      refuseComputed(params.kind);
      const { id, changeId, seriesId } = body;
      const record = await store.write(
        { changeId, what: `created ${params.kind}${nameOf(body.body)}` },
        (transaction) =>
          transaction.create(params.kind, id, seriesId, body.body as RecordBodies[typeof params.kind]),
      );
      return reply.status(201).send(record);
    },
  );
  app.put(
    '/api/records/:kind/:id',
    {
      schema: {
        summary: 'Revise a record as it was seen',
        tags: ['records'],
        params: recordParams,
        headers: ifMatch,
        body: reviseRequestSchema,
        response: { 200: anyRecordSchema },
      },
    },
    async ({ params, headers, body }) => {
      refuseComputed(params.kind);
      const seen = seenRevision(headers['if-match']);
      return store.write(
        { changeId: body.changeId, what: `revised ${params.kind}${nameOf(body.body)}` },
        (transaction) =>
          transaction.revise(params.kind, params.id, seen, body.body as RecordBodies[typeof params.kind]),
      );
    },
  );
  app.delete(
    '/api/records/:kind/:id',
    {
      schema: {
        summary: 'Mark a record removed, with what hangs on it',
        tags: ['records'],
        params: recordParams,
        headers: ifMatch,
        querystring: changeRequestSchema,
        response: { 200: z.array(anyRecordSchema) },
      },
    },
    async ({ params, headers, query }) => {
      const seen = seenRevision(headers['if-match']);
      const [first] = await firstAnswer<AnyRecord[]>(store, query.changeId, (what) =>
        what.startsWith('removed '),
      );
      if (first) return first;
      const record = await store.read.findOrThrow(params.kind, params.id);
      return store.write(
        { changeId: query.changeId, what: `removed ${params.kind}${nameOf(record.body)}` },
        (transaction) => transaction.remove(params.id, seen),
      );
    },
  );
  app.get(
    '/api/records/:kind/:id',
    {
      schema: {
        summary: 'A record as it is now',
        tags: ['records'],
        params: recordParams,
        response: { 200: anyRecordSchema },
      },
    },
    async ({ params }) => store.read.findOrThrow(params.kind, params.id),
  );
  app.get(
    '/api/records/:kind/:id/revisions',
    {
      schema: {
        summary: 'All that a record has been, first revision first',
        tags: ['records'],
        params: recordParams,
        response: { 200: z.array(revisionSchema) },
      },
    },
    async ({ params }) =>
      (await store.read.revisions(params.id)).map(({ revision, changeId, at, by, body, isDeleted }) => ({
        revision,
        changeId,
        at,
        by,
        isDeleted,
        body,
      })),
  );
}
