// The HTTP server, put together: security, problems, the catalogue, the records, the pages.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fastifyStatic from '@fastify/static';
import fastifySwagger from '@fastify/swagger';
import Fastify, { type FastifyInstance, type FastifyRequest } from 'fastify';
import { createJsonSchemaTransform, serializerCompiler, validatorCompiler } from 'fastify-type-provider-zod';
import { JobList } from '../jobs/job-list.ts';
import type { Workbench } from '../jobs/workbench.ts';
import { refuseDeepBodies } from './deep-bodies.ts';
import { ServerError } from './errors.ts';
import { registerProblems, sendProblem } from './problems.ts';
import { registerComputations } from './routes/computations.ts';
import { registerImports } from './routes/imports.ts';
import { registerJudging } from './routes/judging.ts';
import { registerRecords } from './routes/records.ts';
import { registerTables } from './routes/tables.ts';
import { registerSecurity } from './security.ts';

/** Largest JSON request, in bytes; files have a limit of their own. */
const MAX_JSON_BYTES = 8 * 1024 * 1024;

export interface AppParts {
  bench: Workbench;
  clock: () => Date;
  /** folder of the built pages; null serves the API alone */
  pagesFolder: string | null;
  /** the port listened on, known once it listens */
  port: () => number;
  /** how long a computation is waited for before the answer is a job, ms */
  shortWaitMs?: number;
}

function refuseUnknownRoute({ method, url }: FastifyRequest): never {
  throw new ServerError('ROUTE_UNKNOWN', `Nothing answers ${method} ${url.slice(0, 200)}.`);
}

async function registerPages(app: FastifyInstance, folder: string): Promise<void> {
  const page = readFileSync(join(folder, 'index.html'), 'utf8');
  await app.register(fastifyStatic, {
    root: join(folder, 'assets'),
    prefix: '/assets/',
    immutable: true,
    maxAge: '1y',
  });
  app.get('/icon.svg', { schema: { hide: true } as never }, (_request, reply) =>
    reply.type('image/svg+xml').send(readFileSync(join(folder, 'icon.svg'))),
  );
  app.setNotFoundHandler(async (request, reply) => {
    if (
      !['GET', 'HEAD'].includes(request.method) ||
      request.url.startsWith('/api/') ||
      request.url.startsWith('/assets/')
    ) {
      refuseUnknownRoute(request);
    }
    // every other address is a page: the program in the browser reads it
    return reply
      .type('text/html')
      .header('cache-control', 'no-store')
      .send(page.replace('%STYLE_NONCE%', reply.cspNonce.style));
  });
}

/** A server that does not listen yet; tests inject requests into it. */
export async function buildApp(parts: AppParts): Promise<FastifyInstance> {
  const app = Fastify({
    bodyLimit: MAX_JSON_BYTES,
    routerOptions: { maxParamLength: 200 },
    frameworkErrors: (error, _request, reply) => sendProblem(error, reply),
  });
  const jobs = new JobList(parts.bench.runner);
  app.addHook('preClose', async () => jobs.cancelAll());
  app.setValidatorCompiler(validatorCompiler);
  app.setSerializerCompiler(serializerCompiler);
  registerProblems(app);
  refuseDeepBodies(app);
  await registerSecurity(app, parts.port);
  await app.register(fastifySwagger, {
    openapi: {
      openapi: '3.1.0',
      info: {
        title: 'Peritect',
        version: '0.1.0',
        description:
          'Made from the schemas of the catalogue and the records. Requests that change something carry X-Peritect: 1.',
      },
    },
    transform: createJsonSchemaTransform({ zodToJsonConfig: { unrepresentable: 'any' } as never }),
  });
  await app.register(async (routes) => {
    registerComputations(routes, jobs, parts.clock, parts.shortWaitMs);
    registerRecords(routes, parts.bench.store);
    registerImports(routes, parts.bench);
    registerTables(routes, parts.bench);
    registerJudging(routes, parts.bench);
    routes.get('/api/openapi.json', { schema: { hide: true } as never }, async () => app.swagger());
  });
  if (parts.pagesFolder) await registerPages(app, parts.pagesFolder);
  else app.setNotFoundHandler(async (request) => refuseUnknownRoute(request));
  return app;
}
