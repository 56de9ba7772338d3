// Measured films of a series as calibrations of thickness per pulse, grouped by target and fluence; rates of other sources. Pure.
import type { CationRatio, Stated } from '../../records/common.ts';
import type { SeriesView } from '../../records/series-view.ts';
import { runDerived } from './run-draft.ts';

type Run = SeriesView['runs'][number];

export interface Calibration {
  group: string;
  pulses: number;
  thicknessNm: Stated;
}

/** Films of one target at one fluence. */
export interface CalibrationGroup {
  readonly name: string;
  readonly targetId: string | null;
  readonly films: readonly {
    readonly label: string;
    readonly pulses: number;
    readonly thicknessNm: Stated;
  }[];
  /** of the newest run */
  readonly repetitionHz: number | null;
  readonly distanceMm: number | null;
  /** target to substrate of all its runs, where they differ */
  readonly distancesMm: readonly number[];
}

/** A source without pulses, as a run states it. */
export interface SourceRate {
  readonly name: string;
  readonly rateNmPerS: Stated;
}

/** What one film took of the machine. */
export interface FilmTime {
  readonly label: string;
  readonly pulses: number;
  /** of the film itself; null without a repetition rate */
  readonly depositionS: number | null;
  /** of the shuttered target before it */
  readonly preAblationS: number | null;
  readonly thicknessNm: number | null;
}

/** Thickness of a film: its own record's, else the newest typed for one of its pieces. */
function thicknessOf(view: SeriesView, film: SeriesView['films'][number]): Stated | null {
  if (film.body.thicknessNm) return film.body.thicknessNm;
  const pieceIds = view.pieces.filter(({ body }) => body.filmId === film.id).map(({ id }) => id);
  const fact = view.typedFacts
    .filter(({ body }) => pieceIds.includes(body.pieceId))
    .flatMap(({ body }) => body.numbers)
    .findLast(({ name, bound }) => name === 'thicknessNm' && !bound);
  return fact ? { value: fact.value, standardUncertainty: fact.standardUncertainty } : null;
}

/** The entry takes an uncertainty above 0, or none. */
const measured = ({ value, standardUncertainty }: Stated): Stated => ({
  value,
  standardUncertainty: standardUncertainty === 0 ? null : standardUncertainty,
});

const LONGEST_LABEL = 40;

/** A long label by its two ends, so that labels which begin alike stay apart. */
const shortened = (label: string): string =>
  label.length <= LONGEST_LABEL ? label : `${label.slice(0, 20)}...${label.slice(-17)}`;

/** Fluences within this factor are taken as one: what energy meter and spot are usually known to. [common practice] */
const SAME_FLUENCE = 1.1;

/** Runs of one target by fluence: each group within the factor of its lowest; those without a fluence apart. */
function byFluence(runs: readonly Run[]): { runs: Run[]; fluenceJPerCm2: number | null }[] {
  const known = runs
    .flatMap((run) => {
      const fluence = runDerived(run.body).fluence;
      return fluence ? [{ run, jPerCm2: fluence.jPerM2.value / 1e4 }] : [];
    })
    .sort((one, other) => one.jPerCm2 - other.jPerCm2);
  const groups: (typeof known)[] = [];
  for (const each of known) {
    const last = groups.at(-1);
    if (last && each.jPerCm2 <= SAME_FLUENCE * last[0]!.jPerCm2) last.push(each);
    else groups.push([each]);
  }
  const without = runs.filter((run) => !known.some((each) => each.run === run));
  return [
    ...groups.map((group) => ({
      runs: group.map(({ run }) => run),
      fluenceJPerCm2: group.reduce((sum, { jPerCm2 }) => sum + jPerCm2, 0) / group.length,
    })),
    ...(without.length > 0 ? [{ runs: without, fluenceJPerCm2: null }] : []),
  ];
}

/** Films with a counted run and a measured thickness, by target and fluence; the group of the newest run first. */
export function calibrationGroups(view: SeriesView): CalibrationGroup[] {
  const measuredFilms = view.films.flatMap((film) => {
    const run = view.runs.find(({ id }) => id === film.body.runId);
    const thicknessNm = thicknessOf(view, film);
    const pulses = run?.body.pulses ?? 0;
    return run?.body.source === 'pulsed laser' && pulses > 0 && thicknessNm && thicknessNm.value > 0
      ? [{ run, label: film.body.label, pulses, thicknessNm: measured(thicknessNm) }]
      : [];
  });
  const runs = [...new Set(measuredFilms.map(({ run }) => run))];
  const targetIds = [...new Set(runs.map(({ body }) => body.targetId))];
  const groups = targetIds.flatMap((targetId) => {
    const label = view.targets.find(({ id }) => id === targetId)?.body.label ?? 'target not recorded';
    return byFluence(runs.filter(({ body }) => body.targetId === targetId)).map((group) => ({
      ...group,
      targetId,
      name: `${shortened(label)} at ${group.fluenceJPerCm2 === null ? 'a fluence not recorded' : `${group.fluenceJPerCm2.toPrecision(3)} J/cm²`}`,
    }));
  });
  const startOf = ({ body, createdAt }: Run): string => body.startedAt ?? createdAt;
  const newest = (group: readonly Run[]): Run =>
    [...group].sort((one, other) => startOf(one).localeCompare(startOf(other))).at(-1)!;
  return groups
    .sort((one, other) => startOf(newest(other.runs)).localeCompare(startOf(newest(one.runs))))
    .map(({ name, targetId, runs: ofGroup }) => {
      const last = newest(ofGroup);
      const distances = [...new Set(ofGroup.flatMap(({ body }) => body.distanceMm ?? []))];
      return {
        name,
        targetId,
        films: measuredFilms
          .filter(({ run }) => ofGroup.includes(run))
          .map(({ label, pulses, thicknessNm }) => ({ label, pulses, thicknessNm })),
        repetitionHz: last.body.repetitionHz,
        distanceMm: last.body.distanceMm,
        distancesMm: distances.length > 1 ? distances.sort((a, b) => a - b) : [],
      };
    });
}

/** Largest difference of two shares of the cations that are still one ratio. */
const SAME_SHARE = 1e-3;

function isSameRatio(one: CationRatio, other: CationRatio): boolean {
  const total = (cations: CationRatio): number =>
    Object.values(cations).reduce((sum, amount) => sum + amount, 0);
  const [sumOne, sumOther] = [total(one), total(other)];
  return [...new Set([...Object.keys(one), ...Object.keys(other)])].every(
    (symbol) => Math.abs((one[symbol] ?? 0) / sumOne - (other[symbol] ?? 0) / sumOther) < SAME_SHARE,
  );
}

/** The group to begin with: the newest of a target with the wanted ratio, else the newest. */
export function groupFor(
  view: SeriesView,
  groups: readonly CalibrationGroup[],
  cations: CationRatio | null,
): CalibrationGroup | undefined {
  const targets = view.targets.filter(({ body }) => cations && isSameRatio(body.cations, cations));
  return groups.find(({ targetId }) => targets.some(({ id }) => id === targetId)) ?? groups[0];
}

/** All groups as growth.deposition takes them. */
export const calibrationsOf = (groups: readonly CalibrationGroup[]): Calibration[] =>
  groups.flatMap(({ name, films }) =>
    films.map(({ pulses, thicknessNm }) => ({ group: name, pulses, thicknessNm })),
  );

/** Rates that runs of other sources state, the newest first. */
export function sourceRates(view: SeriesView): SourceRate[] {
  return view.runs
    .flatMap(({ body }) =>
      body.rateNmPerS && body.source !== 'pulsed laser'
        ? [{ name: `${body.label} (${body.source})`, rateNmPerS: body.rateNmPerS }]
        : [],
    )
    .reverse();
}

/** Time that each film with a counted run took. */
export function filmTimes(view: SeriesView): FilmTime[] {
  return view.films.flatMap((film) => {
    const run = view.runs.find(({ id }) => id === film.body.runId)?.body;
    if (!run?.pulses) return [];
    const hz = run.repetitionHz;
    return [
      {
        label: film.body.label,
        pulses: run.pulses,
        depositionS: hz ? run.pulses / hz : null,
        preAblationS: hz && run.preAblationPulses !== null ? run.preAblationPulses / hz : null,
        thicknessNm: thicknessOf(view, film)?.value ?? null,
      },
    ];
  });
}

/** What is missing before a thickness per pulse can be fitted, in words. */
export function missingForCalibration(view: SeriesView): string[] {
  const laserRuns = view.runs.filter(({ body }) => body.source === 'pulsed laser');
  const counted = laserRuns.filter(({ body }) => (body.pulses ?? 0) > 0);
  const grown = view.films.filter(({ body }) => counted.some(({ id }) => id === body.runId));
  if (laserRuns.length === 0)
    return [
      'Record a deposition run with its number of pulses, its target, energy at the target and spot area; for another source its rate in nm/s.',
    ];
  if (counted.length === 0) return ['Record the number of pulses of a run.'];
  if (grown.length === 0) return ['Record the film that a counted run made.'];
  return [
    'Measure the thickness of a film whose run has its pulses counted, and record it with its uncertainty.',
  ];
}
