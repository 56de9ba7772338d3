// Puts a described series into a store the way a person would: records one by one, each file sent, looked at and read
// in. Every identifier is made from the description, so that a load that broke off goes on where it stopped.
import { createHash } from 'node:crypto';
import { v7 } from 'uuid';
import type { MeasurementSettings, RecordBodies, RecordKind } from '../records/kinds.ts';
import { importFile } from './import-file.ts';
import { judgePieces } from './judge-pieces.ts';
import { lookAtUpload } from './look-at-upload.ts';
import { proposeTargets } from './propose-targets.ts';
import type { Workbench } from './workbench.ts';

/** A body whose fields ending in `Label` or `Labels` name other records, where the store has `Id` or `Ids`. */
type Described = { readonly label: string };

export interface DescribedFile {
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly pieceLabel: string;
  /** null: as it left the run */
  readonly stateLabel: string | null;
  readonly settings: MeasurementSettings;
}

export interface DescribedSeries {
  readonly series: Described;
  readonly lots: readonly Described[];
  readonly targets: readonly Described[];
  readonly chambers: readonly Described[];
  readonly pathPlans: readonly Described[];
  readonly runs: readonly Described[];
  readonly films: readonly Described[];
  readonly pieces: readonly Described[];
  readonly treatments: readonly Described[];
  readonly typedFacts: readonly object[];
  readonly files: readonly DescribedFile[];
}

const MAX_FILE_BYTES = 20 * 1024 * 1024;
/** Identifiers of described records carry this time, so that they are the same on every machine. */
const DESCRIBED_AT_MS = Date.UTC(2026, 0, 1);

/** The same UUIDv7 for the same words. */
function idFor(seriesLabel: string, words: string): string {
  const random = createHash('sha256').update(`${seriesLabel}\0${words}`).digest().subarray(0, 16);
  return v7({ msecs: DESCRIBED_AT_MS, seq: random.readUInt32BE(0) >>> 1, random });
}

const KIND_OF_FIELD: Record<string, RecordKind> = {
  target: 'target',
  run: 'run',
  film: 'film',
  piece: 'piece',
  lot: 'lot',
  chamber: 'chamber',
  plan: 'pathPlan',
  stateTreatment: 'treatment',
  benchmarkPiece: 'piece',
  controlPiece: 'piece',
};

/** Turns labels into identifiers: `targetLabel` becomes `targetId`, `lotLabels` becomes `lotIds`. */
function withIds(body: object, id: (kind: RecordKind, label: string) => string): Record<string, unknown> {
  return Object.fromEntries(
    Object.entries(body).map(([field, value]) => {
      const match = /^(.+)Label(s?)$/.exec(field);
      if (!match) return [field, value];
      const kind = KIND_OF_FIELD[match[1]!];
      if (!kind) throw new Error(`${field} names no kind of record.`);
      const identified = Array.isArray(value)
        ? value.map((label: string) => id(kind, label))
        : value === null
          ? null
          : id(kind, value as string);
      return [`${match[1]}Id${match[2]}`, identified];
    }),
  );
}

/** Identifier of the series that a description makes. */
export function describedSeriesId(seriesLabel: string): string {
  return idFor(seriesLabel, 'series');
}

/**
 * Loads a described series whole, judges its pieces and asks for the next targets.
 *
 * @param onFile called after each file: how many are in, of how many
 * @returns the series' identifier
 * @throws Error naming the file, if a file cannot be read without a person's answer
 */
export async function loadSeries(
  bench: Workbench,
  described: DescribedSeries,
  onFile: (done: number, total: number) => void = () => {},
): Promise<string> {
  const { label } = described.series;
  const seriesId = describedSeriesId(label);
  const id = (kind: RecordKind, of: string): string => idFor(label, `${kind} ${of}`);
  const changeId = (words: string): string => idFor(label, `change ${words}`);
  const create = async (kind: RecordKind, recordId: string, body: object, what: string): Promise<void> => {
    await bench.store.write(
      { changeId: changeId(`${kind} ${recordId}`), what, seriesId },
      async (transaction) => {
        await transaction.create(kind, recordId, seriesId, body as RecordBodies[typeof kind]);
      },
    );
  };
  const { benchmarkPieceLabel, controlPieceLabel, ...series } = described.series as Described & {
    benchmarkPieceLabel: string;
    controlPieceLabel: string;
  };
  await create(
    'series',
    seriesId,
    { ...series, benchmarkPieceId: null, controlPieceId: null },
    `created series ${label}`,
  );
  const groups: [RecordKind, readonly Described[]][] = [
    ['lot', described.lots],
    ['target', described.targets],
    ['chamber', described.chambers],
    ['pathPlan', described.pathPlans],
    ['run', described.runs],
    ['film', described.films],
    ['piece', described.pieces],
    ['treatment', described.treatments],
  ];
  for (const [kind, bodies] of groups) {
    for (const body of bodies) {
      await create(kind, id(kind, body.label), withIds(body, id), `created ${kind} ${body.label}`);
    }
  }
  for (const [i, body] of described.typedFacts.entries()) {
    await create(
      'typedFacts',
      id('typedFacts', String(i)),
      withIds(body, id),
      'typed numbers without a raw file',
    );
  }
  await bench.store.write(
    { changeId: changeId('benchmark'), what: 'named benchmark and control', seriesId },
    async (transaction) => {
      const record = await transaction.findOrThrow('series', seriesId);
      const named = withIds({ benchmarkPieceLabel, controlPieceLabel }, id);
      await transaction.revise('series', seriesId, record.revision, { ...record.body, ...named });
    },
  );
  for (const [i, file] of described.files.entries()) {
    const { sha256 } = await bench.uploads.take(file.bytes, MAX_FILE_BYTES);
    const look = await lookAtUpload(bench, { sha256, fileName: file.name, seriesId });
    if (!look.mapping || look.doubts.length > 0) {
      throw new Error(
        `${file.name} cannot be read without an answer: ${look.doubts.join(' ') || 'its columns are unknown'}`,
      );
    }
    await importFile(bench, {
      id: id('measurement', file.name),
      changeId: changeId(`file ${file.name}`),
      seriesId,
      pieceId: id('piece', file.pieceLabel),
      stateTreatmentId: file.stateLabel === null ? null : id('treatment', file.stateLabel),
      fileSha256: sha256,
      fileName: file.name,
      mapping: look.mapping,
      settings: { ...look.settings, ...file.settings },
      isRemembered: false,
    });
    onFile(i + 1, described.files.length);
  }
  await judgePieces(bench, { seriesId, changeId: changeId('verdicts'), pieceIds: null });
  await proposeTargets(bench, { seriesId, changeId: changeId('proposals'), count: 3 });
  return seriesId;
}

/** Has a described series been loaded to its end? */
export async function isLoaded(bench: Workbench, seriesLabel: string): Promise<boolean> {
  return (await bench.store.read.findChange(idFor(seriesLabel, 'change proposals'))) !== undefined;
}
