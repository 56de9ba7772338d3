import { describe, expect, it } from 'vitest';
import { growthPath } from '../../src/computations/growth/path.ts';
import { chamberSchema, pathPlanSchema, type Treatment, treatmentSchema } from '../../src/records/kinds.ts';
import { placeSegments } from '../../src/science/growth/path.ts';
import { chamberDraftOf, EMPTY_CHAMBER, readChamber } from '../../src/web/drafts/chamber-draft.ts';
import { readDrive, sittingOfPlan } from '../../src/web/drafts/drive-draft.ts';
import { pathDraftOf, pathDraftOfTreatment, readPath, step } from '../../src/web/drafts/path-draft.ts';
import { emptyPath, PRESETS, withPreset } from '../../src/web/drafts/path-presets.ts';
import { treatmentSegments } from '../../src/web/drafts/recorded-path.ts';
import { emptySitting } from '../../src/web/drafts/sitting.ts';
import { readTreatment, treatmentDraftOf } from '../../src/web/drafts/treatment-draft.ts';
import { withChamber, withTypedAs } from '../../src/web/drafts/typed-as.ts';

const ID = '01890a5d-ac96-774b-bcce-b302099a8057';
const EMPTY = emptyPath('1:2:3');

describe('a plan as typed', () => {
  it.each(PRESETS)(
    'that begins as $id is read whole, kept by the schema and taken by growth.path',
    (preset) => {
      const { plan, faults } = readPath({ ...withPreset(EMPTY, preset), label: 'first' }, 'Dy');
      expect(faults).toEqual({});
      expect(pathPlanSchema.parse(plan)).toEqual(plan);
      const { start, segments } = plan!;
      const answer = growthPath.run(growthPath.request.parse({ start, segments }));
      expect(answer.segments).toHaveLength(preset.steps.length);
      expect(Math.max(...Array.from(answer.temperatureC))).toBeGreaterThan(700);
    },
  );

  it('comes back from its record as it was kept', () => {
    const { plan } = readPath({ ...EMPTY, label: 'first', chamberId: ID, thicknessNm: '500 ± 20' }, 'Dy');
    expect(readPath(pathDraftOf('', plan!), 'Dy').plan).toEqual(plan);
  });

  it('turns 150 mTorr into atm and 500 s of 500 nm into a deposit', () => {
    const { plan } = readPath(EMPTY, 'Dy');
    expect(plan!.start.po2Atm).toBeCloseTo(150 / 760_000, 12);
    expect(plan!.segments[2]).toEqual({ kind: 'deposit', thicknessNm: 500, durationS: 500 });
    expect(plan!.cations).toEqual({ Dy: 1, Ba: 2, Cu: 3 });
  });

  it('names a ramp that says its rate and its time, and what is left empty', () => {
    const steps = [
      step('a', 'ramp', { toC: '800', rate: '30', duration: '5 min' }),
      step('b', 'hold'),
      step('c', 'gas'),
      step('d', 'ramp', { toC: '700' }),
    ];
    const { faults, plan, readable } = readPath({ ...EMPTY, steps }, 'Dy');
    expect(faults['0.duration']).toMatch(/30 K\/min and 5 min; expected one of them/);
    expect(faults['1.duration']).toMatch(/Found nothing/);
    expect(faults['2.po2']).toMatch(/Found nothing/);
    expect(faults['3.rate']).toMatch(/K\/min, or how long/);
    expect(plan).toBeNull();
    expect(readable).toBeNull();
  });

  it('is drawn up to the step that is still being typed', () => {
    const steps = EMPTY.steps.map((row, i) => (i === 3 ? { ...row, po2: '' } : row));
    const { readable, plan } = readPath({ ...EMPTY, steps }, 'Dy');
    expect(readable!.segments).toHaveLength(3);
    expect(plan).toBeNull();
  });

  it('refuses gas without any oxygen, cooling upwards, temperatures in K and no step at all', () => {
    const steps = [
      step('a', 'ramp', { toC: '1073.15 K', rate: '30' }),
      step('b', 'gas', { po2: '0' }),
      step('c', 'cool', { toC: '300', rate: '10' }),
      step('d', 'cool', { toC: '400', rate: '10' }),
      step('e', 'ramp', { toC: '1600', rate: '10' }),
    ];
    const { faults } = readPath({ ...EMPTY, steps }, 'Dy');
    expect(faults['0.toC']).toMatch(/1073\.15 K/);
    expect(faults['1.po2']).toMatch(/above 0 .*trace of oxygen/);
    expect(faults['3.toC']).toMatch(/Found 400 °C; expected no more than the 300 °C before it/);
    expect(faults['4.toC']).toMatch(/meant in K/);
    expect(readPath({ ...EMPTY, steps: [] }, 'Dy').faults.segments).toMatch(/Found no step/);
  });
});

const TREATMENT: Treatment = {
  label: 'conversion',
  pieceId: ID,
  startedAt: null,
  segments: [
    { kind: 'ramp', toC: 850, durationS: 825, po2Atm: 1e-5, gas: 'O2' },
    { kind: 'gas change', toC: 850, durationS: 10, po2Atm: 1e-2, gas: 'O2' },
    { kind: 'hold', toC: 850, durationS: 60, po2Atm: 1e-2, gas: 'O2' },
    { kind: 'cool', toC: 25, durationS: 1650, po2Atm: 1e-2, gas: 'O2' },
  ],
  planId: ID,
  chamberId: ID,
  note: '',
};

describe('a plan typed as a chamber reads it', () => {
  const read = withTypedAs(EMPTY, 'reading', -45);

  it('shows the readings, and is kept as the surface', () => {
    expect(read.steps[0]!.toC).toBe('825');
    expect(read.startC).toBe('70');
    expect(readPath(read, 'Dy', -45).plan).toEqual(readPath(EMPTY, 'Dy').plan);
    expect(withTypedAs(read, 'surface', -45)).toEqual(EMPTY);
  });

  it('says in readings what it cannot take', () => {
    const steps = read.steps.map((row, i) => (i === 4 ? { ...row, toC: '830' } : row));
    expect(readPath({ ...read, steps }, 'Dy', -45).faults['4.toC']).toMatch(
      /Found 830 °C; expected no more than the 825 °C before it/,
    );
  });

  it('stays the same path in another chamber, and the surface in one without an offset', () => {
    const other = withChamber(read, 'B', { before: -45, after: 10 });
    expect(other).toMatchObject({ typedAs: 'reading', chamberId: 'B' });
    expect(other.steps[0]!.toC).toBe('770');
    expect(withChamber(read, '', { before: -45, after: null })).toEqual(EMPTY);
  });
});

describe('a plan and a treatment', () => {
  it('are the same path, there and back', () => {
    const draft = pathDraftOfTreatment(EMPTY, ID, TREATMENT);
    const { plan } = readPath(draft, 'Dy');
    expect(plan!.segments.map(({ kind }) => kind)).toEqual(['ramp', 'gas', 'hold', 'cool']);
    const placed = placeSegments(plan!.start, plan!.segments);
    expect(treatmentSegments(placed)).toEqual({ segments: TREATMENT.segments, deposits: [] });
  });

  it('meet where the treatment changes its gas between two steps', () => {
    const segments = TREATMENT.segments.filter(({ kind }) => kind !== 'gas change');
    const { plan } = readPath(pathDraftOfTreatment(EMPTY, ID, { ...TREATMENT, segments }), 'Dy');
    expect(plan!.segments[1]).toEqual({ kind: 'gas', toPo2Atm: 1e-2, durationS: 0 });
  });

  it('cannot be made one where a film is grown, and says which step', () => {
    const { plan } = readPath(EMPTY, 'Dy');
    const placed = placeSegments(plan!.start, plan!.segments);
    const drive = { pieceId: ID, label: 'a', startedAt: '' };
    const driven = { planId: ID, chamberId: '', label: 'p', placed };
    expect(readDrive(drive, driven).faults.segments).toMatch(/deposit in step 3/);
    const plan1 = { route: 'in situ' as const, chamberId: ID, label: 'p', placed };
    const once = sittingOfPlan(
      emptySitting(() => ID),
      plan1,
    );
    const run = sittingOfPlan(once, plan1).run.draft;
    expect(run).toMatchObject({ chamberId: ID, note: 'Grown by plan p.' });
    expect(run).toMatchObject({ temperatureC: '780', temperaturePlace: 'surface', pressureUnit: 'mTorr' });
    expect(Number(run.pressure)).toBeCloseTo(150, 6);
  });

  it('gives a treatment that the schema keeps, with its plan and chamber', () => {
    const placed = placeSegments({ temperatureC: 400, po2Atm: 1 }, [{ kind: 'hold', durationS: 60 }]);
    const { body, faults } = readDrive(
      { pieceId: ID, label: 'anneal', startedAt: '' },
      { planId: ID, chamberId: ID, label: 'p', placed },
    );
    expect(faults).toEqual({});
    expect(treatmentSchema.parse(body)).toEqual(body);
    // a treatment begins at room temperature: the plan's own start stands first
    expect(body.segments[0]).toMatchObject({ kind: 'ramp', toC: 400, durationS: 0 });
    expect(body).toMatchObject({ planId: ID, chamberId: ID });
  });

  it('stay tied when the treatment is edited', () => {
    const again = readTreatment({ ...treatmentDraftOf(TREATMENT), label: 'renamed' }, ID).treatment;
    expect(again).toMatchObject({ label: 'renamed', planId: ID, chamberId: ID });
  });
});

describe('a chamber as typed', () => {
  const typed = { ...EMPTY_CHAMBER, label: 'PLD 1', volumeL: '50 ± 2', thermalLagS: '3', offsetK: '-20 ± 8' };

  it('is kept by the schema and comes back as it was', () => {
    const { body, faults } = readChamber(typed, []);
    expect(faults).toEqual({});
    expect(chamberSchema.parse(body)).toEqual(body);
    expect(body.volumeL).toEqual({ value: 50, standardUncertainty: 2 });
    expect(readChamber(chamberDraftOf(body), []).body).toEqual(body);
  });

  it('needs a name of its own, a volume above 0 and the share of oxygen', () => {
    const { faults } = readChamber({ ...typed, volumeL: '0', oxygenPercent: '' }, ['PLD 1']);
    expect(faults.label).toMatch(/taken/);
    expect(faults.volumeL).toMatch(/above 0/);
    expect(faults.oxygenPercent).toMatch(/Found nothing/);
  });
});
