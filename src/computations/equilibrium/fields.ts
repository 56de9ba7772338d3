// Catalogue entry: the whole triangle, or a window of it, at one temperature and oxygen pressure.
import { z } from 'zod';
import { FIELD_JOINT, medianIndex } from '../../science/equilibrium/assemblage.ts';
import {
  bordersOf,
  type DiagramBorder,
  diagramOf,
  tieTrianglesOf,
} from '../../science/equilibrium/diagram.ts';
import { liquidOddsOf, scanFields } from '../../science/equilibrium/field-scan.ts';
import { compositionLattice, type Lattice, WHOLE_TRIANGLE } from '../../science/equilibrium/lattice.ts';
import { diagramDoubts, placeholderDoubts } from '../../science/equilibrium/limits.ts';
import {
  checkPhaseNames,
  type PhaseSystem,
  phaseSystem,
  superconductorName,
} from '../../science/equilibrium/phase-system.ts';
import { radiusBeyondY } from '../../science/equilibrium/rare-earth-shift.ts';
import { isRareEarth, RARE_EARTHS } from '../../science/matter/elements.ts';
import { longComputation } from '../computation.ts';
import { cationsSchema, flagsSchema, numericResult } from '../schema.ts';
import { conditionFields, conditionsOf, EQUILIBRIUM_TABLES, isMoved, membersOf } from './request.ts';

const shareSchema = z.number().min(0).max(1);
const pointSchema = z.strictObject({ re: shareSchema, ba: shareSchema, cu: shareSchema });

const plainSchema = z.strictObject({
  rareEarth: z.enum(RARE_EARTHS),
  /** a mixture in its place, amounts of each; phases keep the name of rareEarth. Only its mean radius counts */
  rareEarths: cationsSchema.optional(),
  /** lattice steps along the longer side of the region */
  divisions: z.number().int().min(2).max(200),
  /** part of the triangle; the whole of it if left out */
  region: z.strictObject({ cuMin: shareSchema, cuMax: shareSchema, reMax: shareSchema }).optional(),
  /** the fields whose odds are mapped */
  wantedFields: z.literal('liquid and 123').optional(),
  ...conditionFields,
});
const requestSchema = plainSchema.superRefine(({ rareEarth, rareEarths }, context) => {
  if (rareEarths === undefined) return;
  const refuse = (message: string): void => {
    context.addIssue({ code: 'custom', path: ['rareEarths'], message });
  };
  const others = Object.keys(rareEarths).filter((symbol) => !isRareEarth(symbol));
  if (others.length > 0) refuse(`${others.join(', ')} is no rare earth`);
  const most = Math.max(0, ...Object.values(rareEarths));
  if (!(most > 0)) refuse('at least one amount above 0');
  else if ((rareEarths[rareEarth] ?? 0) < most)
    refuse(`rareEarth must be the most abundant of them, not ${rareEarth}`);
});
type FieldsRequest = z.infer<typeof requestSchema>;

/** A band of compositions, in the lattice's order. */
interface Band {
  readonly request: FieldsRequest;
  readonly start: number;
  readonly end: number;
}

interface BandResult {
  readonly bothOdds: Float64Array;
  readonly onlyOdds: Float64Array;
  readonly liquidShare: Float64Array;
  readonly usefulShare: Float64Array;
  /** index into `fields` */
  readonly medianField: Float64Array;
  readonly fields: readonly string[];
  /** share of liquid over the band, a member */
  readonly liquidSums: Float64Array;
}

/** Compositions a part: more than the usual triangle has (5151), since every part makes the diagrams of all members anew. */
const BAND = 6000;

const conditionsFor = (request: FieldsRequest) =>
  conditionsOf(request, request.rareEarth, radiusBeyondY(request.rareEarths ?? { [request.rareEarth]: 1 }));

const latticeOf = ({ divisions, region }: FieldsRequest): Lattice =>
  compositionLattice(divisions, region ?? WHOLE_TRIANGLE);

export const equilibriumFields = longComputation({
  name: 'equilibrium.fields',
  version: 3,
  summary:
    'Odds of liquid with 123 over the RE-Ba-Cu triangle, with the field borders and tie triangles of the median member.',
  request: requestSchema,
  response: z.strictObject({
    /** compositions in rows of rising RE, in a row rising Cu; shares of cations */
    re: numericResult(),
    ba: numericResult(),
    cu: numericResult(),
    /** probability that liquid and 123 are both there */
    oddsLiquidAnd123: numericResult(),
    /** and nothing else */
    oddsOnlyThose: numericResult(),
    /** odds of liquid with 123, times the share of the cations that end as 123 among the solids of air */
    usefulShare: numericResult(),
    /** field of the member with the median liquid share, as an index into fieldNames */
    medianField: numericResult(),
    fieldNames: z.array(z.string()),
    /** median over the members */
    liquidShare: numericResult(),
    flags: flagsSchema,
    /** three-phase fields of the median member: the one whose share of liquid, summed over the compositions, is the median */
    tieLines: z.array(z.strictObject({ phases: z.array(z.string()), corners: z.array(pointSchema) })),
    /** lines between fields of that member, where the liquid takes part; of the melt's own edge and of its two-phase fields */
    borders: z.array(z.strictObject({ fields: z.array(z.string()), from: pointSchema, to: pointSchema })),
    phasePoints: z.array(pointSchema.extend({ name: z.string() })),
  }),
  uses: [],
  tables: EQUILIBRIUM_TABLES,
  cost: 'long',
  example: { rareEarth: 'Y', temperatureC: 900, po2Atm: 0.1, divisions: 20, members: 10 },
  plan(request) {
    checkPhaseNames(conditionsFor(request));
    const count = latticeOf(request).re.length;
    const bands: Band[] = [];
    for (let start = 0; start < count; start += BAND) {
      bands.push({ request, start, end: Math.min(count, start + BAND) });
    }
    return bands;
  },
  runPart({ request, start, end }): BandResult {
    const members = membersOf(request);
    const lattice = latticeOf(request);
    const scan = scanFields(
      members,
      conditionsFor(request),
      lattice.re.subarray(start, end),
      lattice.ba.subarray(start, end),
      lattice.cu.subarray(start, end),
    );
    const { both, onlyThose } = liquidOddsOf(scan, members.length, superconductorName(request.rareEarth));
    const n = end - start;
    const liquidShare = new Float64Array(n);
    const medianField = new Float64Array(n);
    const liquidSums = new Float64Array(members.length);
    for (let i = 0; i < n; i++) {
      const first = i * members.length;
      const median = first + medianIndex(scan.liquidShare.subarray(first, first + members.length));
      liquidShare[i] = scan.liquidShare[median]!;
      medianField[i] = scan.fieldIndex[median]!;
      for (let m = 0; m < members.length; m++) liquidSums[m]! += scan.liquidShare[first + m]!;
    }
    const fields = scan.fields.map((names) => names.join(FIELD_JOINT));
    return {
      bothOdds: both,
      onlyOdds: onlyThose,
      liquidShare,
      usefulShare: scan.usefulShare,
      medianField,
      fields,
      liquidSums,
    };
  },
  merge(request, bands) {
    const { re, ba, cu } = latticeOf(request);
    const used = bands.flatMap(({ fields, medianField }) =>
      Array.from(medianField, (field) => fields[field]!),
    );
    const fieldNames = [...new Set(used)].sort();
    const indexOf = new Map(fieldNames.map((name, i) => [name, i]));
    const members = membersOf(request);
    const sums = members.map((_, m) => bands.reduce((sum, { liquidSums }) => sum + liquidSums[m]!, 0));
    const system = phaseSystem(members[medianIndex(sums)]!, conditionsFor(request));
    const diagram = diagramOf(system);
    const pointOf = (point: number) => {
      const [reShare, baShare, cuShare] = [0, 1, 2].map((k) => diagram.hull.shares[3 * point + k]!) as [
        number,
        number,
        number,
      ];
      return { re: reShare, ba: baShare, cu: cuShare };
    };
    return {
      re,
      ba,
      cu,
      oddsLiquidAnd123: concatenated(bands.map(({ bothOdds }) => bothOdds)),
      oddsOnlyThose: concatenated(bands.map(({ onlyOdds }) => onlyOdds)),
      usefulShare: concatenated(bands.map(({ usefulShare }) => usefulShare)),
      medianField: Float64Array.from(used, (name) => indexOf.get(name)!),
      fieldNames,
      liquidShare: concatenated(bands.map((band) => band.liquidShare)),
      flags: [
        ...diagramDoubts(request.rareEarth, request.temperatureC, request.po2Atm, isMoved(request)),
        ...placeholderDoubts(
          request.rareEarth,
          fieldNames.flatMap((name) => name.split(FIELD_JOINT)),
        ),
      ],
      tieLines: tieTrianglesOf(diagram).map(({ phases, corners }) => ({
        phases,
        corners: corners.map(pointOf),
      })),
      borders: bordersOf(diagram).map(({ fields, from, to }: DiagramBorder) => ({
        fields: [...fields],
        from: pointOf(from),
        to: pointOf(to),
      })),
      phasePoints: phasePointsOf(system),
    };
  },
});

/** Where each solid stands in the triangle, by name. */
function phasePointsOf({ names, shares }: PhaseSystem) {
  return names
    .map((name, i) => ({ name, re: shares[3 * i]!, ba: shares[3 * i + 1]!, cu: shares[3 * i + 2]! }))
    .sort((p, q) => (p.name < q.name ? -1 : 1));
}

function concatenated(bands: readonly Float64Array[]): Float64Array {
  return Float64Array.from(bands.flatMap((band) => [...band]));
}
