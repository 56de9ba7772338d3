// Request parts that the equilibrium entries share, and their turn into the science's conditions.
import { z } from 'zod';
import { type InertPhase, SINK_LAYERS, type Sink } from '../../science/equilibrium/film-composition.ts';
import { checkConditions } from '../../science/equilibrium/limits.ts';
import { MELT_FORMS, MELT_PARAMETERS } from '../../science/equilibrium/melt.ts';
import {
  memberFrom,
  PUBLISHED_COUNT,
  publishedMembers,
  type StoredMember,
} from '../../science/equilibrium/members.ts';
import { ZERO_CELSIUS_K } from '../../science/equilibrium/oxygen.ts';
import type { Conditions, Member } from '../../science/equilibrium/phase-system.ts';
import { type RareEarth, SOLID_RECORDS, type SolidId } from '../../science/equilibrium/solids.ts';
import { DIFFRACTION_CELLS_TABLE } from '../../science/tables/diffraction-cells.ts';
import { INERT_PHASES_TABLE } from '../../science/tables/inert-phases.ts';
import { IONIC_RADII_TABLE } from '../../science/tables/ionic-radii.ts';
import { MELT_CALIBRATION_TABLE } from '../../science/tables/melt-calibration.ts';
import { MELT_FITS_TABLE } from '../../science/tables/melt-fits.ts';
import { MELT_MEMBERS_TABLE } from '../../science/tables/melt-members.ts';
import { MELT_PRIORS_TABLE } from '../../science/tables/melt-priors.ts';
import { PERITECTICS_RE_TABLE } from '../../science/tables/peritectics-re.ts';
import { SUBSTRATE_SINKS_TABLE } from '../../science/tables/substrate-sinks.ts';
import { THERMO_LINES_TABLE } from '../../science/tables/thermo-lines.ts';
import { THERMO_MELT_TABLE } from '../../science/tables/thermo-melt.ts';
import { THERMO_SOLIDS_TABLE } from '../../science/tables/thermo-solids.ts';
import { blobDocumentSchema } from '../schema.ts';

const phaseNameSchema = z.string().min(1).max(40);
const MAX_PHASES = 40;
const MAX_MEMBERS = 400;
/** Largest offset, J per mole of cations: some 1000 K at the entropy of a melting, beyond any doubt about a phase. */
const MAX_OFFSET_J_PER_MOL = 50_000;

const SOLID_IDS = SOLID_RECORDS.map(({ id }) => id) as [SolidId, ...SolidId[]];
/** One member as it stands on the wire: A and B of each solid, J per mole of formula. */
const energy = z.number().min(-1e7).max(1e7);
const memberSchema = z
  .strictObject({
    form: z.enum(MELT_FORMS),
    melt: z.record(z.string().max(40), energy),
    solids: z.partialRecord(z.enum(SOLID_IDS), z.tuple([energy, z.number().min(-1e4).max(1e4)])),
    jPerMolPerKelvin: z.number().positive().max(1e5),
    peritecticKPerAngstrom: z.number().min(-1e5).max(1e5),
  })
  .superRefine(({ form, melt }, context) => {
    const refuse = (name: string, message: string): void => {
      context.addIssue({ code: 'custom', path: ['melt', name], message });
    };
    const wanted = MELT_PARAMETERS[form];
    for (const name of wanted) if (!(name in melt)) refuse(name, `a ${form} melt needs ${name}`);
    for (const name of Object.keys(melt)) {
      if (!wanted.includes(name))
        refuse(name, `no parameter of a ${form} melt; these are ${wanted.join(', ')}`);
    }
    if (form === 'cooperative' && !((melt.cooperation ?? 1) >= 0.02)) refuse('cooperation', 'at least 0.02');
  });

/** `run` never sees the blob, since the runner puts the document in its place first. */
const ensembleSchema = z.strictObject({ members: z.array(memberSchema).min(1).max(MAX_MEMBERS) });

/** Whose numbers, and what the caller moves in them. */
export const ensembleFields = {
  /** 'published', or an ensemble in full or as the hash of its stored JSON; all its members count alike */
  ensemble: z
    .union([z.literal('published'), ensembleSchema, blobDocumentSchema])
    .optional() as unknown as z.ZodType<'published' | z.infer<typeof ensembleSchema> | undefined>,
  /** added to a phase's energy, J per mole of its cations, from -50000 to 50000; negative makes it form sooner */
  offsetsJPerMol: z
    .record(phaseNameSchema, z.number().min(-MAX_OFFSET_J_PER_MOL).max(MAX_OFFSET_J_PER_MOL))
    .refine((offsets) => Object.keys(offsets).length <= MAX_PHASES, {
      message: `at most ${MAX_PHASES} phases`,
    })
    .optional(),
  /** phases that may not form */
  heldBack: z.array(phaseNameSchema).max(MAX_PHASES).optional(),
  seed: z.number().int().min(0).max(Number.MAX_SAFE_INTEGER).optional(),
  /** of the published ensemble, how many; all if left out */
  members: z.number().int().min(1).max(PUBLISHED_COUNT).optional(),
} as const;

/** T, pO2, the ensemble and what the caller moves in it. */
export const conditionFields = { temperatureC: z.number(), po2Atm: z.number(), ...ensembleFields } as const;

/** Layers under the film that are eaten into. */
export const sinksSchema = z
  .array(
    z.strictObject({
      layer: z.enum(SINK_LAYERS),
      consumedNm: z.number().min(0).max(1e5),
      filmNm: z.number().positive().max(1e6),
    }),
  )
  .max(5)
  .optional() as unknown as z.ZodType<Sink[] | undefined>;

type EnsembleRequest = z.infer<z.ZodObject<typeof ensembleFields>>;
type ConditionRequest = z.infer<z.ZodObject<typeof conditionFields>>;

/** Tables the equilibrium entries rest on. */
export const EQUILIBRIUM_TABLES = [
  THERMO_SOLIDS_TABLE,
  THERMO_LINES_TABLE,
  THERMO_MELT_TABLE,
  MELT_MEMBERS_TABLE,
  MELT_CALIBRATION_TABLE,
  MELT_PRIORS_TABLE,
  MELT_FITS_TABLE,
  PERITECTICS_RE_TABLE,
  IONIC_RADII_TABLE,
  INERT_PHASES_TABLE,
  SUBSTRATE_SINKS_TABLE,
  DIFFRACTION_CELLS_TABLE,
];

export const isMoved = ({ offsetsJPerMol = {}, heldBack = [] }: EnsembleRequest): boolean =>
  heldBack.length > 0 || Object.values(offsetsJPerMol).some((offset) => offset !== 0);

/** Conditions without T and pO2. */
export function ensembleConditions(
  { offsetsJPerMol = {}, heldBack = [] }: EnsembleRequest,
  rareEarth: RareEarth,
  radiusBeyondYAngstrom: number,
): Omit<Conditions, 'temperatureK' | 'po2Atm'> {
  return { rareEarth, radiusBeyondYAngstrom, offsetsJPerMol, heldBack };
}

/** @throws DomainError EQUILIBRIUM_TEMPERATURE, EQUILIBRIUM_OXYGEN */
export function conditionsOf(
  request: ConditionRequest,
  rareEarth: RareEarth,
  radiusBeyondYAngstrom: number,
): Conditions {
  const { temperatureC, po2Atm } = request;
  checkConditions(temperatureC, po2Atm);
  return {
    ...ensembleConditions(request, rareEarth, radiusBeyondYAngstrom),
    temperatureK: temperatureC + ZERO_CELSIUS_K,
    po2Atm,
  };
}

export function membersOf({
  ensemble,
  seed = 0,
  members = PUBLISHED_COUNT,
}: EnsembleRequest): readonly Member[] {
  if (ensemble !== undefined && ensemble !== 'published')
    return ensemble.members.map((member) => memberFrom(member as StoredMember));
  return publishedMembers(seed, members);
}

/** Shares of the triangle's phases once inert phases hold their part of the cations. */
export const restShare = (inert: readonly InertPhase[]): number =>
  1 - inert.reduce((sum, { share }) => sum + share, 0);
