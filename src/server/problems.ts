// Turns any error into the one answer that is not a success: code, sentence, remedy.
import type { FastifyError, FastifyInstance, FastifyReply } from 'fastify';
import { hasZodFastifySchemaValidationErrors } from 'fastify-type-provider-zod';
import type { Problem } from '../api/contract.ts';
import { StoreError } from '../logbook/errors.ts';
import { WordedError } from '../science/worded-error.ts';
import { SERVER_CODES, statusOf } from './errors.ts';

function answerOf(error: unknown): { status: number; problem: Problem } {
  if (error instanceof WordedError) {
    const { code, sentence, remedy } = error;
    const current = error instanceof StoreError && code === 'REVISION_IS_OLD' ? error.data : undefined;
    return {
      status: statusOf(code),
      problem: { code, sentence, remedy, ...(current === undefined ? {} : { current }) },
    };
  }
  if (hasZodFastifySchemaValidationErrors(error)) {
    const isKind = error.validationContext === 'params' && error.validation[0]?.instancePath === '/kind';
    if (isKind) {
      const sentence = `There is no such kind of record. ${error.validation[0]!.message}.`;
      return { status: 404, problem: { code: 'KIND_UNKNOWN', sentence, remedy: SERVER_CODES.KIND_UNKNOWN } };
    }
    const where = error.validation
      .slice(0, 5)
      .map((each) => `${each.instancePath.replaceAll('/', '.').slice(1) || 'the body'}: ${each.message}.`);
    return {
      status: 400,
      problem: { code: 'BODY_INVALID', sentence: where.join(' '), remedy: SERVER_CODES.BODY_INVALID },
    };
  }
  const fastifyError = error as Partial<FastifyError>;
  const status = fastifyError.statusCode ?? 500;
  if (status === 413) {
    return {
      status,
      problem: {
        code: 'BODY_TOO_LARGE',
        sentence: 'The request is too large.',
        remedy: SERVER_CODES.BODY_TOO_LARGE,
      },
    };
  }
  if (status < 500) {
    const sentence = fastifyError.message ?? 'The request cannot be read.';
    return { status, problem: { code: 'BODY_INVALID', sentence, remedy: SERVER_CODES.BODY_INVALID } };
  }
  return {
    status: 500,
    problem: { code: 'FAULT', sentence: 'Something went wrong inside Peritect.', remedy: SERVER_CODES.FAULT },
  };
}

/** The problem an error stands for; jobs carry it too. */
export function problemOf(error: unknown): Problem {
  return answerOf(error).problem;
}

export function sendProblem(error: unknown, reply: FastifyReply): FastifyReply {
  const { status, problem } = answerOf(error);
  if (status === 500) process.stderr.write(`${(error as Error).stack}\n`);
  return reply.status(status).send(problem);
}

export function registerProblems(app: FastifyInstance): void {
  app.setErrorHandler((error, _request, reply) => sendProblem(error, reply));
}
