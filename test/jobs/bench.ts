// A workbench on a real store in a folder of its own, computing in its own thread: what the jobs do with records is the
// same on worker threads, which are tested beside their runner.
import { lookAtBytes, readCurveBytes, readTableBytes } from '../../src/jobs/file-tasks.ts';
import { lookAtUpload } from '../../src/jobs/look-at-upload.ts';
import { Uploads } from '../../src/jobs/uploads.ts';
import type { Workbench } from '../../src/jobs/workbench.ts';
import { newId } from '../../src/logbook/ids.ts';
import type { Store } from '../../src/logbook/store.ts';
import { readStored } from '../../src/logbook/stored-blobs.ts';
import type { Film, MeasurementSettings, Piece, Series } from '../../src/records/kinds.ts';
import { runnerHere } from '../../src/runner/run-here.ts';
import { filmBody, pieceBody, seriesBody } from '../logbook/bodies.ts';
import { change, openedStore } from '../logbook/opened-store.ts';
import type { SimulatedFile } from '../simulate/instrument-files.ts';

/** Over a store of its own unless one is given; `clearStores` takes it away. */
export async function benchHere(store?: Store): Promise<Workbench> {
  const own = store ?? (await openedStore());
  return {
    store: own,
    runner: runnerHere((reference) => readStored(own, reference)),
    files: {
      look: async (bytes, fileName, reading) => lookAtBytes(bytes, fileName, reading),
      readCurve: async (bytes, mapping) => readCurveBytes(bytes, mapping),
      readTable: async (...asked) => readTableBytes(...asked),
    },
    uploads: new Uploads(own),
  };
}

export interface AddedPiece {
  seriesId: string;
  filmId: string;
  pieceId: string;
}

/** A series with one film of 123 composition and one piece of it. */
export async function addedPiece(
  store: Store,
  about: { label?: string; series?: Partial<Series>; film?: Partial<Film>; piece?: Partial<Piece> } = {},
): Promise<AddedPiece> {
  const [seriesId, filmId, pieceId] = [newId(), newId(), newId()];
  const label = about.label ?? 'P1';
  await store.write(change('a film to measure'), async (tx) => {
    await tx.create('series', seriesId, null, { ...seriesBody(), ...about.series });
    await tx.create('film', filmId, seriesId, {
      ...filmBody(`film of ${label}`, null),
      cations: { Y: 1, Ba: 2, Cu: 3 },
      ...about.film,
    });
    await tx.create('piece', pieceId, seriesId, { ...pieceBody(label, filmId), ...about.piece });
  });
  return { seriesId, filmId, pieceId };
}

/** Bytes of an instrument file as they are sent. */
export function bytesOfFile({ text }: SimulatedFile): Uint8Array {
  return new TextEncoder().encode(text);
}

const MAX_BYTES = 1 << 24;

interface Sent {
  settings?: MeasurementSettings;
  isRemembered?: boolean;
  id?: string;
  changeId?: string;
}

/** Sends a file, looks at it and reads it in as the look proposes. */
export async function sent(bench: Workbench, piece: AddedPiece, file: SimulatedFile, options: Sent = {}) {
  const { sha256 } = await bench.uploads.take(bytesOfFile(file), MAX_BYTES);
  const look = await lookAtUpload(bench, { sha256, fileName: file.name, seriesId: piece.seriesId });
  const order = {
    id: options.id ?? newId(),
    changeId: options.changeId ?? newId(),
    seriesId: piece.seriesId,
    pieceId: piece.pieceId,
    stateTreatmentId: null,
    fileSha256: sha256,
    fileName: file.name,
    mapping: look.mapping!,
    settings: { ...look.settings, ...options.settings },
    isRemembered: options.isRemembered ?? false,
  };
  return { look, order, sha256 };
}
