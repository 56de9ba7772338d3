import { describe, expect, it } from 'vitest';
import { withGrownFields } from '../../src/records/grown-fields.ts';
import { RECORD_SCHEMAS } from '../../src/records/kinds.ts';
import { lotBody, runBody, seriesBody, targetBody, treatmentBody } from '../logbook/bodies.ts';

const OF_TODAY = {
  series: seriesBody(),
  lot: lotBody(),
  target: targetBody('T1'),
  run: runBody('R1', null),
  treatment: treatmentBody('A1', '019b76da-a800-71cd-a658-b4fd28416b63'),
};
/** what each kind gained after the first stores were written */
const GAINED: Record<string, readonly string[]> = {
  lot: ['assay', 'isMetalsBasis', 'dryingC'],
  target: ['sintering'],
  run: ['preAblationPulses', 'rateNmPerS', 'chamberId'],
  treatment: ['planId', 'chamberId'],
};

describe('a body of an older store', () => {
  it.each(Object.entries(OF_TODAY))(
    'reads as a %s of today, with what it never said as not stated',
    (kind, body) => {
      const old: Record<string, unknown> = structuredClone(body) as never;
      for (const field of GAINED[kind] ?? []) delete old[field];
      if (kind === 'series') delete (old.growth as Record<string, unknown>).meltOffsetJPerMol;
      const read = withGrownFields(kind, old);
      expect(read).toEqual(body);
      expect(RECORD_SCHEMAS[kind as keyof typeof OF_TODAY].safeParse(read).success).toBe(true);
    },
  );

  it('keeps what it says', () => {
    expect(withGrownFields('lot', { isMetalsBasis: true })).toMatchObject({
      isMetalsBasis: true,
      assay: null,
    });
  });
});
