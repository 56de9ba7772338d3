// Files over HTTP: send, look, read in, see the curve, reduce again; and the raw bytes back, as an attachment only.
import { Readable } from 'node:stream';
import type { FastifyInstance } from 'fastify';
import type { ZodTypeProvider } from 'fastify-type-provider-zod';
import { z } from 'zod';
import {
  fileLookRequestSchema,
  fileLookSchema,
  fileSchema,
  importAnswerSchema,
  importRequestSchema,
  MAX_FILE_BYTES,
  measurementViewSchema,
  reduceRequestSchema,
  rolesSchema,
} from '../../api/contract.ts';
import { rolesOfKinds } from '../../formats/curves/roles.ts';
import { importFile } from '../../jobs/import-file.ts';
import { judgePieces } from '../../jobs/judge-pieces.ts';
import { lookAtUpload } from '../../jobs/look-at-upload.ts';
import { measurementView, reduceAgain } from '../../jobs/measurement-view.ts';
import type { Workbench } from '../../jobs/workbench.ts';
import { newId } from '../../logbook/ids.ts';
import { recordIdSchema, sha256Schema } from '../../records/common.ts';
import { ServerError } from '../errors.ts';

const asJson = () => (data: unknown) => JSON.stringify(data);
const measurementParams = z.object({ measurementId: recordIdSchema });

/**
 * Content-Disposition of a file to be saved, whatever its name holds: parts of a path and control characters become
 * `_`, the rest is percent-encoded where it is no attr-char [looked-up: RFC 8187, section 3.2.1].
 */
export function attachmentNamed(name: string): string {
  const plain = name
    .toWellFormed()
    .replaceAll(/[\p{Cc}\p{Cf}\u2028\u2029/\\:*?"<>|]/gu, '_')
    .replace(/^\.+/, '_');
  const encoded = encodeURIComponent(plain).replaceAll(
    /['()*]/g,
    (each) => `%${each.charCodeAt(0).toString(16).toUpperCase()}`,
  );
  return `attachment; filename*=UTF-8''${encoded}`;
}

export function registerImports(root: FastifyInstance, bench: Workbench): void {
  const app = root.withTypeProvider<ZodTypeProvider>();
  // the body of an upload is a stream of bytes: it is never gathered in memory
  app.addContentTypeParser('application/octet-stream', (_request, payload, done) => done(null, payload));
  app.post(
    '/api/files',
    {
      bodyLimit: MAX_FILE_BYTES + 1024,
      schema: {
        summary: 'Send the bytes of a file (application/octet-stream); kept once a record needs it',
        tags: ['files'],
        response: { 201: fileSchema },
      },
    },
    async ({ body, raw }, reply) => {
      if (body !== undefined && body !== null && !(body instanceof Readable)) {
        throw new ServerError('BODY_INVALID', 'The bytes of a file come as application/octet-stream.');
      }
      try {
        // left whole, the connection can still carry the answer to a file that is refused halfway
        const source = body?.iterator({ destroyOnReturn: false }) ?? new Uint8Array();
        const taken = await bench.uploads.take(source, MAX_FILE_BYTES);
        return await reply.status(201).send(taken);
      } catch (error) {
        if (raw.destroyed && !raw.complete) {
          throw new ServerError('CLIENT_GONE', 'The file broke off before its end; nothing of it was kept.');
        }
        throw error;
      }
    },
  );
  app.get(
    '/api/files/:sha256',
    {
      schema: {
        summary: 'The raw bytes as they came, as an attachment',
        tags: ['files'],
        params: z.object({ sha256: sha256Schema }),
      },
    },
    async ({ params }, reply) => {
      const bytes = await bench.store.fileBytes(params.sha256);
      const file = await bench.store.read.findFile(params.sha256);
      return reply
        .header('content-security-policy', "default-src 'none'; sandbox")
        .header('content-disposition', attachmentNamed(file?.firstName ?? params.sha256))
        .type('application/octet-stream')
        .send(Buffer.from(bytes));
    },
  );
  app.get(
    '/api/imports/roles',
    {
      schema: {
        summary: 'What a column can be, by kind of measurement, and in which units',
        tags: ['files'],
        response: { 200: rolesSchema },
      },
    },
    async () => rolesOfKinds(),
  );
  app.post(
    '/api/imports/look',
    {
      schema: {
        summary: 'What a sent file holds, what it seems to be and of which piece',
        tags: ['files'],
        body: fileLookRequestSchema,
        response: { 200: fileLookSchema },
      },
      serializerCompiler: asJson,
    },
    async ({ body }) => lookAtUpload(bench, body),
  );
  app.post(
    '/api/imports',
    {
      schema: {
        summary: 'Read a sent file in as a measurement and reduce it',
        tags: ['files'],
        body: importRequestSchema,
        response: { 201: importAnswerSchema },
      },
      serializerCompiler: asJson,
    },
    async ({ body }, reply) => {
      const answer = await importFile(bench, body);
      await judgePieces(bench, {
        seriesId: body.seriesId,
        changeId: newId(),
        pieceIds: [body.pieceId],
        onlyStale: true,
      });
      return reply.status(201).send(answer as never);
    },
  );
  app.get(
    '/api/measurements/:measurementId',
    {
      schema: {
        summary: 'A measurement with its curve and its newest analysis',
        tags: ['files'],
        params: measurementParams,
        response: { 200: measurementViewSchema },
      },
      serializerCompiler: asJson,
    },
    async ({ params }) => (await measurementView(bench, params.measurementId)) as never,
  );
  app.post(
    '/api/measurements/:measurementId/reduce',
    {
      schema: {
        summary: 'Reduce a measurement again, with these settings',
        tags: ['files'],
        params: measurementParams,
        body: reduceRequestSchema,
        response: { 200: measurementViewSchema },
      },
      serializerCompiler: asJson,
    },
    async ({ params, body }) => {
      const view = await reduceAgain(bench, { measurementId: params.measurementId, ...body });
      const { seriesId, body: measurement } = view.measurement;
      await judgePieces(bench, {
        seriesId: seriesId!,
        changeId: newId(),
        pieceIds: [measurement.pieceId],
        onlyStale: true,
      });
      return view as never;
    },
  );
}
