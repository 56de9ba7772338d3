import { describe, expect, it } from 'vitest';
import { pieceSchema, runSchema, treatmentSchema } from '../../src/records/kinds.ts';
import { nextName, pieceNames } from '../../src/web/drafts/names.ts';
import { easiestPressure, readPressurePa, toPa } from '../../src/web/drafts/pressure-units.ts';
import { EMPTY_RUN, nextRunDraft, readRun, runDerived, runDraftOf } from '../../src/web/drafts/run-draft.ts';
import { movedSegment, nextSegment } from '../../src/web/drafts/segment-rows.ts';
import { cutIntoPieces, emptySitting, plannedRecords } from '../../src/web/drafts/sitting.ts';
import { readTreatment, treatmentDraftOf } from '../../src/web/drafts/treatment-draft.ts';

const ID = '01890000-0000-7000-8000-00000000000';
const counter = () => {
  let n = 0;
  return () => `${ID}${n++}`;
};
const NOTHING_TAKEN = { runs: [], films: [], pieces: [] };

const typedRun = {
  ...EMPTY_RUN,
  label: 'D07',
  energyAtTargetMj: '60 ± 2',
  spotAreaMm2: '3.0 ± 0.1',
  pulses: '3000',
  pulsesSinceResurfacing: '12000',
  temperatureC: '870',
  temperatureOffsetK: '-20 ± 8',
  pressure: '200',
  pressureUnit: 'mTorr' as const,
  oxygenPercent: '10',
};

describe('pressures of the trade', () => {
  it('takes 760 Torr, 760000 mTorr, 1013.25 mbar and 1 atm as one pressure', () => {
    for (const [text, unit] of [
      ['760', 'Torr'],
      ['760000', 'mTorr'],
      ['1013.25', 'mbar'],
      ['1', 'atm'],
    ] as const)
      expect(readPressurePa(text, unit, {})).toEqual({ value: 101_325 });
  });

  it('states a limit in the unit that was typed', () => {
    expect(readPressurePa('20', 'atm', { max: 1000 })).toEqual({
      fault: expect.stringContaining('to 0.00987 atm'),
    });
  });

  it('shows a pressure where it is easy to read', () => {
    expect(easiestPressure(toPa(200, 'mTorr'))).toEqual({ text: '200', unit: 'mTorr' });
    expect(easiestPressure(toPa(1, 'atm'))).toEqual({ text: '1', unit: 'atm' });
    expect(easiestPressure(toPa(5, 'Torr'))).toEqual({ text: '5', unit: 'Torr' });
  });
});

describe('names that follow', () => {
  it('names pieces after the film and passes over those that are there', () => {
    expect(pieceNames('D07', 3, ['D07-b'])).toEqual(['D07-a', 'D07-c', 'D07-d']);
    expect(pieceNames('D07', 28).slice(25)).toEqual(['D07-z', 'D07-aa', 'D07-ab']);
  });

  it('counts the last number up and keeps its width', () => {
    expect(nextName('D07')).toBe('D08');
    expect(nextName('D09', ['D10'])).toBe('D11');
    expect(nextName('slow benchmark')).toBe('slow benchmark-2');
  });
});

describe('a run as typed', () => {
  it('is left as it was by an edit that changes nothing, whatever its source', () => {
    const chamberId = `${ID}9`;
    const laser = readRun({ ...typedRun, preAblationPulses: '2000', chamberId }).run;
    const evaporated = readRun({ ...typedRun, source: 'evaporation', rateNmPerS: '0.5 ± 0.05' }).run;
    expect(laser).toMatchObject({ preAblationPulses: 2000, chamberId });
    expect(evaporated.rateNmPerS).toEqual({ value: 0.5, standardUncertainty: 0.05 });
    for (const run of [laser, evaporated]) expect(readRun(runDraftOf(run)).run).toEqual(run);
  });

  it('is kept by the schema of runs, in SI', () => {
    const { run, faults } = readRun(typedRun);
    expect(faults).toEqual({});
    expect(runSchema.parse(run)).toEqual(run);
    expect(run.pressure?.valuePa).toBeCloseTo(26.6645, 4);
    expect(run.pressure?.oxygenShare).toBe(0.1);
  });

  it('shows fluence, surface temperature and oxygen pressure with what is known of their uncertainty', () => {
    const { fluence, surfaceC, oxygenPa } = runDerived(readRun(typedRun).run);
    expect(fluence?.jPerM2.value).toBeCloseTo(20_000, 8);
    expect(fluence?.jPerM2.standardUncertainty).toBeCloseTo(20_000 * Math.hypot(2 / 60, 0.1 / 3), 6);
    expect(surfaceC).toEqual({ value: 850, standardUncertainty: 8 });
    expect(oxygenPa).toBeCloseTo(2.66645, 5);
  });

  it('becomes the same run again after its form was opened and closed', () => {
    const { run } = readRun(typedRun);
    expect(readRun(runDraftOf(run)).run).toEqual(run);
  });

  it('lends the next run everything but its name, date and pulse count', () => {
    const next = nextRunDraft(readRun(typedRun).run, ['D07']);
    expect(next.label).toBe('D08');
    expect(next.pulsesSinceResurfacing).toBe('15000');
    expect(next.energyAtTargetMj).toBe('60 ± 2');
  });

  it('asks for the oxygen share of a total pressure instead of taking one', () => {
    expect(readRun({ ...typedRun, oxygenPercent: '' }).faults).toHaveProperty('oxygenPercent');
  });
});

describe('a heat and gas path as typed', () => {
  const ramp = { ...nextSegment('a', undefined), toC: '450', duration: '30 min' };
  const hold = { ...nextSegment('b', ramp), duration: '1 h' };

  it('proposes a hold at the temperature that the ramp reached', () => {
    expect(hold).toMatchObject({ kind: 'hold', toC: '450', po2: '1', po2Unit: 'atm' });
  });

  it('is kept by the schema of treatments and comes back as it was', () => {
    const draft = { label: 'oxygen', startedAt: '', segments: [ramp, hold], note: '' };
    const { treatment, faults } = readTreatment(draft, `${ID}1`);
    expect(faults).toEqual({});
    expect(treatmentSchema.parse(treatment)).toEqual(treatment);
    expect(treatment.segments[1]).toEqual({ kind: 'hold', toC: 450, durationS: 3600, po2Atm: 1, gas: 'O2' });
    expect(readTreatment(treatmentDraftOf(treatment), `${ID}1`).treatment).toEqual(treatment);
    const driven = { ...treatment, planId: `${ID}2`, chamberId: `${ID}3` };
    expect(readTreatment(treatmentDraftOf(driven), `${ID}1`).treatment).toEqual(driven);
  });

  it('draws the steps before the one that is still being typed', () => {
    const draft = {
      label: 'x',
      startedAt: '',
      segments: [ramp, { ...hold, duration: '1' }, ramp],
      note: '',
    };
    const { readable, faults } = readTreatment(draft, `${ID}1`);
    expect(readable).toHaveLength(1);
    expect(faults['1.duration']).toMatch(/Found '1'.*with its unit/);
  });

  it('moves a row and leaves the ends alone', () => {
    expect(movedSegment([ramp, hold], 0, 1).map(({ key }) => key)).toEqual(['b', 'a']);
    expect(movedSegment([ramp, hold], 0, -1).map(({ key }) => key)).toEqual(['a', 'b']);
  });
});

describe('a sitting', () => {
  const newId = counter();
  const begun = emptySitting(newId);
  const film = { ...begun.films[0]!, draft: { ...begun.films[0]!.draft, substrate: 'SrTiO3 (001)' } };
  const named = { ...begun, run: { ...begun.run, draft: typedRun }, films: [film] };

  it('names its only film after the run, cuts it, and writes parents first', () => {
    const sitting = { ...named, films: [cutIntoPieces(named, film, 2, newId)] };
    const { records, faults } = plannedRecords(sitting, 'Dy', NOTHING_TAKEN);
    expect(faults).toEqual({});
    expect(records.map(({ kind, body }) => `${kind} ${body.label}`)).toEqual([
      'run D07',
      'film D07',
      'piece D07-a',
      'piece D07-b',
    ]);
    expect(pieceSchema.parse(records[2]!.body)).toMatchObject({ filmId: film.id });
  });

  it('refuses a name that the series has, beside the field', () => {
    const { faults } = plannedRecords(named, 'Dy', { ...NOTHING_TAKEN, films: ['D07'] });
    expect(faults).toEqual({ [`${film.id}.label`]: expect.stringContaining('Found D07, which is taken') });
  });

  it('keeps a film received from elsewhere without a run', () => {
    const received = {
      ...named,
      origin: 'received' as const,
      films: [{ ...film, draft: { ...film.draft, label: 'X 12' } }],
    };
    const { records } = plannedRecords(received, 'Dy', NOTHING_TAKEN);
    expect(records).toHaveLength(1);
    expect(records[0]!.body).toMatchObject({ label: 'X 12', runId: null });
  });
});
