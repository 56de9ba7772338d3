// Request parts that both equilibrium entries share, and their turn into the science's conditions.
import { z } from 'zod';
import type { Conditions, Member } from '../../science/equilibrium/diagram.ts';
import { checkConditions } from '../../science/equilibrium/limits.ts';
import { publishedMembers } from '../../science/equilibrium/members.ts';
import { ZERO_CELSIUS_K } from '../../science/equilibrium/oxygen.ts';
import type { RareEarth } from '../../science/equilibrium/solids.ts';
import { THERMO_LINES_TABLE } from '../../science/tables/thermo-lines.ts';
import { THERMO_MELT_TABLE } from '../../science/tables/thermo-melt.ts';
import { THERMO_SOLIDS_TABLE } from '../../science/tables/thermo-solids.ts';

const phaseNameSchema = z.string().min(1).max(40);
const DEFAULT_MEMBERS = 50;
const MAX_PHASES = 40;

/** T, pO2, the ensemble and what the caller moves in it. */
export const conditionFields = {
  temperatureC: z.number(),
  po2Atm: z.number(),
  /** whose numbers; the published ones are the only ensemble so far */
  ensemble: z.literal('published').optional(),
  /** added to a phase's energy, J per mole of its cations; negative makes it form sooner */
  offsetsJPerMol: z
    .record(phaseNameSchema, z.number().min(-1e6).max(1e6))
    .refine((offsets) => Object.keys(offsets).length <= MAX_PHASES, {
      message: `at most ${MAX_PHASES} phases`,
    })
    .optional(),
  /** phases that may not form */
  heldBack: z.array(phaseNameSchema).max(MAX_PHASES).optional(),
  seed: z.number().int().min(0).max(Number.MAX_SAFE_INTEGER).optional(),
  members: z.number().int().min(1).max(200).optional(),
} as const;

type ConditionRequest = z.infer<z.ZodObject<typeof conditionFields>>;

/** Tables both entries rest on. */
export const EQUILIBRIUM_TABLES = [THERMO_SOLIDS_TABLE, THERMO_LINES_TABLE, THERMO_MELT_TABLE];

export const isMoved = ({ offsetsJPerMol = {}, heldBack = [] }: ConditionRequest): boolean =>
  heldBack.length > 0 || Object.values(offsetsJPerMol).some((offset) => offset !== 0);

/** @throws DomainError EQUILIBRIUM_TEMPERATURE, EQUILIBRIUM_OXYGEN */
export function conditionsOf(request: ConditionRequest, rareEarth: RareEarth): Conditions {
  const { temperatureC, po2Atm, offsetsJPerMol = {}, heldBack = [] } = request;
  checkConditions(temperatureC, po2Atm);
  return { rareEarth, temperatureK: temperatureC + ZERO_CELSIUS_K, po2Atm, offsetsJPerMol, heldBack };
}

export const membersOf = ({ seed = 0, members = DEFAULT_MEMBERS }: ConditionRequest): readonly Member[] =>
  publishedMembers(seed, members);
