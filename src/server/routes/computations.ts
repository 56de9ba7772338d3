// The catalogue over HTTP: one route an entry, so that the OpenAPI document types each request and response.
import type { OutgoingHttpHeaders } from 'node:http';
import { Readable } from 'node:stream';
import type { FastifyInstance, FastifyReply } from 'fastify';
import type { ZodTypeProvider } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { computationListSchema, jobSchema } from '../../api/contract.ts';
import { CATALOGUE } from '../../computations/catalogue.ts';
import { type Job, type JobList, MAX_RUNNING_JOBS } from '../../jobs/job-list.ts';
import { effectiveVersion } from '../../runner/effective-version.ts';
import { findComputationOrThrow } from '../../runner/find-computation.ts';
import { ServerError } from '../errors.ts';
import { problemOf } from '../problems.ts';

/** An entry that has not answered by then becomes a job. */
const SHORT_WAIT_MS = 5000;
const asJson = () => (data: unknown) => JSON.stringify(data);
const unchecked = () => (data: unknown) => ({ value: data }); // the worker checks, off the event loop

function jobView(job: Job): z.infer<typeof jobSchema> {
  const { id, computation, current } = job;
  const base = { id, computation, state: current.state, done: 0, total: 0 };
  if (current.state === 'running') return { ...base, done: current.done, total: current.total };
  if (current.state === 'done') return { ...base, response: current.response };
  if (current.state === 'failed') return { ...base, problem: problemOf(current.error) };
  return base;
}

/** What came as something else than JSON is a stream or a text, which no worker can be handed. */
function jsonOrThrow(body: unknown): object {
  const isJson = typeof body === 'object' && body !== null && !(body instanceof Readable);
  if (isJson) return body;
  throw new ServerError('BODY_INVALID', 'The body is no JSON object, which a computation takes.');
}

function findJobOrThrow(jobs: JobList, id: string): Job {
  const job = jobs.find(id);
  if (!job) throw new ServerError('JOB_UNKNOWN', `No job has the id ${id}.`);
  return job;
}

/** Waits for a job a short while; answers its response, or 202 and where to follow it. */
async function answerOrJob(reply: FastifyReply, job: Job, waitMs: number): Promise<unknown> {
  const timer = Promise.withResolvers<void>();
  const timeout = setTimeout(timer.resolve, waitMs);
  await Promise.race([job.finished, timer.promise]);
  clearTimeout(timeout);
  if (job.current.state === 'done') return job.current.response;
  if (job.current.state === 'failed') throw job.current.error;
  reply.status(202).header('location', `/api/jobs/${job.id}`);
  return jobView(job);
}

export function registerComputations(
  root: FastifyInstance,
  jobs: JobList,
  clock: () => Date,
  shortWaitMs = SHORT_WAIT_MS,
): void {
  const app = root.withTypeProvider<ZodTypeProvider>();
  app.get(
    '/api/computations',
    {
      schema: {
        summary: 'Every computation',
        tags: ['computations'],
        response: { 200: computationListSchema },
      },
    },
    async () =>
      CATALOGUE.map((entry) => ({
        name: entry.name,
        version: entry.version,
        effectiveVersion: effectiveVersion(entry),
        summary: entry.summary,
        cost: entry.cost,
      })),
  );
  app.get(
    '/api/computations/:name/schema',
    {
      schema: {
        summary: 'Request and response schema of one computation, with an example',
        tags: ['computations'],
        params: z.object({ name: z.string().max(100) }),
        response: { 200: z.object({ request: z.unknown(), response: z.unknown(), example: z.unknown() }) },
      },
    },
    async ({ params }) => {
      const entry = findComputationOrThrow(params.name);
      return {
        request: z.toJSONSchema(entry.request, { io: 'input', unrepresentable: 'any' }),
        response: z.toJSONSchema(entry.response, { io: 'input', unrepresentable: 'any' }),
        example: entry.example,
      };
    },
  );
  for (const entry of CATALOGUE) {
    app.post(
      `/api/computations/${entry.name}`,
      {
        schema: {
          summary: entry.summary,
          tags: ['computations'],
          body: entry.request,
          response: { 200: entry.response, 202: jobSchema },
        },
        validatorCompiler: unchecked,
        serializerCompiler: asJson,
      },
      async ({ body }, reply) => {
        if (jobs.runningCount >= MAX_RUNNING_JOBS) {
          throw new ServerError('TOO_MANY_JOBS', `${MAX_RUNNING_JOBS} jobs are running.`);
        }
        const job = jobs.start(entry.name, jsonOrThrow(body), clock().toISOString());
        return answerOrJob(reply, job, shortWaitMs) as never;
      },
    );
  }
  app.post('/api/computations/:name', { schema: { hide: true } as never }, async ({ params }) => {
    findComputationOrThrow((params as { name: string }).name); // throws with the nearest names
  });
  const jobParams = z.object({ id: z.string().max(60) });
  app.get(
    '/api/jobs/:id',
    {
      schema: {
        summary: 'How far a job is',
        tags: ['jobs'],
        params: jobParams,
        response: { 200: jobSchema },
      },
      serializerCompiler: asJson,
    },
    async ({ params }) => jobView(findJobOrThrow(jobs, params.id)),
  );
  app.delete(
    '/api/jobs/:id',
    {
      schema: { summary: 'Cancel a job', tags: ['jobs'], params: jobParams, response: { 200: jobSchema } },
      serializerCompiler: asJson,
    },
    async ({ params }) => {
      const job = findJobOrThrow(jobs, params.id);
      job.cancel();
      await job.finished;
      return jobView(job);
    },
  );
  app.get(
    '/api/jobs/:id/events',
    { schema: { summary: 'Progress of a job as server-sent events', tags: ['jobs'], params: jobParams } },
    async ({ params }, reply) => {
      const job = findJobOrThrow(jobs, params.id);
      reply.hijack();
      const { raw } = reply;
      raw.writeHead(200, {
        ...(reply.getHeaders() as OutgoingHttpHeaders),
        'content-type': 'text/event-stream',
        'cache-control': 'no-store',
      });
      let isFull = false; // a slow reader misses steps between, never the last one
      const send = (): void => {
        if (isFull && job.current.state === 'running') return;
        isFull = !raw.write(`data: ${JSON.stringify(jobView(job))}\n\n`);
      };
      raw.on('drain', () => {
        isFull = false;
      });
      const stop = job.current.state === 'running' ? job.watch(send) : () => {};
      raw.on('close', stop);
      send();
      await job.finished;
      stop();
      raw.end();
    },
  );
}
