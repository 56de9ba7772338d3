// A look at a file that was sent, before anything is recorded: what it holds, what it seems to be, of which piece.
import type { FileLook } from '../api/contract.ts';
import { pieceFromFileName } from '../formats/curves/piece-from-file-name.ts';
import { JobError } from './errors.ts';
import type { FileOutcome } from './file-tasks.ts';
import type { Workbench } from './workbench.ts';

export interface LookOrder {
  sha256: string;
  fileName: string;
  seriesId: string;
}

/** The value of a read, or the reader's refusal with the file's name. */
export function readOrThrow<T>(outcome: FileOutcome<T>, fileName: string): { ok: true } & T {
  if (outcome.ok) return outcome;
  const { code, message, line, column } = outcome.failure;
  const place = line > 0 ? `, line ${line}${column > 0 ? `, place ${column}` : ''}` : '';
  throw new JobError(code, `${fileName}${place}: ${message}`);
}

/**
 * Reads a sent file as far as a person must see it to decide.
 *
 * @throws JobError with the reader's code if it cannot be read; then nothing of it is kept
 */
export async function lookAtUpload(bench: Workbench, order: LookOrder): Promise<FileLook> {
  const { sha256, fileName, seriesId } = order;
  const { store, uploads, files } = bench;
  await store.read.findOrThrow('series', seriesId);
  const bytes = await uploads.bytesOf(sha256);
  const looked = readOrThrow(await files.look(bytes, fileName), fileName);
  const pieces = await store.read.list('piece', { seriesId });
  const found = pieceFromFileName(
    fileName,
    pieces.map((piece) => ({ pieceId: piece.id, label: piece.body.label })),
  );
  const remembered = (await store.read.list('rememberedMapping'))
    .filter((each) => looked.blocks.some(({ shape }) => shape === each.body.shape))
    .at(-1)?.body;
  const twins = (await store.read.list('measurement', { seriesId })).filter(
    (each) => each.body.fileSha256 === sha256,
  );
  const warnings = [
    ...looked.warnings,
    ...twins.map(
      (twin) => `The same bytes were read in before, as ${twin.body.fileName} (${twin.body.label}).`,
    ),
  ];
  return {
    blocks: looked.blocks,
    headerLines: looked.headerLines,
    mapping: remembered?.mapping ?? looked.mapping,
    mappingIs: remembered ? 'remembered' : looked.mapping ? 'guessed' : 'unknown',
    settings: { ...remembered?.settings, ...looked.settings },
    doubts: remembered ? [] : looked.doubts,
    warnings,
    pieceId: found.pieceId,
    pieceNote: found.how,
  };
}
