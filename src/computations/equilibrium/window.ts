// Catalogue entry: odds over the plane of temperature and oxygen pressure at one composition, or of temperature along a line of
// compositions at one oxygen pressure.
import { z } from 'zod';
import { medianIndex } from '../../science/equilibrium/assemblage.ts';
import { filmComposition } from '../../science/equilibrium/film-composition.ts';
import { diagramDoubts, placeholderDoubts } from '../../science/equilibrium/limits.ts';
import { ZERO_CELSIUS_K } from '../../science/equilibrium/oxygen.ts';
import { type Column, fieldChanges, type WindowRow, windowRow } from '../../science/equilibrium/window.ts';
import { longComputation } from '../computation.ts';
import { cationsSchema, flagsSchema, numericResult } from '../schema.ts';
import { checkEnds } from './reaction-schema.ts';
import {
  EQUILIBRIUM_TABLES,
  ensembleConditions,
  ensembleFields,
  isMoved,
  membersOf,
  restShare,
  sinksSchema,
} from './request.ts';

const rangeSchema = z.tuple([z.number(), z.number()]);
const MAX_STEPS = 200;
const DEFAULT_STEPS = 24;

const requestSchema = z
  .strictObject({
    cations: cationsSchema,
    /** far end of a line of compositions; then po2Atm is one number */
    cationsTo: cationsSchema.optional(),
    sinks: sinksSchema,
    temperatureC: rangeSchema,
    po2Atm: z.union([z.number(), rangeSchema]),
    /** temperatures, and columns of pO2 or composition */
    rows: z.number().int().min(2).max(MAX_STEPS).optional(),
    columns: z.number().int().min(2).max(MAX_STEPS).optional(),
    ...ensembleFields,
  })
  .refine(({ cationsTo, po2Atm }) => Array.isArray(po2Atm) === (cationsTo === undefined), {
    message: 'give a range of po2Atm for one composition, or one po2Atm and cationsTo',
    path: ['po2Atm'],
  })
  .refine(({ temperatureC: [from, to] }) => from < to, { message: 'from below to', path: ['temperatureC'] });
type WindowRequest = z.infer<typeof requestSchema>;

interface Row {
  readonly request: WindowRequest;
  readonly temperatureK: number;
}

function temperaturesOf({ temperatureC: [from, to], rows = DEFAULT_STEPS }: WindowRequest): number[] {
  return Array.from({ length: rows }, (_, i) => ZERO_CELSIUS_K + from + ((to - from) * i) / (rows - 1));
}

/** pO2 evenly in its logarithm, or compositions evenly along their line, each with its film's cations. */
function columnsOf(request: WindowRequest): { columns: Column[]; part: number[] } {
  const { cations, cationsTo, po2Atm, columns = DEFAULT_STEPS, sinks } = request;
  const part = Array.from({ length: columns }, (_, i) => i / (columns - 1));
  if (Array.isArray(po2Atm)) {
    const { shares } = filmComposition(cations, sinks);
    const [from, to] = po2Atm;
    return { part, columns: part.map((p) => ({ shares, po2Atm: from * (to / from) ** p })) };
  }
  const sum = (amounts: Readonly<Record<string, number>>): number =>
    Object.values(amounts).reduce((total, amount) => total + amount, 0);
  const [sumFrom, sumTo] = [sum(cations), sum(cationsTo!)];
  const symbols = [...new Set([...Object.keys(cations), ...Object.keys(cationsTo!)])];
  return {
    part,
    columns: part.map((p) => ({
      po2Atm,
      shares: filmComposition(
        Object.fromEntries(
          symbols.map((symbol) => [
            symbol,
            ((1 - p) * (cations[symbol] ?? 0)) / sumFrom + (p * (cationsTo![symbol] ?? 0)) / sumTo,
          ]),
        ),
        sinks,
      ).shares,
    })),
  };
}

/** Name and radius of the rare earth over the whole window: that of the first composition that has one. */
function conditionsOver(request: WindowRequest) {
  const ends = [request.cations, request.cationsTo ?? request.cations].map((cations) =>
    filmComposition(cations, request.sinks),
  );
  const film = ends.find(({ shares }) => shares[0] > 0) ?? ends[0]!;
  return { film, conditions: ensembleConditions(request, film.rareEarth, film.radiusBeyondYAngstrom) };
}

export const equilibriumWindow = longComputation({
  name: 'equilibrium.window',
  version: 2,
  summary:
    'Odds of liquid with 123 over temperature and oxygen pressure, or over temperature and composition.',
  request: requestSchema,
  response: z.strictObject({
    temperatureC: numericResult(),
    /** of each column */
    po2Atm: numericResult(),
    /** of each column: 0 at `cations`, 1 at `cationsTo`; or of the way from the first to the last log pO2 */
    part: numericResult(),
    /** row by row, rising temperature; columns innermost */
    oddsLiquid: numericResult(),
    oddsLiquidAnd123: numericResult(),
    oddsOnlyThose: numericResult(),
    /** of the member with the median share, as a share of all cations */
    liquidShare: numericResult(),
    /** its field, as an index into fieldNames */
    medianField: numericResult(),
    fieldNames: z.array(z.string()),
    /** where the field of one member changes on warming: the one whose liquid over the window is the median */
    changes: z.array(
      z.strictObject({
        column: z.number().int().min(0),
        temperatureC: z.number(),
        below: z.string(),
        above: z.string(),
      }),
    ),
    flags: flagsSchema,
  }),
  uses: [],
  tables: EQUILIBRIUM_TABLES,
  cost: 'long',
  example: {
    cations: { Y: 1, Ba: 3, Cu: 6 },
    temperatureC: [850, 1000],
    po2Atm: [1e-3, 1],
    rows: 4,
    columns: 4,
    members: 6,
  },
  plan(request): Row[] {
    const { po2Atm } = request;
    checkEnds(request.temperatureC, Array.isArray(po2Atm) ? po2Atm : [po2Atm]);
    columnsOf(request); // refuses compositions that cannot be
    return temperaturesOf(request).map((temperatureK) => ({ request, temperatureK }));
  },
  runPart({ request, temperatureK }): WindowRow {
    const { conditions } = conditionsOver(request);
    return windowRow(membersOf(request), conditions, temperatureK, columnsOf(request).columns);
  },
  merge(request, rows) {
    const { film, conditions } = conditionsOver(request);
    const { columns, part } = columnsOf(request);
    const members = membersOf(request);
    const temperaturesK = temperaturesOf(request);
    const rest = restShare(film.inert);
    const sums = members.map((_, m) => rows.reduce((sum, { liquidSums }) => sum + liquidSums[m]!, 0));
    const fields = rows.flatMap(({ medianFields }) => medianFields);
    const fieldNames = [...new Set(fields)].sort();
    const joined = (of: (row: WindowRow) => Float64Array): Float64Array =>
      Float64Array.from(rows.flatMap((row) => [...of(row)]));
    const ends = [request.temperatureC[0], request.temperatureC[1]];
    const pressures = columns.map(({ po2Atm }) => po2Atm);
    const doubts = ends.flatMap((temperatureC) =>
      [pressures[0]!, pressures.at(-1)!].flatMap((po2Atm) =>
        diagramDoubts(film.rareEarth, temperatureC, po2Atm, isMoved(request)),
      ),
    );
    const once = new Map([...film.doubts, ...doubts].map((doubt) => [doubt.code, doubt]));
    return {
      temperatureC: Float64Array.from(temperaturesK, (temperatureK) => temperatureK - ZERO_CELSIUS_K),
      po2Atm: Float64Array.from(pressures),
      part: Float64Array.from(part),
      oddsLiquid: joined((row) => row.oddsLiquid),
      oddsLiquidAnd123: joined((row) => row.oddsLiquidAnd123),
      oddsOnlyThose: joined((row) => row.oddsOnlyThose),
      liquidShare: joined((row) => row.liquidShare.map((share) => share * rest)),
      medianField: Float64Array.from(fields, (field) => fieldNames.indexOf(field)),
      fieldNames,
      changes: fieldChanges(members[medianIndex(sums)]!, conditions, temperaturesK, columns).map(
        ({ column, temperatureK, below, above }) => ({
          column,
          temperatureC: temperatureK - ZERO_CELSIUS_K,
          below,
          above,
        }),
      ),
      flags: [
        ...once.values(),
        ...placeholderDoubts(
          film.rareEarth,
          fieldNames.flatMap((name) => name.split(' + ')),
        ),
      ],
    };
  },
});
