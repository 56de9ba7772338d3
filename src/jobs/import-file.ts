// Reads a file in: raw bytes, columns in SI, measurement, analysis and remembered mapping, in one change. What cannot be
// read leaves nothing; what reads but cannot be reduced is kept, with why.

import type { ImportRequest } from '../api/contract.ts';
import { tableBytes } from '../logbook/columns.ts';
import { StoreError } from '../logbook/errors.ts';
import type { FileClaim } from '../logbook/files.ts';
import { newId } from '../logbook/ids.ts';
import type { Transaction } from '../logbook/transaction.ts';
import type { Measurement, RememberedMapping, StoredRecord } from '../records/kinds.ts';
import type { ReadCurve } from './file-tasks.ts';
import { firstAnswer } from './first-answer.ts';
import { readOrThrow } from './look-at-upload.ts';
import { reduceMeasurement, subjectOf } from './reduce-measurement.ts';
import type { Workbench } from './workbench.ts';

export interface ImportAnswer {
  measurement: StoredRecord<'measurement'>;
  analysis: StoredRecord<'analysis'>;
}

const TABLE_MEDIA = 'application/octet-stream';
const TEXT_MEDIA = 'text/plain';

function measurementBody(
  order: ImportRequest,
  curve: ReadCurve,
  fileBytes: number,
  blob: string,
): Measurement {
  const { pieceId, stateTreatmentId, fileName, fileSha256, mapping, settings } = order;
  return {
    label: fileName.slice(0, 200),
    pieceId,
    stateTreatmentId,
    fileName,
    fileSha256,
    fileBytes,
    reader: curve.reader,
    mapping,
    settings,
    columns: { blob, roles: curve.roles, rows: curve.columns[0]?.length ?? 0 },
    warnings: curve.warnings.slice(0, 200).map((warning) => warning.slice(0, 1000)),
    takenAt: null,
    note: '',
  };
}

async function rememberMapping(
  transaction: Transaction,
  seriesId: string,
  body: RememberedMapping,
): Promise<void> {
  const before = (await transaction.list('rememberedMapping', { seriesId })).find(
    (each) => each.body.shape === body.shape,
  );
  if (before) await transaction.revise('rememberedMapping', before.id, before.revision, body);
  else await transaction.create('rememberedMapping', newId(), seriesId, body);
}

/**
 * Reads a sent file in as a measurement of a piece in a state and reduces it.
 *
 * @throws JobError if it cannot be read with this mapping, StoreError if piece or state are not there
 */
export async function importFile(bench: Workbench, order: ImportRequest): Promise<ImportAnswer> {
  const { store, uploads, files } = bench;
  const { id, seriesId, changeId, fileSha256, fileName, mapping } = order;
  const what = `read in ${fileName}`;
  const [first] = await firstAnswer<ImportAnswer>(store, changeId, (said) => said === what);
  if (first) {
    await uploads.forget(first.measurement.body.fileSha256);
    return first;
  }
  await checkState(bench, order);
  const bytes = await uploads.bytesOf(fileSha256);
  const looked = order.isRemembered
    ? readOrThrow(await files.look(bytes, fileName, mapping.reading), fileName)
    : null;
  const curve = readOrThrow(await files.readCurve(bytes, mapping), fileName);
  const table = await store.putFile(tableBytes(curve.columns));
  try {
    const measurement = measurementBody(order, curve, bytes.length, table.sha256);
    const analysis = await reduceMeasurement(
      bench.runner,
      await subjectOf(store.read, id, measurement),
      curve,
    );
    const claims: [FileClaim | undefined, string, string][] = [
      [uploads.claimOf(fileSha256), fileName, TEXT_MEDIA],
      [table, `columns of ${fileName}`, TABLE_MEDIA],
    ];
    const shape = looked?.blocks[mapping.block]?.shape;
    const answer = await store.write({ changeId, what, seriesId }, async (transaction) => {
      for (const [claim, name, media] of claims) if (claim) await transaction.addFile(claim, { name, media });
      if (shape) {
        const settings = lastingSettings(order.settings);
        await rememberMapping(transaction, seriesId, { shape, mapping, settings });
      }
      return {
        measurement: await transaction.create('measurement', id, seriesId, measurement),
        analysis: await transaction.create('analysis', newId(), seriesId, analysis),
      };
    });
    await uploads.forget(fileSha256);
    return answer;
  } finally {
    await table.release(); // committed, the row keeps it; else a sweep may take it
  }
}

/** A state is named by a treatment of the same piece. */
async function checkState({ store }: Workbench, { pieceId, stateTreatmentId }: ImportRequest): Promise<void> {
  if (stateTreatmentId === null) return;
  const treatment = await store.read.findOrThrow('treatment', stateTreatmentId);
  if (treatment.body.pieceId === pieceId) return;
  throw new StoreError(
    'RECORD_LINK',
    `The state named is after the treatment ${treatment.body.label}, which is of another piece.`,
    { remedy: 'Name a treatment of this piece, or none for as it left the run.' },
  );
}

/** Settings that hold for the next file too: of the instrument and the bridge, not the condition it was taken at. */
function lastingSettings(settings: ImportRequest['settings']): ImportRequest['settings'] {
  const { temperatureK: _temperature, fieldT: _field, thetaDeg: _theta, ...lasting } = settings;
  return lasting;
}
