// Dropped files of one series from the first byte to the numbers. It outlives the page, so that going to a measurement and
// back loses nothing; one file's failure touches no other.
import type { FileLook, ImportRequest, Problem } from '../api/contract.ts';
import { MAX_FILE_BYTES } from '../api/contract.ts';
import type { MeasurementSettings, ReadingAnswers } from '../records/kinds.ts';
import type { SeriesView } from '../records/series-view.ts';
import { stateOf, treatmentsOf } from '../records/state-of-file.ts';
import type { ImportAnswer } from './imports.ts';
import { limited } from './limited.ts';
import {
  importRequestOf,
  isReady,
  type KindAnswer,
  type KindAnswers,
  outcomeOf,
  type ReadResult,
  shapeOf,
  type WaitingFile,
} from './waiting-files.ts';

/** What the queue needs of the world around it. */
export interface QueueDoors {
  upload(
    file: Blob,
    fileName: string,
    onProgress: (share: number) => void,
    signal: AbortSignal,
  ): Promise<{ sha256: string }>;
  look(
    sha256: string,
    fileName: string,
    reading: ReadingAnswers | null,
    signal: AbortSignal,
  ): Promise<FileLook>;
  importFile(request: ImportRequest, signal: AbortSignal): Promise<ImportAnswer>;
  newId(): string;
}

export interface QueueState {
  readonly files: readonly WaitingFile[];
  readonly answers: KindAnswers;
  readonly isReading: boolean;
}

const SENT_AT_ONCE = 3;
const READ_AT_ONCE = 2;

function problemOf(error: unknown): Problem {
  const worded = error as { problem?: Problem; message?: string };
  return worded.problem ?? { code: 'FAULT', sentence: worded.message ?? String(error), remedy: '' };
}
const isAbort = (error: unknown): boolean => (error as Error).name === 'AbortError';

export class FileQueue {
  readonly seriesId: string;
  readonly #doors: QueueDoors;
  readonly #blobs = new Map<string, File>();
  readonly #stops = new Map<string, AbortController>();
  /** kept per file, so that a repeat of a request that broke off does nothing twice */
  readonly #ids = new Map<string, { id: string; changeId: string }>();
  readonly #listeners = new Set<() => void>();
  /** measurements that a view has held: one missing from a later view was taken back */
  readonly #seen = new Set<string>();
  readonly #send = limited(SENT_AT_ONCE);
  #view: SeriesView | null = null;
  #state: QueueState = { files: [], answers: {}, isReading: false };

  constructor(seriesId: string, doors: QueueDoors) {
    this.seriesId = seriesId;
    this.#doors = doors;
  }

  readonly subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };
  readonly snapshot = (): QueueState => this.#state;

  /** The series as last read: pieces, states and verdicts come from it. What was taken back there waits again here. */
  setView(view: SeriesView): void {
    this.#view = view;
    const recorded = new Set(view.measurements.map(({ id }) => id));
    for (const { key, result } of this.#state.files) {
      if (!result) continue;
      if (recorded.has(result.measurementId)) this.#seen.add(result.measurementId);
      else if (this.#seen.has(result.measurementId)) {
        this.#ids.delete(key); // read again, it is another measurement
        this.#change(key, { step: 'waiting', result: null });
      }
    }
  }

  /** @param pieceId goes before the piece read from the file name */
  add(files: readonly File[], pieceId: string | null): void {
    const added = files.map((file): WaitingFile => {
      const key = this.#doors.newId();
      this.#blobs.set(key, file);
      const isTooLarge = file.size > MAX_FILE_BYTES;
      const megabytes = (bytes: number) => `${(bytes / 1024 / 1024).toFixed(1)} MB`;
      return {
        key,
        fileName: file.name,
        bytes: file.size,
        step: isTooLarge ? 'failed' : 'sending',
        sentShare: 0,
        sha256: null,
        look: null,
        pieceId,
        pieceNote: pieceId ? 'the piece you came from' : '',
        stateTreatmentId: null,
        stateNote: '',
        ownSettings: {},
        readBefore: null,
        isReadAgain: false,
        reading: null,
        problem: isTooLarge
          ? {
              code: 'FILE_TOO_LARGE',
              sentence: `${file.name} has ${megabytes(file.size)}; at most ${megabytes(MAX_FILE_BYTES)} can be read.`,
              remedy: 'Export fewer rows, or split the file.',
            }
          : null,
        result: null,
      };
    });
    this.#set({ files: [...added, ...this.#state.files] }); // what came last is what one looks for
    for (const { key, step } of added) if (step === 'sending') void this.#bring(key);
  }

  /** Sends and looks at a file; after a failure, once more. */
  async #bring(key: string): Promise<void> {
    const stop = new AbortController();
    this.#stops.set(key, stop);
    const { signal } = stop;
    try {
      await this.#send(async () => {
        signal.throwIfAborted();
        const file = this.#blobs.get(key)!;
        const { sha256 } = await this.#doors.upload(
          file,
          file.name,
          (sentShare) => this.#change(key, { sentShare }),
          signal,
        );
        this.#change(key, { step: 'looking', sentShare: 1, sha256 });
        const look = await this.#doors.look(sha256, file.name, this.#find(key)?.reading ?? null, signal);
        this.#looked(key, sha256, look);
      });
    } catch (error) {
      this.#change(
        key,
        isAbort(error) ? { step: 'cancelled' } : { step: 'failed', problem: problemOf(error) },
      );
    } finally {
      this.#stops.delete(key);
    }
  }

  #looked(key: string, sha256: string, look: FileLook): void {
    const file = this.#find(key);
    if (!file) return;
    const before = this.#view?.measurements.find(({ body }) => body.fileSha256 === sha256);
    const twin = this.#state.files.find(
      (other) => other.key !== key && other.sha256 === sha256 && other.look,
    );
    const piece = file.pieceId
      ? { pieceId: file.pieceId, pieceNote: file.pieceNote }
      : { pieceId: look.pieceId, pieceNote: look.pieceNote };
    this.#change(key, {
      step: 'waiting',
      look,
      ...piece,
      ...this.#stateFor(piece.pieceId, file.fileName, look),
      readBefore: before
        ? { measurementId: before.id, label: before.body.label }
        : twin
          ? { measurementId: '', label: `${twin.fileName}, dropped beside it` }
          : null,
    });
  }

  #stateFor(pieceId: string | null, fileName: string, look: FileLook | null) {
    const treatments = pieceId && this.#view ? treatmentsOf(this.#view, pieceId) : [];
    return stateOf(treatments, fileName, look?.headerLines ?? []);
  }

  cancel(key: string): void {
    this.#stops.get(key)?.abort(new DOMException('Cancelled.', 'AbortError'));
  }

  /** Once more, from where it failed; with what was answered about the text, from the start. */
  retry(key: string, answered?: ReadingAnswers): void {
    const file = this.#find(key);
    if (!file) return;
    const reading = answered ? { ...file.reading, ...answered } : file.reading;
    const look = answered ? null : file.look;
    this.#change(key, { step: look ? 'waiting' : 'sending', sentShare: 0, problem: null, reading, look });
    if (!look) void this.#bring(key);
  }

  /** Takes files off the list; what was read stays recorded. */
  forget(keys: readonly string[]): void {
    for (const key of keys) {
      this.cancel(key);
      this.#blobs.delete(key);
      this.#ids.delete(key);
    }
    this.#set({ files: this.#state.files.filter(({ key }) => !keys.includes(key)) });
  }

  answer(shape: string, answer: KindAnswer): void {
    this.#set({ answers: { ...this.#state.answers, [shape]: answer } });
  }

  choosePiece(key: string, pieceId: string | null): void {
    const file = this.#find(key);
    if (!file) return;
    this.#change(key, {
      pieceId,
      pieceNote: pieceId ? 'chosen here' : '',
      ...this.#stateFor(pieceId, file.fileName, file.look),
    });
  }

  chooseState(key: string, stateTreatmentId: string | null): void {
    this.#change(key, { stateTreatmentId, stateNote: 'chosen here' });
  }

  stateSettings(key: string, ownSettings: MeasurementSettings): void {
    this.#change(key, { ownSettings });
  }

  readTwice(key: string, isReadAgain: boolean): void {
    this.#change(key, { isReadAgain });
  }

  /** Reads every file that waits for nothing. Answers with what was read. */
  async readReady(): Promise<ReadResult[]> {
    const ready = this.#state.files.filter((file) => isReady(file, this.#state.answers));
    const keys = ready.map(({ key }) => key);
    // the mapping of a kind is remembered once, with the first file, so that each of the others can be taken back alone
    const firstKeys = new Set(
      new Map(ready.toReversed().map(({ key, look }) => [shapeOf(look!), key])).values(),
    );
    this.#set({ isReading: true });
    for (const key of keys) {
      this.#stops.set(key, new AbortController());
      this.#change(key, { step: 'reading', problem: null });
    }
    const run = limited(READ_AT_ONCE);
    const results = await Promise.all(keys.map((key) => run(() => this.#read(key, firstKeys.has(key)))));
    this.#set({ isReading: false });
    return results.filter((result) => result !== null);
  }

  cancelReading(): void {
    for (const { key, step } of this.#state.files) if (step === 'reading') this.cancel(key);
  }

  async #read(key: string, isFirst: boolean): Promise<ReadResult | null> {
    const { signal } = this.#stops.get(key)!;
    try {
      signal.throwIfAborted();
      if (!this.#ids.has(key)) this.#ids.set(key, { id: this.#doors.newId(), changeId: this.#doors.newId() });
      const ids = this.#ids.get(key)!;
      const file = { ...this.#find(key)!, step: 'waiting' as const };
      const request = importRequestOf(file, this.#state.answers, { ...ids, seriesId: this.seriesId });
      if (!request) {
        this.#change(key, { step: 'waiting' });
        return null;
      }
      const { measurement, analysis } = await this.#doors.importFile(
        { ...request, isRemembered: request.isRemembered && isFirst },
        signal,
      );
      const { pieceId, stateTreatmentId } = request;
      const flags = (analysis.body.response as { flags?: unknown[] } | null)?.flags ?? [];
      const result: ReadResult = {
        measurementId: measurement.id,
        changeId: ids.changeId,
        pieceId,
        stateTreatmentId,
        facts: analysis.body.facts,
        flagCount: flags.length,
        failure: analysis.body.failure,
        before: outcomeOf(this.#view, pieceId, stateTreatmentId),
      };
      this.#change(key, { step: 'read', result });
      return result;
    } catch (error) {
      this.#change(key, isAbort(error) ? { step: 'waiting' } : { step: 'failed', problem: problemOf(error) });
      return null;
    } finally {
      this.#stops.delete(key);
    }
  }

  #find(key: string): WaitingFile | undefined {
    return this.#state.files.find((file) => file.key === key);
  }

  #change(key: string, changes: Partial<WaitingFile>): void {
    this.#set({
      files: this.#state.files.map((file) => (file.key === key ? { ...file, ...changes } : file)),
    });
  }

  #set(changes: Partial<QueueState>): void {
    this.#state = { ...this.#state, ...changes };
    for (const listener of this.#listeners) listener();
  }
}
