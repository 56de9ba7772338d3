// Verdicts and the next targets over HTTP.
import type { FastifyInstance } from 'fastify';
import type { ZodTypeProvider } from 'fastify-type-provider-zod';
import { z } from 'zod';
import {
  anyRecordSchema,
  judgeAnswerSchema,
  judgeRequestSchema,
  proposeRequestSchema,
} from '../../api/contract.ts';
import { judgePieces } from '../../jobs/judge-pieces.ts';
import { proposeTargets } from '../../jobs/propose-targets.ts';
import { seriesViewFrom } from '../../jobs/series-view.ts';
import type { Workbench } from '../../jobs/workbench.ts';
import { recordIdSchema } from '../../records/common.ts';

const seriesParams = z.object({ seriesId: recordIdSchema });
const asJson = () => (data: unknown) => JSON.stringify(data);

export function registerJudging(root: FastifyInstance, bench: Workbench): void {
  const app = root.withTypeProvider<ZodTypeProvider>();
  app.post(
    '/api/series/:seriesId/judge',
    {
      schema: {
        summary: 'Judge pieces by the criteria of their series',
        tags: ['series'],
        params: seriesParams,
        body: judgeRequestSchema,
        response: { 200: judgeAnswerSchema },
      },
      serializerCompiler: asJson,
    },
    async ({ params, body }) => {
      const { verdicts: made } = await judgePieces(bench, { seriesId: params.seriesId, ...body });
      const view = seriesViewFrom(await bench.store.read.seriesRecords(params.seriesId));
      return { verdicts: view.verdicts.filter((verdict) => made.some(({ id }) => id === verdict.id)) };
    },
  );
  app.post(
    '/api/series/:seriesId/propose',
    {
      schema: {
        summary: 'Ask for the next targets',
        tags: ['series'],
        params: seriesParams,
        body: proposeRequestSchema,
        response: { 201: anyRecordSchema },
      },
      serializerCompiler: asJson,
    },
    async ({ params, body }, reply) =>
      reply.status(201).send((await proposeTargets(bench, { seriesId: params.seriesId, ...body })) as never),
  );
}
