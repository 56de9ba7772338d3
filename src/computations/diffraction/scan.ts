// `diffraction.scan`: lines, c, phases, hump and oxygen from a theta-2theta scan. Angles in degrees of 2theta.
import { z } from 'zod';
import { FALSE_ALARMS_PER_SCAN } from '../../science/diffraction/find-peaks.ts';
import type { Interpretation } from '../../science/diffraction/interpret-scan.ts';
import { interpretScan } from '../../science/diffraction/interpret-scan.ts';
import { RARE_EARTHS_OF_123, usualSecondPhases } from '../../science/diffraction/known-cells.ts';
import { spacingAngstromOfTwoTheta } from '../../science/diffraction/lattice.ts';
import { OXYGEN_OF_C, oxygenOfC } from '../../science/diffraction/oxygen.ts';
import { peakHeightCounts } from '../../science/diffraction/peak-shape.ts';
import type { Radiation } from '../../science/diffraction/radiation.ts';
import { radiationOf } from '../../science/diffraction/radiation.ts';
import { prepareScan } from '../../science/diffraction/scan.ts';
import { DIFFRACTION_CELLS_TABLE } from '../../science/tables/diffraction-cells.ts';
import { XRAY_LINES_TABLE } from '../../science/tables/xray-lines.ts';
import { shortComputation } from '../computation.ts';
import type { Flag, Quantity } from '../schema.ts';
import { flagsSchema, numericArray, numericResult, quantitySchema } from '../schema.ts';
import { EXAMPLE_SCAN } from './scan-example.ts';

const MAX_POINTS = 50_000;
const answerSchema = z.enum(['present', 'absent', 'cannot say']);

const request = z.strictObject({
  twoThetaDeg: numericArray({ max: MAX_POINTS }).describe('angles, degrees of 2theta'),
  counts: numericArray({ allowsMissing: true, max: MAX_POINTS }).describe('counts per point; null = missing'),
  anode: z.enum(['Cu', 'Co', 'Mo']).default('Cu'),
  wavelengthAngstrom: z
    .number()
    .min(0.1)
    .max(3)
    .optional()
    .describe('near K-alpha1 it rescales the doublet; far from it one single line is assumed'),
  substrate: z.string().max(200).optional().describe("e.g. 'SrTiO3', or a stack: 'CeO2/YSZ/Ni-W'"),
  candidates: z.array(z.string().min(1).max(40)).max(40).optional().describe('second phases to answer for'),
  rareEarth: z
    .enum(RARE_EARTHS_OF_123 as [string, ...string[]])
    .optional()
    .describe('of the 123; Y if left out'),
  optics: z
    .strictObject({
      slit: z.enum(['fixed', 'automatic']).optional(),
      divergenceDeg: z.number().min(0).max(10).optional(),
      radiusMm: z.number().min(50).max(1000).optional(),
      sampleLengthMm: z.number().min(0.1).max(200).optional(),
      monochromator: z.enum(['none', 'graphite', 'K-alpha1']).optional(),
      betaFilter: z.boolean().optional(),
    })
    .optional(),
});

const response = z.strictObject({
  peaks: z
    .array(
      z.strictObject({
        twoThetaDeg: quantitySchema,
        heightCounts: z.number(),
        areaCountsDeg: quantitySchema,
        fwhmDeg: quantitySchema,
        dAngstrom: quantitySchema.describe(
          'apparent: the position as measured, not corrected for displacement',
        ),
        lorentzShare: z.number(),
        label: z.string().max(80),
        kind: z.enum([
          'film',
          'film K-beta',
          'substrate',
          'substrate K-beta',
          'tungsten',
          'second phase',
          'holder or contact',
          'unexplained',
        ]),
      }),
    )
    .max(200),
  phases: z
    .array(
      z.strictObject({
        id: z.string().max(40),
        answer: answerSchema,
        odds: z.number().min(0).max(1).describe('probability that the phase is there'),
        share: z.null(),
        texture: z.string().max(120).nullable(),
        detectionLimit: z.number().nullable().describe('area of the smallest line seen, over that of (005)'),
        lines: z
          .array(
            z.strictObject({
              label: z.string().max(80),
              twoThetaDeg: z.number(),
              toleranceDeg: z.number(),
              areaCountsDeg: quantitySchema.nullable(),
              state: z.enum(['seen', 'not seen', 'covered', 'outside the scan']),
              coveredBy: z.string().max(120).nullable(),
            }),
          )
          .max(20),
        reason: z.string().max(600),
      }),
    )
    .max(60),
  cAxisAngstrom: quantitySchema.nullable(),
  cAxisOrders: z.array(z.number().int()).max(20).describe('(00l) orders that c rests on'),
  fwhmDeg: quantitySchema.nullable().describe('of (005)'),
  oxygen: quantitySchema.nullable().describe('x of YBa2Cu3Ox'),
  amorphous: z.strictObject({
    share: quantitySchema.nullable(),
    answer: z.enum(['yes', 'no', 'cannot say']),
  }),
  displacementMm: quantitySchema.nullable().describe('surface below the axis is positive'),
  displacementShiftDeg: quantitySchema
    .nullable()
    .describe('2theta shift at theta = 0; at theta times cos(theta)'),
  unexplained: z.array(z.number()).max(200),
  background: numericResult({ max: MAX_POINTS }),
  fit: numericResult({ max: MAX_POINTS }),
  wavelengthAngstrom: z.number(),
  falseAlarmsPerScan: z.number(),
  flags: flagsSchema,
});

const quantity = (value: number, standardUncertainty: number, unit: string): Quantity => ({
  value,
  standardUncertainty,
  unit,
});

/** Rare earths whose films fluoresce under Cu K-alpha and so raise the background [looked-up: edges just below 8.05 keV]. */
const FLUORESCENT_UNDER_CU = ['Sm', 'Eu', 'Gd', 'Dy', 'Nd'];

/** Heights and areas in the unit of the numbers given, one of which is `countsPerUnit` counts. */
function describePeaks(found: Interpretation, radiation: Radiation, countsPerUnit: number) {
  return found.peaks.map((peak, p) => {
    const d = spacingAngstromOfTwoTheta(peak.twoThetaDeg, radiation.kAlpha1Angstrom);
    const theta = (peak.twoThetaDeg * Math.PI) / 360;
    const dU = (d / Math.tan(theta)) * ((peak.twoThetaDegU * Math.PI) / 360);
    return {
      twoThetaDeg: quantity(peak.twoThetaDeg, peak.twoThetaDegU, 'deg'),
      heightCounts: peakHeightCounts(peak, radiation) / countsPerUnit,
      areaCountsDeg: quantity(
        peak.areaCountsDeg / countsPerUnit,
        peak.areaCountsDegU / countsPerUnit,
        'counts deg',
      ),
      fwhmDeg: quantity(peak.fwhmDeg, peak.fwhmDegU, 'deg'),
      dAngstrom: quantity(d, dU, 'angstrom'),
      lorentzShare: peak.lorentzShare,
      ...found.labels[p]!,
    };
  });
}

function describePhases(found: Interpretation, countsPerUnit: number) {
  return found.phases.map((phase) => ({
    id: phase.formula,
    answer: phase.answer,
    odds: phase.odds,
    share: null,
    texture: phase.texture,
    detectionLimit: phase.detectionLimit,
    lines: phase.lines.map((line) => ({
      label: line.label,
      twoThetaDeg: Number.isNaN(line.twoThetaDeg) ? 180 : line.twoThetaDeg,
      toleranceDeg: Number.isNaN(line.toleranceDeg) ? 0 : line.toleranceDeg,
      areaCountsDeg: Number.isNaN(line.areaCountsDeg)
        ? null
        : quantity(line.areaCountsDeg / countsPerUnit, line.areaCountsDegU / countsPerUnit, 'counts deg'),
      state: !line.isInScan
        ? ('outside the scan' as const)
        : line.coveredBy !== undefined
          ? ('covered' as const)
          : line.peak !== undefined
            ? ('seen' as const)
            : ('not seen' as const),
      coveredBy: line.coveredBy ?? null,
    })),
    reason: phase.reason,
  }));
}

export const diffractionScan = shortComputation({
  name: 'diffraction.scan',
  version: 2,
  summary: 'Lines, c-axis length, phases, amorphous hump and oxygen from a theta-2theta scan of a 123 film.',
  request,
  response,
  uses: [],
  tables: [XRAY_LINES_TABLE, DIFFRACTION_CELLS_TABLE],
  cost: 'interactive',
  example: EXAMPLE_SCAN,
  run(asked) {
    const rareEarth = asked.rareEarth ?? 'Y';
    const { radiation, reading } = radiationOf(
      asked.anode,
      asked.wavelengthAngstrom,
      asked.optics?.monochromator === 'K-alpha1',
    );
    const scan = prepareScan(asked.twoThetaDeg, asked.counts);
    const { countsPerUnit } = scan;
    const found = interpretScan(scan, radiation, {
      rareEarth,
      substrate: asked.substrate,
      candidates: asked.candidates ?? usualSecondPhases(rareEarth),
    });
    const flags: Flag[] = [...scan.remarks, ...found.remarks];
    const flag = (code: string, message: string): void => void flags.push({ code, message });
    if (asked.rareEarth === undefined) flag('RARE_EARTH_ASSUMED', 'No rare earth was named: Y was taken.');
    if (reading === 'mean')
      flag(
        'WAVELENGTH_MEAN',
        'The wavelength given is the mean of the doublet; the doublet itself is fitted, so positions and spacings are those of K-alpha1.',
      );
    if (reading === 'single')
      flag(
        'WAVELENGTH_SINGLE',
        'The wavelength given is not K-alpha of the anode: one line without K-alpha2 and K-beta was assumed.',
      );
    if (asked.anode === 'Cu' && FLUORESCENT_UNDER_CU.includes(rareEarth)) {
      flag(
        'FLUORESCENCE',
        `${rareEarth} fluoresces under Cu K-alpha: the background is high and detection limits are worse than for Y.`,
      );
    }
    flag(
      'PHASE_SHARE_NOT_GIVEN',
      'Amounts are not given: a share needs structure factors, texture and the instrument’s optics. Detection limits are line areas relative to (005).',
    );
    const { cAxis, amorphous } = found;
    const line005 = found.peakOf005 === undefined ? undefined : found.peaks[found.peakOf005]!;
    if (cAxis !== undefined && line005 === undefined)
      flag('FWHM_NOT_GIVEN', '(005) was not seen clear of other lines.');
    let oxygen: Quantity | null = null;
    if (cAxis === undefined) flag('OXYGEN_NOT_GIVEN', 'Without c there is no oxygen content.');
    else if (rareEarth !== 'Y')
      flag('OXYGEN_NOT_GIVEN', `No relation of oxygen to c is known for ${rareEarth}Ba2Cu3O7; only for Y.`);
    else {
      const content = oxygenOfC(cAxis.cAngstrom, cAxis.cAngstromU);
      oxygen = quantity(content.value, content.standardUncertainty, '1');
      flag(
        'OXYGEN_RELATION',
        `x = 82.980 - 6.510 c (${OXYGEN_OF_C.tag}), scatter 0.1, for unstrained crystals with ordered cations; strain and disorder lengthen c too.`,
      );
      if (content.isExtrapolated)
        flag(
          'OXYGEN_EXTRAPOLATED',
          `c is outside ${OXYGEN_OF_C.fromAngstrom} to ${OXYGEN_OF_C.toAngstrom} angstrom, where the relation was made.`,
        );
    }
    let displacementMm: Quantity | null = null;
    if (cAxis !== undefined) {
      const radiusMm = asked.optics?.radiusMm;
      // 2theta shift = -2 s cos(theta)/R, in radian.
      if (radiusMm === undefined)
        flag(
          'DISPLACEMENT_NEEDS_RADIUS',
          'The displacement in millimetres needs the goniometer radius; the shift of the angle is given instead.',
        );
      else {
        const mmPerDeg = -(radiusMm / 2) * (Math.PI / 180);
        displacementMm = quantity(cAxis.shiftDeg * mmPerDeg, cAxis.shiftDegU * Math.abs(mmPerDeg), 'mm');
      }
    } else flag('DISPLACEMENT_NOT_GIVEN', 'Without an indexed film line no displacement was fitted.');
    flag(amorphous.share === null ? 'AMORPHOUS_SHARE_NOT_GIVEN' : 'AMORPHOUS', amorphous.reason);
    if (found.phases.some((phase) => phase.detectionLimit === null)) {
      flag(
        'DETECTION_LIMIT_NOT_GIVEN',
        'Where no limit stands, no line of the phase was clear, or no film line is there to measure it by.',
      );
    }
    return {
      peaks: describePeaks(found, radiation, countsPerUnit),
      phases: describePhases(found, countsPerUnit),
      cAxisAngstrom: cAxis ? quantity(cAxis.cAngstrom, cAxis.cAngstromU, 'angstrom') : null,
      cAxisOrders: cAxis ? [...cAxis.orders] : [],
      fwhmDeg: line005 ? quantity(line005.fwhmDeg, line005.fwhmDegU, 'deg') : null,
      oxygen,
      amorphous: {
        share: amorphous.share === null ? null : quantity(amorphous.share, amorphous.shareU ?? 0, '1'),
        answer: amorphous.answer,
      },
      displacementMm,
      displacementShiftDeg: cAxis ? quantity(cAxis.shiftDeg, cAxis.shiftDegU, 'deg') : null,
      unexplained: found.peaks
        .filter((_, p) => found.labels[p]!.kind === 'unexplained')
        .map((peak) => peak.twoThetaDeg),
      background: Array.from(scan.placeOfInput, (place) => found.backgroundCounts[place]! / countsPerUnit),
      fit: Array.from(scan.placeOfInput, (place) => found.fitCounts[place]! / countsPerUnit),
      wavelengthAngstrom: radiation.kAlpha1Angstrom,
      falseAlarmsPerScan: FALSE_ALARMS_PER_SCAN,
      flags,
    };
  },
});
