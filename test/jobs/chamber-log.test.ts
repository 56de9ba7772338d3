// A log read in after a treatment is laid over it; correcting the treatment makes the answer old.
import { readFileSync } from 'node:fs';
import { afterEach, describe, expect, it } from 'vitest';
import { importFile } from '../../src/jobs/import-file.ts';
import { lookAtUpload } from '../../src/jobs/look-at-upload.ts';
import { reductionRequest, subjectFrom } from '../../src/jobs/reduction.ts';
import { newId } from '../../src/logbook/ids.ts';
import type { Segment, Treatment } from '../../src/records/kinds.ts';
import { clearStores } from '../logbook/opened-store.ts';
import { addedPiece, benchHere } from './bench.ts';

afterEach(clearStores);

const segment = (kind: Segment['kind'], toC: number, durationS: number, po2Atm: number): Segment => ({
  kind,
  toC,
  durationS,
  po2Atm,
  gas: 'O2',
});
const treatmentOf = (segments: Segment[]): Treatment => ({
  label: 'first',
  pieceId: newId(),
  startedAt: null,
  segments,
  planId: null,
  chamberId: null,
  note: '',
});

async function readIn() {
  const bench = await benchHere();
  const { seriesId, pieceId } = await addedPiece(bench.store);
  const bytes = readFileSync(new URL('../data/columnar/log-midnight-gap.csv', import.meta.url));
  const { sha256 } = await bench.uploads.take(bytes, 1e6);
  const look = await lookAtUpload(bench, { sha256, fileName: 'P1_log.csv', seriesId });
  const answer = await importFile(bench, {
    id: newId(),
    changeId: newId(),
    seriesId,
    pieceId,
    stateTreatmentId: null,
    fileSha256: sha256,
    fileName: 'P1_log.csv',
    mapping: look.mapping!,
    settings: { oxygenShare: 0.2, thermometerUncertaintyK: 1 },
    isRemembered: true,
  });
  return { look, answer };
}

describe('a chamber log read in', () => {
  it('without a treatment is reduced without a plan: its hold, its gap, no deviation', async () => {
    const { look, answer } = await readIn();
    expect(look).toMatchObject({ mappingIs: 'guessed', doubts: [] });
    const { body } = answer.analysis;
    expect(body).toMatchObject({
      computation: 'growth.log',
      failure: null,
      facts: { numbers: [], phases: [] },
    });
    const response = body.response as {
      holds: { meanC: { value: number } }[];
      gaps: unknown[];
      planOnLog: unknown;
    };
    expect(response.gaps).toHaveLength(1);
    expect(response.planOnLog).toBeNull();
    for (const { meanC } of response.holds) expect(Math.abs(meanC.value - 850)).toBeLessThan(1);
  });

  it('is asked with the segments of the treatment, a gas change as gas, and a start where it begins with a hold', async () => {
    const { answer } = await readIn();
    const asked = (segments: Segment[]) => {
      const subject = subjectFrom(
        newId(),
        answer.measurement.body,
        {} as never,
        { cations: null } as never,
        { rareEarths: ['Y'] } as never,
        treatmentOf(segments),
      );
      const request = reductionRequest(subject);
      return request.ok ? request.request : null;
    };
    expect(
      asked([
        segment('ramp', 850, 900, 1),
        segment('gas change', 850, 10, 0.2),
        segment('cool', 600, 1500, 0.2),
      ]),
    ).toMatchObject({
      oxygenShare: 0.2,
      temperatureUK: 1,
      plan: {
        segments: [
          { kind: 'ramp', toC: 850, durationS: 900, toPo2Atm: 1 },
          { kind: 'gas', durationS: 10, toPo2Atm: 0.2 },
          { kind: 'ramp', toC: 600, durationS: 1500, toPo2Atm: 0.2 },
        ],
      },
    });
    expect(asked([segment('hold', 450, 900, 1)])).toMatchObject({
      plan: {
        start: { temperatureC: 450, po2Atm: 1 },
        segments: [{ kind: 'hold', durationS: 900, toPo2Atm: 1 }],
      },
    });
  });
});
