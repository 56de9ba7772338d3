// The part of growth.path that lays a log beside the command.
import { z } from 'zod';
import { ZERO_CELSIUS_K } from '../../science/equilibrium/oxygen.ts';
import { logUnitDoubts } from '../../science/growth/log-units.ts';
import { checkLog10Po2 } from '../../science/growth/oxygen-range.ts';
import { checkOrder, type PathSamples, type PlacedSegment } from '../../science/growth/path.ts';
import { type ColumnComparison, compareColumn } from '../../science/growth/path-log.ts';
import { checkTemperatureC } from '../../science/growth/temperature.ts';
import { inWords } from '../../science/measured.ts';
import { type Flag, numericArray } from '../schema.ts';
import { MAX_PATH_SAMPLES, optionalQuantitySchema, quantityOf } from './growth-schema.ts';

const column = () => numericArray({ allowsMissing: true, max: MAX_PATH_SAMPLES });

export const loggedSchema = z.strictObject({
  timeS: column(),
  temperatureC: column().optional(),
  log10Po2Atm: column().optional(),
  /** of one reading */
  temperatureUK: z.number().min(0).optional(),
  log10Po2U: z.number().min(0).optional(),
});
type Logged = z.infer<typeof loggedSchema>;

export const comparisonSchema = z.strictObject({
  largest: optionalQuantitySchema,
  atS: z.number().nullable(),
  /** index of the segment; null past the end */
  segment: z.number().int().nullable(),
  rootMeanSquare: z.number().nullable(),
  readings: z.number().int(),
  missing: z.number().int(),
  longestGapS: z.number(),
  unseenSegments: z.array(z.number().int()).max(60).readonly(),
});

/**
 * Logged minus commanded, with questions about its units.
 *
 * @throws DomainError PATH_RANGE naming a reading that no film or gas can have; GROWTH_LENGTHS, PATH_ORDER
 */
export function comparedLog(
  log: Logged,
  path: PathSamples,
  segments: readonly PlacedSegment[],
  flags: Flag[],
) {
  checkOrder(log.timeS, 'log.timeS');
  log.temperatureC?.forEach((value, i) => {
    if (!Number.isNaN(value)) checkTemperatureC(`log.temperatureC[${i}]`, value, { code: 'PATH_RANGE' });
  });
  log.log10Po2Atm?.forEach((value, i) => {
    if (!Number.isNaN(value)) checkLog10Po2(`log.log10Po2Atm[${i}]`, value);
  });
  const one = (name: string, found: ColumnComparison, readingU: number | undefined, unit: string) => {
    const { largest } = found;
    if (readingU === undefined)
      flags.push({
        code: 'UNCERTAINTY_NOT_STATED',
        message: `No uncertainty is stated of the logged ${name}: its deviation stands without one (0).`,
      });
    if (largest)
      flags.push({
        code: 'LARGEST_DEVIATION',
        message: `The logged ${name} is furthest from the command at ${inWords(largest.atS)} s${largest.segment < 0 ? ', past the last segment' : ` in segments[${largest.segment}]`}: ${inWords(largest.value)} ${unit}.`,
      });
    else flags.push({ code: 'LOG_EMPTY', message: `The log holds no reading of ${name}.` });
    if (found.unseenSegments.length > 0)
      flags.push({
        code: 'LOG_TOO_COARSE',
        message: `Fewer than three readings of ${name} lie in segments ${found.unseenSegments.join(', ')} (longest gap ${inWords(found.longestGapS)} s from ${inWords(found.gapFromS)} s): what happened there cannot be told.`,
      });
    return {
      largest: largest && quantityOf(largest.value, readingU ?? 0, unit),
      atS: largest?.atS ?? null,
      segment: largest && largest.segment >= 0 ? largest.segment : null,
      rootMeanSquare: found.rootMeanSquare,
      readings: found.readings,
      missing: found.missing,
      longestGapS: found.longestGapS,
      unseenSegments: found.unseenSegments,
    };
  };
  const temperatureK = log.temperatureC?.map((temperatureC) => temperatureC + ZERO_CELSIUS_K);
  const answer = {
    temperature: temperatureK
      ? one(
          'temperature',
          compareColumn(path, segments, log.timeS, temperatureK, path.temperatureK),
          log.temperatureUK,
          'K',
        )
      : null,
    log10Po2: log.log10Po2Atm
      ? one(
          'log10 pO2',
          compareColumn(path, segments, log.timeS, log.log10Po2Atm, path.log10Po2Atm),
          log.log10Po2U,
          '1',
        )
      : null,
  };
  // the lengths were compared above
  flags.push(...logUnitDoubts({ timeS: log.timeS, temperatureK, log10Po2Atm: log.log10Po2Atm }, path));
  return answer;
}
