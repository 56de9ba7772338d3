// Catalogue entry: what evaporates from a film over a heat path, between an equilibrium and a reduced bound, and as measured.
import type { z } from 'zod';
import { ZERO_CELSIUS_K } from '../../science/equilibrium/oxygen.ts';
import { DomainError } from '../../science/errors.ts';
import {
  dose,
  filmAmounts,
  fluxesAlong,
  oxygenNeededFor,
  type SurfaceChemistry,
} from '../../science/growth/evaporation.ts';
import {
  fitLoss,
  hottestK,
  type LossDoubts,
  type LossLine,
  logLoss,
  type MeasuredPair,
  type StatedLosses,
  statedLosses,
} from '../../science/growth/evaporation-budget.ts';
import type { PathSamples } from '../../science/growth/path.ts';
import type { PathActivities } from '../../science/growth/path-activities.ts';
import { checkRange } from '../../science/growth/range.ts';
import { kelvinDoubts } from '../../science/growth/temperature.ts';
import {
  isBeyondLine,
  metalLimitLog10Po2,
  type VapourId,
  vapourRecord,
} from '../../science/growth/vapour.ts';
import { inWords } from '../../science/measured.ts';
import { ATOMIC_WEIGHTS_TABLE } from '../../science/tables/atomic-weights.ts';
import { VAPOUR_PRESSURES_TABLE } from '../../science/tables/vapour-pressures.ts';
import { shortComputation } from '../computation.ts';
import { EQUILIBRIUM_TABLES } from '../equilibrium/request.ts';
import type { Flag } from '../schema.ts';
import { requestSchema, responseSchema } from './evaporation-schema.ts';
import {
  branchFlags,
  chemistryOf,
  equilibriumActivities,
  PLACES,
  PLACES_OF_PAIR,
  ratioFlags,
  withActivities,
} from './evaporation-surface.ts';
import { EXAMPLE_PATH, memoryFlags, notStatedFlags, quantityOf, samplesOf, stated } from './growth-schema.ts';

type Request = z.infer<typeof requestSchema>;

const LINES: readonly LossLine[] = ['ba1939', 'ba1968', 'cu'];
const LINE_IDS: Readonly<Record<LossLine, VapourId>> = {
  ba1939: 'BaO-1939',
  ba1968: 'BaO-1968',
  cu: 'Cu-coefficients',
};
/** Samples that a path may have here: each is worked out some twenty times. */
const MAX_SAMPLES_HERE = 8000;

export const growthEvaporation = shortComputation({
  name: 'growth.evaporation',
  version: 3,
  summary:
    'Ba, Cu and RE lost by evaporation over a heat path, three bounds side by side, and the drift of the ratio.',
  request: requestSchema,
  response: responseSchema,
  uses: ['equilibrium.assemblage'],
  tables: [ATOMIC_WEIGHTS_TABLE, VAPOUR_PRESSURES_TABLE, ...EQUILIBRIUM_TABLES],
  cost: 'interactive',
  example: {
    cations: { Y: 1, Ba: 2, Cu: 3 },
    thicknessNm: { value: 500, standardUncertainty: 20 },
    path: EXAMPLE_PATH,
    sticking: { value: 1, standardUncertainty: 0 },
    activities: 'equilibrium',
    temperatureUK: 10,
    log10Po2U: 0.1,
    pairs: [{ before: { Y: 1, Ba: 2, Cu: 3 }, after: { Y: 1, Ba: 1.99, Cu: 2.95 }, relativeRatioU: 0.01 }],
  },
  run(request) {
    const path = samplesOf(request.path);
    checkRange('number of samples of the path', path.timeS.length, { max: MAX_SAMPLES_HERE });
    const flags: Flag[] = [];
    const thicknessNm = stated(request.thicknessNm);
    const amounts = filmAmounts(request.cations, thicknessNm.value * 1e-9);
    const sticking = request.sticking === undefined ? null : stated(request.sticking);
    flags.push(...notStatedFlags({ thicknessNm, ...(sticking && { sticking }) }));
    const base = chemistryOf(request, path, sticking?.value ?? 1, flags);
    const surface = request.reducedLog10Po2Atm ?? 'copper metal';
    const asked = (at: SurfaceChemistry['surfaceLog10Po2']) =>
      request.activities === 'equilibrium'
        ? equilibriumActivities(request, request.cations, path, at, PLACES, flags)
        : null;
    const [inGas, starved] = [asked('as the path'), asked(surface)];
    const chemistry = inGas ? withActivities(base, inGas) : base;
    const held: SurfaceChemistry = {
      ...(starved ? withActivities(base, starved) : base),
      surfaceLog10Po2: surface,
    };
    const exponent = request.activityExponent ?? 1;
    const doubts = doubtsOf(request, thicknessNm, sticking, flags);
    const equilibrium = statedLosses(path, chemistry, amounts, exponent, withScatter(doubts, inGas));
    const reduced = statedLosses(path, held, amounts, exponent, withScatter(doubts, starved));
    const atK = hottestK(path);
    flags.push(...kelvinDoubts(path.temperatureK.map((kelvin) => kelvin - ZERO_CELSIUS_K)));
    if (inGas && starved) {
      const atSample = path.temperatureK.indexOf(atK);
      flags.push(...branchFlags(inGas, starved, atSample), ...ratioFlags(request, path, inGas, atSample));
    }
    lineFlags(path, request, flags);
    return {
      amounts: { reMolPerM2: amounts.re, baMolPerM2: amounts.ba, cuMolPerM2: amounts.cu },
      equilibrium: boundOf(equilibrium),
      reduced: {
        ...boundOf(reduced),
        needsLog10Po2Atm: request.reducedLog10Po2Atm ?? metalLimitLog10Po2(atK),
      },
      empirical:
        request.pairs && request.pairs.length > 0
          ? empiricalOf(request, request.pairs, path, chemistry, amounts, flags)
          : null,
      reLoss: null,
      activities: inGas && {
        timeS: path.timeS,
        ba: inGas.activityBaO,
        cu: inGas.activityCu,
        baRelativeU: inGas.relativeUBa,
        cuRelativeU: inGas.relativeUCu,
      },
      ratios: {
        baPerRe: ratioOf(
          amounts.ba,
          amounts.re,
          equilibrium.ba1939.firstOrder,
          equilibrium.ba1968.firstOrder,
        ),
        cuPerRe: ratioOf(amounts.cu, amounts.re, equilibrium.cu.firstOrder, equilibrium.cu.firstOrder),
      },
      flags,
    };
  },
});

/** Doubts with the scatter of the members' activities. */
const withScatter = (doubts: LossDoubts, found: PathActivities | null): LossDoubts =>
  found ? { ...doubts, activityBa: found.relativeUBa, activityCu: found.relativeUCu } : doubts;

function boundOf(losses: StatedLosses) {
  const one = (line: LossLine) => ({
    constant: { ...losses[line].constant, unit: '1' },
    firstOrder: { ...losses[line].firstOrder, unit: '1' },
    falling: { ...losses[line].falling, unit: '1' },
  });
  return { ba1939: one('ba1939'), ba1968: one('ba1968'), cu: one('cu') };
}

function ratioOf(
  amount: number,
  re: number,
  by1939: StatedLosses['cu']['firstOrder'],
  by1968: StatedLosses['cu']['firstOrder'],
) {
  if (re === 0) return null;
  const before = amount / re;
  const after = (loss: typeof by1939) =>
    quantityOf(before * (1 - loss.value), before * loss.standardUncertainty, '1');
  return { before, after1939: after(by1939), after1968: after(by1968) };
}

function doubtsOf(
  request: Request,
  thicknessNm: ReturnType<typeof stated>,
  sticking: ReturnType<typeof stated> | null,
  flags: Flag[],
): LossDoubts {
  const { temperatureUK, log10Po2U } = request;
  const activities = request.activities === 'equilibrium' ? undefined : request.activities;
  const bare = [
    temperatureUK === undefined ? 'temperature' : '',
    log10Po2U === undefined ? 'pO2' : '',
  ].filter(Boolean);
  if (bare.length > 0)
    flags.push({
      code: 'PATH_UNCERTAINTY_NOT_STATED',
      message: `No uncertainty is stated of ${bare.join(' and ')}; 10 K alone move these losses by some 30 %.`,
    });
  if (!sticking)
    flags.push({
      code: 'UNIT_STICKING',
      message: 'The sticking coefficient is taken as 1, its largest value; what is lost scales with it.',
    });
  return {
    temperatureK: temperatureUK ?? 0,
    log10Po2: log10Po2U ?? 0,
    sticking: sticking ? (sticking.standardUncertainty ?? 0) / sticking.value : 0,
    activityBa: activities?.baRelativeU ?? 0,
    activityCu: activities?.cuRelativeU ?? 0,
    thickness: (thicknessNm.standardUncertainty ?? 0) / thicknessNm.value,
  };
}

function lineFlags(path: PathSamples, { waterPa = 0 }: Request, flags: Flag[]): void {
  const atK = hottestK(path);
  const used: VapourId[] = ['BaO-1939', 'BaO-1968', 'Cu-coefficients'];
  if (waterPa > 0) used.push('BaO-with-water');
  const beyond = used.filter((id) => isBeyondLine(id, atK));
  if (beyond.length > 0)
    flags.push({
      code: 'EXTRAPOLATED',
      message: `At the hottest ${inWords(atK - ZERO_CELSIUS_K)} degC these lines are extrapolated: ${beyond.map((id) => `${id} (${vapourRecord(id).fromK} to ${vapourRecord(id).toK} K)`).join(', ')}. The two lines of BaO differ several times there, so both are shown.`,
    });
  flags.push(
    {
      code: 'RE_NOT_ESTABLISHED',
      message: `The loss of rare earth is negligible beside that of Ba and Cu, but no number is established (${vapourRecord('RE-oxide').source}) ${vapourRecord('RE-oxide').tag}.`,
    },
    ...memoryFlags(used.map(vapourRecord)),
  );
}

function empiricalOf(
  request: Request,
  requested: NonNullable<Request['pairs']>,
  path: PathSamples,
  chemistry: SurfaceChemistry,
  amounts: ReturnType<typeof filmAmounts>,
  flags: Flag[],
) {
  const own = stated(request.thicknessNm).value;
  const pairs = requested.map((pair, i): MeasuredPair => {
    const itsPath = pair.path ? samplesOf(pair.path) : path;
    const isLonger = itsPath.timeS.length !== path.timeS.length;
    const isAsked = request.activities === 'equilibrium';
    const given = request.activities === 'equilibrium' ? undefined : request.activities;
    if (
      isLonger &&
      (typeof given?.ba === 'object' || typeof given?.cu === 'object' || request.potentialsJPerMol)
    )
      throw new DomainError(
        'GROWTH_LENGTHS',
        `pairs[${i}].path has ${itsPath.timeS.length} samples, but activities are given for the ${path.timeS.length} of path.`,
      );
    const bare = isLonger || isAsked ? chemistryOf(request, itsPath, chemistry.sticking, []) : chemistry;
    const itsChemistry =
      isAsked && pair.path
        ? withActivities(
            bare,
            equilibriumActivities(request, pair.before, itsPath, 'as the path', PLACES_OF_PAIR, []),
          )
        : isAsked
          ? chemistry
          : bare;
    return {
      before: pair.before,
      after: pair.after,
      relativeRatioU: pair.relativeRatioU ?? null,
      thicknessM: (pair.thicknessNm ?? own) * 1e-9,
      path: itsPath,
      chemistry: itsChemistry,
    };
  });
  if (request.activities === 'equilibrium')
    flags.push({
      code: 'PAIRS_AS_FILM',
      message:
        'Pairs on the path of this film take its activities, pairs with their own path those of their cations before; the surface pO2 that a loss of copper would need is sought with the activities kept as in the gas.',
    });
  const fluxes = fluxesAlong(path, chemistry);
  const fitted = (line: LossLine) => {
    const { scale, line: fit } = fitLoss(pairs, line);
    const share = dose(path.timeS, fluxes[line]) / amounts[line === 'cu' ? 'cu' : 'ba'];
    const { value, standardUncertainty } = scale;
    const lost = -Math.expm1(-value * share);
    if (standardUncertainty === null)
      flags.push({
        code: 'ONE_PAIR',
        message: `One pair without an uncertainty gives a factor of ${inWords(value)} on ${LINE_IDS[line]} but no uncertainty of it.`,
      });
    else if (value - 2 * standardUncertainty > 1)
      flags.push({
        code: 'LOSS_BEYOND_EVAPORATION',
        message: `More ${line === 'cu' ? 'Cu' : 'Ba'} is missing than can evaporate by ${LINE_IDS[line]}: ${inWords(value)} +- ${inWords(standardUncertainty)} times its bound. Look at transfer from the target, scattering in the gas, reaction with the substrate, creeping liquid or water.`,
      });
    return {
      scale: quantityOf(value, standardUncertainty ?? Number.NaN, '1'),
      chiSquared: fit.chiSquared,
      degreesOfFreedom: fit.degreesOfFreedom,
      loss: quantityOf(lost, (1 - lost) * share * (standardUncertainty ?? Number.NaN), '1'),
    };
  };
  const [ba1939, ba1968, cu] = LINES.map(fitted);
  return {
    ba1939: ba1939!,
    ba1968: ba1968!,
    cu: cu!,
    pairs: pairs.map((pair, i) => {
      const cuLoss = -Math.expm1(-logLoss(pair, 'Cu', `pairs[${i}]`));
      const baLoss = -Math.expm1(-logLoss(pair, 'Ba', `pairs[${i}]`));
      const needed =
        cuLoss > 0
          ? oxygenNeededFor(pair.path, pair.chemistry, filmAmounts(pair.before, pair.thicknessM), cuLoss)
          : null;
      if (cuLoss > 0 && needed === null)
        flags.push({
          code: 'NO_OXYGEN_EXPLAINS',
          message: `pairs[${i}]: ${inWords(100 * cuLoss)} % of the copper is missing, more than a surface over copper metal would lose on this path.`,
        });
      return { baLoss, cuLoss, cuNeedsLog10Po2Atm: needed };
    }),
  };
}
