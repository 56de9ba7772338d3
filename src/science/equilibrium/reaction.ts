// Lines and points where phases stand together: how far a reaction is from happening, and where it does. K, atm, J per mole of
// cations.

import { DomainError } from '../errors.ts';
import { bracketedRoot } from '../numerics/bracketed-root.ts';
import { decompositionInto, edgeMeltOver, type Placed } from './decomposition.ts';
import {
  type Conditions,
  LIQUID,
  type Member,
  type PhaseSystem,
  phaseNamesOf,
  phaseSystem,
} from './phase-system.ts';
import { pointEquilibrium } from './point-equilibrium.ts';

/** A melt in equilibrium with solids. */
export interface ReactionMelt {
  readonly composition: readonly [number, number, number];
  readonly cuprousShare: number;
}

/** How far a reaction is from happening at one T and pO2: above 0 the solids named first in `meaning` are the lower. */
export interface ReactionHeight {
  /** J per mole of cations: positive where the melt, or the last solid, is not yet stable beside the others */
  readonly height: number;
  readonly melt: ReactionMelt | null;
  /** a composition among the phases, for asking whether anything lies lower there */
  readonly amid: readonly [number, number, number];
  /** energy of the phases' mixture there, J per mole of cations */
  readonly mixtureHeight: number;
}

/** What kind of meeting a set of phases is. */
type Meeting =
  | { readonly kind: 'solids'; readonly indices: readonly number[]; readonly coefficients: readonly number[] }
  | { readonly kind: 'melt over plane'; readonly indices: readonly [number, number, number] }
  | { readonly kind: 'melt over edge'; readonly indices: readonly [number, number] }
  | { readonly kind: 'melt in line'; readonly indices: readonly [number, number] }
  | { readonly kind: 'congruent'; readonly index: number };

const SMALL = 1e-9;

const placed = ({ shares, heights }: PhaseSystem, i: number): Placed => ({
  shares: [shares[3 * i]!, shares[3 * i + 1]!, shares[3 * i + 2]!],
  height: heights[i]!,
});

/** Weights that write a target as a mixture of places; undefined where it is none of theirs. Least squares over 1 to 3 places. */
function weightsOf(target: readonly number[], places: readonly (readonly number[])[]): number[] | undefined {
  const n = places.length;
  const rows = places.map((p) => places.map((q) => p[0]! * q[0]! + p[1]! * q[1]! + p[2]! * q[2]!));
  const right = places.map((p) => p[0]! * target[0]! + p[1]! * target[1]! + p[2]! * target[2]!);
  for (let i = 0; i < n; i++) {
    if (Math.abs(rows[i]![i]!) < 1e-12) return undefined;
    for (let j = i + 1; j < n; j++) {
      const factor = rows[j]![i]! / rows[i]![i]!;
      for (let k = i; k < n; k++) rows[j]![k]! -= factor * rows[i]![k]!;
      right[j]! -= factor * right[i]!;
    }
  }
  const weights = new Array<number>(n);
  for (let i = n - 1; i >= 0; i--) {
    let sum = right[i]!;
    for (let k = i + 1; k < n; k++) sum -= rows[i]![k]! * weights[k]!;
    weights[i] = sum / rows[i]![i]!;
  }
  const misses = [0, 1, 2].some(
    (k) => Math.abs(target[k]! - places.reduce((sum, p, i) => sum + weights[i]! * p[k]!, 0)) > SMALL,
  );
  return misses ? undefined : weights;
}

/** What the phases do together; DomainError EQUILIBRIUM_REACTION where they do nothing. */
function meetingOf(system: PhaseSystem, names: readonly string[]): Meeting {
  const indices = names.filter((name) => name !== LIQUID).map((name) => system.names.indexOf(name));
  const at = (i: number): readonly number[] => placed(system, i).shares;
  const refuse = (why: string): never => {
    throw new DomainError(
      'EQUILIBRIUM_REACTION',
      `${names.join(' + ')}: ${why}`,
      'Name the phases of one reaction.',
    );
  };
  if (names.includes(LIQUID)) {
    const [p, q, r] = indices;
    if (indices.length === 1) return { kind: 'congruent', index: p! };
    if (indices.length === 2) {
      const isEdge = [p!, q!].every((i) => at(i)[0] === 0);
      return { kind: isEdge ? 'melt over edge' : 'melt in line', indices: [p!, q!] };
    }
    if (indices.length === 3) {
      if (weightsOf(at(r!), [at(p!), at(q!)]) || weightsOf([1, 0, 0], [at(p!), at(q!), at(r!)]) === undefined)
        return refuse('the three solids lie on one line.');
      return { kind: 'melt over plane', indices: [p!, q!, r!] };
    }
    return refuse('a melt stands with one to three solids at a point of T and pO2.');
  }
  if (indices.length < 2 || indices.length > 4) return refuse('two to four solids make a reaction.');
  for (let last = indices.length - 1; last >= 0; last--) {
    const others = indices.filter((_, i) => i !== last);
    const weights = weightsOf(at(indices[last]!), others.map(at));
    if (weights === undefined) continue;
    return {
      kind: 'solids',
      indices: [...others, indices[last]!],
      coefficients: [...weights.map((w) => -w), 1],
    };
  }
  return refuse('these solids do not make each other.');
}

function meltOf(system: PhaseSystem, y: number, b: number): ReactionMelt {
  return { composition: [y, b, 1 - y - b], cuprousShare: system.search.melt.cuprousShare(y, b) };
}

/** Middle of the phases, with the energy of their equal mixture. */
function middle(parts: readonly Placed[]): Pick<ReactionHeight, 'amid' | 'mixtureHeight'> {
  const n = parts.length;
  return {
    amid: [0, 1, 2].map((k) => parts.reduce((sum, { shares }) => sum + shares[k]! / n, 0)) as [
      number,
      number,
      number,
    ],
    mixtureHeight: parts.reduce((sum, { height }) => sum + height / n, 0),
  };
}

function heightOfMeeting(system: PhaseSystem, meeting: Meeting): ReactionHeight | undefined {
  const { search } = system;
  const withMelt = (height: number, y: number, b: number, solids: readonly Placed[]): ReactionHeight => ({
    height,
    melt: meltOf(system, y, b),
    ...middle([...solids, { shares: [y, b, 1 - y - b], height: search.melt.omega(y, b) }]),
  });
  if (meeting.kind === 'solids') {
    const solids = meeting.indices.map((i) => placed(system, i));
    const height = solids.reduce((sum, solid, i) => sum + meeting.coefficients[i]! * solid.height, 0);
    return { height, melt: null, ...middle(solids) };
  }
  if (meeting.kind === 'congruent') {
    const solid = placed(system, meeting.index);
    const [y, b] = solid.shares;
    return withMelt(search.melt.omega(y, b) - solid.height, y, b, [solid]);
  }
  if (meeting.kind === 'melt over edge') {
    const [p, q] = meeting.indices.map((i) => placed(system, i)) as [Placed, Placed];
    const { height, b } = edgeMeltOver(search.melt, p, q);
    return withMelt(height, 0, b, [p, q]);
  }
  if (meeting.kind === 'melt in line') {
    const [p, q] = meeting.indices.map((i) => placed(system, i)) as [Placed, Placed];
    // the one that decomposes is the one with less RE: the melt, poor in RE, lies beyond it
    const [compound, residue] = p.shares[0] <= q.shares[0] ? [p, q] : [q, p];
    const { height, y, b } = decompositionInto(search.melt, compound, residue);
    return withMelt(height, y, b, [p, q]);
  }
  const solids = meeting.indices.map((i) => placed(system, i)) as [Placed, Placed, Placed];
  const plane = [0, 1, 2].map((k) => {
    const corner = [0, 0, 0];
    corner[k] = 1;
    return weightsOf(
      corner,
      solids.map(({ shares }) => shares),
    )!.reduce((sum, w, i) => sum + w * solids[i]!.height, 0);
  });
  const floor = search.valleys(plane)[0];
  return floor && withMelt(floor.height, floor.y, floor.b, solids);
}

/** A point of a line: where the phases stand together. */
export interface ReactionPoint {
  readonly temperatureK: number;
  readonly po2Atm: number;
  readonly melt: ReactionMelt | null;
  /** phases that stand lower there, so that the reaction is metastable; the liquid where it is another melt; empty where stable */
  readonly lowerPhases: readonly string[];
}

const RANGE_K = [600, 1900] as const;
/** Where a root is sought again when none was found from the first guess: the shift of 123 bends between 1196 and 1246 K. */
const FURTHER_STARTS_K = [1300, 1350, 1100, 1450] as const;
const RANGE_LN_ATM = [-30, 6] as const;
const STABLE_J_PER_MOL = 1;

/** What is asked of a line: one of T and pO2 is given, the other sought. */
export type ReactionAt = { readonly po2Atm: number } | { readonly temperatureK: number };

/**
 * Where a reaction happens in one member.
 *
 * With the liquid and two solids of which one holds less RE, the one turns into the other and the melt opposite it (the peritectic
 * of 123); with two solids without RE, the melt of the Ba-Cu edge stands with both; with three solids the melt stands with all;
 * with one it melts congruently. Without the liquid, two to four solids that make each other.
 *
 * @returns undefined where it does not happen within 600 to 1900 K, or 1e-13 to 400 atm
 * @throws DomainError EQUILIBRIUM_PHASE_UNKNOWN, EQUILIBRIUM_REACTION
 */
export function reactionPoint(
  member: Member,
  conditions: Omit<Conditions, 'temperatureK' | 'po2Atm'>,
  names: readonly string[],
  at: ReactionAt,
  startK = 1200,
): ReactionPoint | undefined {
  const known = phaseNamesOf(conditions.rareEarth);
  for (const name of names) {
    if (!known.includes(name))
      throw new DomainError(
        'EQUILIBRIUM_PHASE_UNKNOWN',
        `'${name}' is not a phase of ${conditions.rareEarth}-Ba-Cu-O here.`,
        `Take one of ${known.join(', ')}.`,
      );
  }
  const systemAt = (temperatureK: number, po2Atm: number): PhaseSystem =>
    phaseSystem(member, { ...conditions, temperatureK, po2Atm });
  const meeting = meetingOf(systemAt(startK, 0.21), names);
  const heightAt = (temperatureK: number, po2Atm: number): number =>
    heightOfMeeting(systemAt(temperatureK, po2Atm), meeting)?.height ?? 4000;
  let temperatureK: number | undefined;
  let po2Atm: number;
  if ('po2Atm' in at) {
    po2Atm = at.po2Atm;
    for (const start of [startK, ...FURTHER_STARTS_K]) {
      temperatureK = bracketedRoot((t) => heightAt(t, at.po2Atm), RANGE_K, start, 4, 1e-5);
      if (temperatureK !== undefined && Math.abs(heightAt(temperatureK, at.po2Atm)) <= STABLE_J_PER_MOL)
        break;
      temperatureK = undefined;
    }
    if (temperatureK === undefined) return undefined;
  } else {
    temperatureK = at.temperatureK;
    const ln = bracketedRoot((x) => heightAt(at.temperatureK, Math.exp(x)), RANGE_LN_ATM, -6, 0.05, 1e-8);
    if (ln === undefined) return undefined;
    po2Atm = Math.exp(ln);
  }
  const system = systemAt(temperatureK, po2Atm);
  const found = heightOfMeeting(system, meeting);
  if (found === undefined || Math.abs(found.height) > STABLE_J_PER_MOL) return undefined;
  const { phases, plane } = pointEquilibrium(system, found.amid);
  const lowest = found.amid.reduce((sum, share, k) => sum + (share > 0 ? share * plane[k]! : 0), 0);
  const isLower = found.mixtureHeight - lowest > STABLE_J_PER_MOL;
  const others = phases.map(({ name }) => name).filter((name) => !names.includes(name));
  const lowerPhases = isLower ? (others.length > 0 ? others : [LIQUID]) : [];
  return { temperatureK, po2Atm, melt: found.melt, lowerPhases };
}
