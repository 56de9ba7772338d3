// An app on a store of its own, asked as a page of its own origin would ask.
import type { FastifyInstance, InjectOptions, LightMyRequestResponse } from 'fastify';
import type { Problem } from '../../src/api/contract.ts';
import type { Workbench } from '../../src/jobs/workbench.ts';
import { buildApp } from '../../src/server/app.ts';
import { benchHere } from '../jobs/bench.ts';

const PORT = 4530;
export const OWN_HOST = `127.0.0.1:${PORT}`;

export interface OpenedApp {
  readonly app: FastifyInstance;
  readonly bench: Workbench;
  ask(method: InjectOptions['method'], url: string, options?: Asked): Promise<LightMyRequestResponse>;
}

interface Asked {
  /** sent as JSON, or as bytes if they are bytes */
  body?: unknown;
  headers?: Record<string, string>;
}

/** @param given a workbench to serve; one that computes in this thread if left out */
export async function openedApp(
  given: { bench?: Workbench; shortWaitMs?: number; pagesFolder?: string } = {},
): Promise<OpenedApp> {
  const bench = given.bench ?? (await benchHere());
  const app = await buildApp({
    bench,
    clock: () => new Date('2026-01-01T00:00:00Z'),
    pagesFolder: given.pagesFolder ?? null,
    port: () => PORT,
    ...(given.shortWaitMs === undefined ? {} : { shortWaitMs: given.shortWaitMs }),
  });
  return {
    app,
    bench,
    ask(method = 'GET', url, { body, headers = {} } = {}) {
      const isBytes = body instanceof Uint8Array;
      const type = isBytes ? 'application/octet-stream' : 'application/json';
      const payload = isBytes ? Buffer.from(body) : body === undefined ? undefined : JSON.stringify(body);
      return app.inject({
        method,
        url,
        headers: {
          host: OWN_HOST,
          'x-peritect': '1',
          ...(payload === undefined ? {} : { 'content-type': type }),
          ...headers,
        },
        ...(payload === undefined ? {} : { payload }),
      });
    },
  };
}

/** What an answer says that is no success; its form is checked on the way. */
export function problemIn(response: LightMyRequestResponse): Problem & { status: number } {
  const problem = response.json() as Problem;
  for (const field of ['code', 'sentence', 'remedy'] as const) {
    if (typeof problem[field] !== 'string' || problem[field] === '')
      throw new Error(`The answer ${response.statusCode} has no ${field}: ${response.body.slice(0, 300)}`);
  }
  return { status: response.statusCode, ...problem };
}
