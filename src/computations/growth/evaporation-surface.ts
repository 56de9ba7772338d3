// The surface that growth.evaporation works out losses from: activities given, of the equilibrium or 1, and the gas above.
import type { z } from 'zod';
import { DomainError } from '../../science/errors.ts';
import { activitiesOfPotentials, type SurfaceChemistry } from '../../science/growth/evaporation.ts';
import type { PathSamples } from '../../science/growth/path.ts';
import { activitiesAlong, type PathActivities } from '../../science/growth/path-activities.ts';
import { COLDEST_ASKED_C, HOTTEST_ASKED_C } from '../../science/growth/path-places.ts';
import { checkRange, POSITIVE } from '../../science/growth/range.ts';
import { vapourRecord } from '../../science/growth/vapour.ts';
import { inWords } from '../../science/measured.ts';
import type { Flag, NumericArray } from '../schema.ts';
import type { requestSchema } from './evaporation-schema.ts';
import { diagramFlags, filmEquilibrium } from './film-equilibrium.ts';

type Request = z.infer<typeof requestSchema>;

const DEFAULT_DIFFUSIVITY_M2_PER_S = 2e-5; // [common practice: order of a vapour in air at room temperature]
/** Places asked along the film's own path, and along that of a measured pair. */
export const PLACES = 60;
export const PLACES_OF_PAIR = 24;

/** One value a sample, from one number or one array. */
function along(value: number | NumericArray, n: number, field: string): Float64Array {
  if (typeof value === 'number') return new Float64Array(n).fill(value);
  if (value.length !== n)
    throw new DomainError(
      'GROWTH_LENGTHS',
      `${field} has ${value.length} numbers but the path ${n} samples; give one number, or the path in columns.`,
    );
  return value;
}

/** @throws DomainError GROWTH_RANGE, GROWTH_LENGTHS */
export function chemistryOf(
  request: Request,
  path: PathSamples,
  sticking: number,
  flags: Flag[],
): SurfaceChemistry {
  const n = path.timeS.length;
  const { potentialsJPerMol, gasLayer, waterPa = 0 } = request;
  const activities = request.activities === 'equilibrium' ? undefined : request.activities;
  checkRange('waterPa', waterPa, { min: 0, max: 1e6 });
  if (request.activities && potentialsJPerMol)
    throw new DomainError(
      'GROWTH_RANGE',
      'activities and potentialsJPerMol are both given; allowed is one of them.',
    );
  const activityBaO = along(activities?.ba ?? 1, n, 'activities.ba');
  const activityCu = along(activities?.cu ?? 1, n, 'activities.cu');
  if (potentialsJPerMol) {
    const ba = along(potentialsJPerMol.ba, n, 'potentialsJPerMol.ba');
    const cu = along(potentialsJPerMol.cu, n, 'potentialsJPerMol.cu');
    for (let i = 0; i < n; i++) {
      const found = activitiesOfPotentials(path.temperatureK[i]!, 10 ** path.log10Po2Atm[i]!, ba[i]!, cu[i]!);
      activityBaO[i] = found.activityBaO;
      activityCu[i] = found.activityCu;
    }
  } else if (request.activities !== 'equilibrium') {
    const assumed = [
      activities?.ba === undefined ? 'BaO' : '',
      activities?.cu === undefined ? 'copper' : '',
    ].filter(Boolean);
    if (assumed.length > 0)
      flags.push({
        code: 'UNIT_ACTIVITY',
        message: `The activity of ${assumed.join(' and ')} is taken as 1, that of the pure oxide: the loss is an upper bound. In 123 it is lower by a factor that only equilibrium potentials tell.`,
      });
  }
  for (let i = 0; i < n; i++) {
    checkRange(`activity of BaO at sample ${i}`, activityBaO[i]!, { min: 0, max: 1 + 1e-6 });
    checkRange(`activity of copper at sample ${i}`, activityCu[i]!, { min: 0, max: 1 + 1e-6 });
  }
  if (gasLayer) {
    checkRange('gasLayer.thicknessMm', gasLayer.thicknessMm, POSITIVE);
    checkRange('gasLayer.totalPressurePa', gasLayer.totalPressurePa, POSITIVE);
    checkRange(
      'gasLayer.diffusivityM2PerS',
      gasLayer.diffusivityM2PerS ?? DEFAULT_DIFFUSIVITY_M2_PER_S,
      POSITIVE,
    );
    if (gasLayer.diffusivityM2PerS === undefined)
      flags.push({
        code: 'MEMORY_INPUT',
        message:
          'The diffusivity of vapour in the gas is an order of magnitude, 2e-5 m2/s at room temperature and 1 atm [common practice].',
      });
  }
  if (waterPa > 0)
    flags.push({
      code: 'WATER_CARRIES_BARIUM',
      message: `With ${waterPa} Pa of water barium also leaves as Ba(OH)2, often faster than as BaO; its line is printed for ${vapourRecord('BaO-with-water').fromK} to ${vapourRecord('BaO-with-water').toK} K. Dry the system.`,
    });
  return {
    activityBaO,
    activityCu,
    waterPa,
    sticking,
    layer: gasLayer
      ? {
          thicknessM: gasLayer.thicknessMm / 1000,
          totalPressurePa: gasLayer.totalPressurePa,
          diffusivityM2PerS: gasLayer.diffusivityM2PerS ?? DEFAULT_DIFFUSIVITY_M2_PER_S,
        }
      : null,
    surfaceLog10Po2: 'as the path',
  };
}

/** Activities of the film's cations in the equilibrium, with the pO2 of the gas or one held lower at the surface. */
export function equilibriumActivities(
  request: Request,
  cations: Request['cations'],
  path: PathSamples,
  surface: SurfaceChemistry['surfaceLog10Po2'],
  most: number,
  flags: Flag[],
): PathActivities {
  const equilibrium = filmEquilibrium(cations, request);
  const found = activitiesAlong(
    path,
    surface,
    equilibrium.members,
    equilibrium.conditions,
    equilibrium.film.shares,
    most,
  );
  if (surface === 'as the path') flags.push(...diagramFlags(equilibrium, request, found.places));
  if (found.unasked > 0)
    flags.push({
      code: 'ACTIVITY_HELD',
      message: `${surface === 'as the path' ? 'Bound in balance with the gas' : 'Reduced bound'}: the equilibrium is not asked below ${COLDEST_ASKED_C} degC, above ${HOTTEST_ASKED_C} degC or below 1e-12 atm O2; there the activities of the nearest place in time that was asked are kept${found.places.length === 0 ? ', and as none was, they are 1' : ''} [common practice].`,
    });
  return found;
}

/** Usual doubt of a measured cation ratio [common practice: with standards 1 to 3 %]. */
const RATIO_DOUBT = 0.01;
/** Activities that move by less than this factor are no news. */
const LEAST_FACTOR = 1.3;

/**
 * A word where the activities hang on the last per cent of the ratio, as they do near a single phase, whose potentials jump from one side of
 * it to the other: the range at the hottest sample with Ba or Cu moved by 1 % either way.
 */
export function ratioFlags(
  request: Request,
  path: PathSamples,
  { activityBaO, activityCu }: PathActivities,
  atSample: number,
): Flag[] {
  const at = (column: Float64Array) => Float64Array.of(column[atSample]!, column[atSample]!);
  const hottest = {
    timeS: Float64Array.of(0, 1),
    temperatureK: at(path.temperatureK),
    log10Po2Atm: at(path.log10Po2Atm),
  };
  const found = { ba: [activityBaO[atSample]!], cu: [activityCu[atSample]!] };
  for (const symbol of ['Ba', 'Cu'])
    for (const by of [1 - RATIO_DOUBT, 1 + RATIO_DOUBT]) {
      const cations = { ...request.cations, [symbol]: (request.cations[symbol] ?? 0) * by };
      const moved = equilibriumActivities(request, cations, hottest, 'as the path', 2, []);
      if (moved.places.length === 0) return [];
      found.ba.push(moved.activityBaO[0]!);
      found.cu.push(moved.activityCu[0]!);
    }
  const range = (of: readonly number[]) => [Math.min(...of), Math.max(...of)] as const;
  const [ba, cu] = [range(found.ba), range(found.cu)];
  if (ba[1] < LEAST_FACTOR * ba[0] && cu[1] < LEAST_FACTOR * cu[0]) return [];
  return [
    {
      code: 'ACTIVITIES_HANG_ON_RATIO',
      message: `The activities are those of exactly this ratio. With Ba or Cu moved by 1 % either way they lie between ${inWords(ba[0])} and ${inWords(ba[1])} (BaO) and between ${inWords(cu[0])} and ${inWords(cu[1])} (copper) at the hottest sample, and the losses with them: that is not in the uncertainties. Ask with the ratios that your analysis allows.`,
    },
  ];
}

/** Chemistry with the activities of the equilibrium in place of those that stand in it. */
export const withActivities = (
  chemistry: SurfaceChemistry,
  { activityBaO, activityCu }: PathActivities,
): SurfaceChemistry => ({ ...chemistry, activityBaO, activityCu });

/** What is worth a word where the oxygen-starved surface has other activities than the film in its gas. */
export function branchFlags(inGas: PathActivities, starved: PathActivities, atSample: number): Flag[] {
  const of = ({ activityBaO, activityCu }: PathActivities) =>
    `BaO ${inWords(activityBaO[atSample]!)}, copper ${inWords(activityCu[atSample]!)}`;
  return [
    {
      code: 'STARVED_ACTIVITIES',
      message: `The reduced bound takes the activities of the same cations at the lower pO2 of its surface, far below where any phase near 123 was measured. At the hottest sample: ${of(starved)}; in balance with the gas: ${of(inGas)}.`,
    },
  ];
}
