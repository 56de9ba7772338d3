import { describe, expect, it } from 'vitest';
import { growthDeposition } from '../../src/computations/growth/deposition.ts';
import type { Run } from '../../src/records/kinds.ts';
import { depositionAsk } from '../../src/web/drafts/deposition-ask.ts';
import {
  calibrationGroups,
  filmTimes,
  groupFor,
  missingForCalibration,
  sourceRates,
} from '../../src/web/drafts/pulse-calibrations.ts';
import { EMPTY_RUN, readRun } from '../../src/web/drafts/run-draft.ts';
import { stored, viewWith } from './series-view.ts';

const run = (id: string, energyMj: string, more: Partial<Run> = {}) =>
  stored('run', id, {
    ...readRun({
      ...EMPTY_RUN,
      label: id,
      energyAtTargetMj: energyMj,
      spotAreaMm2: '3.0 ± 0.1',
      pulses: '4000',
      repetitionHz: '10',
      distanceMm: '50',
    }).run,
    targetId: 'T1',
    ...more,
  });
const film = (id: string, runId: string, value: number | null, standardUncertainty: number | null = 10) =>
  stored('film', id, {
    label: id,
    runId,
    cations: null,
    substrate: 'MgO',
    substrateLot: '',
    position: '',
    thicknessNm: value === null ? null : { value, standardUncertainty },
    depositionRateNmPerS: null,
    conversionRateNmPerS: null,
    overallRateNmPerS: null,
    note: '',
  });
const target = (id: string, ba: number) =>
  stored('target', id, {
    label: id,
    cations: { Dy: 1, Ba: ba, Cu: 3 },
    totalMassG: null,
    lotIds: [],
    sheet: null,
    sinterGas: '',
    sintering: null,
    filmAim: null,
    note: '',
  });

const VIEW = viewWith({
  targets: [target('T1', 2), target('T2', 2.3)],
  runs: [
    run('R1', '60', { startedAt: '2026-01-01T00:00:00.000Z' }),
    run('R2', '62', { startedAt: '2026-01-02T00:00:00.000Z', repetitionHz: 20, preAblationPulses: 600 }),
    run('R3', '90', { startedAt: '2026-01-03T00:00:00.000Z', distanceMm: 60 }),
    run('R4', '60', { startedAt: '2026-01-04T00:00:00.000Z', targetId: 'T2' }),
    run('R5', '60', { pulses: null }),
  ],
  films: [
    film('F1', 'R1', 200),
    film('F2', 'R2', 204, 0),
    film('F3', 'R3', 300),
    film('F4', 'R4', 190),
    film('F5', 'R5', 190),
    film('F6', 'R1', null),
  ],
});

describe('films as calibrations of thickness per pulse', () => {
  const groups = calibrationGroups(VIEW);

  it('stand together by target where their fluences are alike, the newest group first', () => {
    expect(groups.map(({ name, films }) => [name, films.map(({ label }) => label)])).toEqual([
      ['T2 at 2.00 J/cm²', ['F4']],
      ['T1 at 3.00 J/cm²', ['F3']],
      ['T1 at 2.03 J/cm²', ['F1', 'F2']],
    ]);
  });

  it('bring rate and distance of their newest run, and a zero doubt as one that is not stated', () => {
    const like = groups[2]!;
    expect(like.repetitionHz).toBe(20);
    expect(like.distancesMm).toEqual([]);
    expect(like.films[1]!.thicknessNm.standardUncertainty).toBeNull();
  });

  it('begin with the target of the wanted ratio, whatever its common factor', () => {
    expect(groupFor(VIEW, groups, { Dy: 2, Ba: 4, Cu: 6 })!.name).toBe('T1 at 3.00 J/cm²');
    expect(groupFor(VIEW, groups, { Dy: 1, Ba: 5, Cu: 6 })!.name).toBe('T2 at 2.00 J/cm²');
    expect(groupFor(VIEW, [], null)).toBeUndefined();
  });

  it('say what each film took, shuttered pulses apart', () => {
    const times = filmTimes(VIEW);
    expect(times.find(({ label }) => label === 'F2')).toMatchObject({ depositionS: 200, preAblationS: 30 });
    expect(times.map(({ label }) => label)).not.toContain('F5');
  });

  it('give a request that the entry answers: pulses, time and interval', () => {
    const { thickness, plume } = depositionAsk(
      {
        origin: { kind: 'pulses', group: groups[2]! },
        groups,
        wantedNm: 404,
        distanceMm: 50,
        isTurning: true,
      },
      {},
    );
    const answer = growthDeposition.run(growthDeposition.request.parse(thickness));
    expect(answer.pulses!.value).toBeCloseTo(8000, 6); // 0.0505 nm a pulse
    expect(answer.time!.value).toBeCloseTo(400, 6);
    expect(answer.pulsesInterval!.low).toBeLessThan(8000);
    const spread = growthDeposition.run(growthDeposition.request.parse(plume)).plume!.spread!;
    expect(spread.value).toBeGreaterThan(0);
  });
});

describe('a series without a calibration', () => {
  it('says what to record next', () => {
    expect(missingForCalibration(viewWith({}))[0]).toContain('Record a deposition run');
    expect(missingForCalibration(viewWith({ runs: [run('R', '60', { pulses: null })] }))[0]).toContain(
      'number of pulses',
    );
    expect(missingForCalibration(viewWith({ runs: [run('R', '60')] }))[0]).toContain('Record the film');
    expect(
      missingForCalibration(viewWith({ runs: [run('R', '60')], films: [film('F', 'R', null)] }))[0],
    ).toContain('Measure the thickness');
  });

  it('takes a rate that a run of another source states', () => {
    const view = viewWith({
      runs: [
        run('E1', '', {
          source: 'evaporation',
          rateNmPerS: { value: 0.5, standardUncertainty: 0.05 },
        }),
      ],
    });
    const [rate] = sourceRates(view);
    expect(rate!.name).toBe('E1 (evaporation)');
    const { thickness } = depositionAsk(
      {
        origin: { kind: 'rate', rate: rate! },
        groups: [],
        wantedNm: 100,
        distanceMm: null,
        isTurning: false,
      },
      {},
    );
    const { time } = growthDeposition.run(growthDeposition.request.parse(thickness));
    expect(time).toMatchObject({ value: 200, standardUncertainty: 20 });
  });

  it('asks nothing without a wanted thickness or a rate', () => {
    const ask = depositionAsk(
      { origin: { kind: 'none' }, groups: [], wantedNm: 100, distanceMm: null, isTurning: false },
      {},
    );
    expect([ask.thickness, ask.plume]).toEqual([null, null]);
  });
});
