// Tables of past films over HTTP: a dry run, then one change.
import type { FastifyInstance } from 'fastify';
import type { ZodTypeProvider } from 'fastify-type-provider-zod';
import {
  tableImportAnswerSchema,
  tableImportRequestSchema,
  tableLookSchema,
  tableRequestSchema,
} from '../../api/contract.ts';
import { importTable, lookAtTable } from '../../jobs/past-films.ts';
import type { Workbench } from '../../jobs/workbench.ts';

export function registerTables(root: FastifyInstance, bench: Workbench): void {
  const app = root.withTypeProvider<ZodTypeProvider>();
  app.post(
    '/api/tables/look',
    {
      schema: {
        summary: 'What a table of past films would make, with its doubts; nothing is recorded',
        tags: ['files'],
        body: tableRequestSchema,
        response: { 200: tableLookSchema },
      },
      serializerCompiler: () => (data: unknown) => JSON.stringify(data),
    },
    async ({ body }) => lookAtTable(bench, body),
  );
  app.post(
    '/api/tables/import',
    {
      schema: {
        summary: 'Read the films of a table in, as one change',
        tags: ['files'],
        body: tableImportRequestSchema,
        response: { 201: tableImportAnswerSchema },
      },
    },
    async ({ body }, reply) => reply.status(201).send(await importTable(bench, body)),
  );
}
