// Refuses JSON nested so deeply that what walks through it would run out of stack.
import type { FastifyInstance } from 'fastify';
import { ServerError } from './errors.ts';

/** No schema of a record or a computation nests half as deep. */
const DEEPEST = 64;

function isDeeperThan(value: unknown, levels: number): boolean {
  if (typeof value !== 'object' || value === null) return false;
  if (levels === 0) return true;
  const parts = Array.isArray(value) ? value : Object.values(value);
  return parts.some((part) => isDeeperThan(part, levels - 1));
}

export function refuseDeepBodies(app: FastifyInstance): void {
  app.addHook('preValidation', async ({ body, headers }) => {
    if (!headers['content-type']?.startsWith('application/json') || !isDeeperThan(body, DEEPEST)) return;
    throw new ServerError('BODY_INVALID', `The body is nested more than ${DEEPEST} levels deep.`);
  });
}
