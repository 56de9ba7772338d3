// A look at a file that was sent, before anything is recorded: what it holds, what it seems to be, of which piece.
import type { FileLook } from '../api/contract.ts';
import { pieceFromFileName } from '../formats/curves/piece-from-file-name.ts';
import { withSampleHeader } from '../formats/curves/sample-header.ts';
import type { ColumnMapping, MeasurementSettings, ReadingAnswers } from '../records/kinds.ts';
import { JobError } from './errors.ts';
import type { FileOutcome, LookedBlock } from './file-tasks.ts';
import type { Workbench } from './workbench.ts';

/** End of the shape of a block without headings. */
const NAMELESS = '-unnamed';

export interface LookOrder {
  sha256: string;
  fileName: string;
  seriesId: string;
  /** what a person answered after a refusal */
  reading?: ReadingAnswers | undefined;
}

/** The value of a read, or the reader's refusal with the file's name. */
export function readOrThrow<T>(outcome: FileOutcome<T>, fileName: string): { ok: true } & T {
  if (outcome.ok) return outcome;
  const { code, sentence, remedy, line, column } = outcome.failure;
  const place = line > 0 ? `, line ${line}${column > 0 ? `, place ${column}` : ''}` : '';
  throw new JobError(code, `${fileName}${place}: ${sentence}`, remedy);
}

interface Remembered {
  mapping: ColumnMapping;
  settings: MeasurementSettings;
  doubts: string[];
}

/** The newest mapping kept for a block of this shape, turned to where that block stands in this file. */
async function rememberedFor(bench: Workbench, blocks: readonly LookedBlock[]): Promise<Remembered | null> {
  const kept = (await bench.store.read.list('rememberedMapping'))
    .filter(({ body }) => blocks.some(({ shape }) => shape === body.shape))
    .at(-1)?.body;
  if (!kept) return null;
  const block = blocks.findIndex(({ shape }) => shape === kept.shape);
  const doubts = kept.shape.endsWith(NAMELESS)
    ? ['The columns have no headings, so another file may look the same: are they what they were last time?']
    : [];
  return { mapping: { ...kept.mapping, block }, settings: kept.settings, doubts };
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
  const looked = readOrThrow(await files.look(bytes, fileName, order.reading), fileName);
  const pieces = await store.read.list('piece', { seriesId });
  const known = pieces.map((piece) => ({ pieceId: piece.id, label: piece.body.label }));
  const found = withSampleHeader(pieceFromFileName(fileName, known), looked.headerLines, known);
  const remembered = await rememberedFor(bench, looked.blocks);
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
    doubts: remembered ? remembered.doubts : looked.doubts,
    warnings,
    pieceId: found.pieceId,
    pieceNote: found.how,
  };
}
