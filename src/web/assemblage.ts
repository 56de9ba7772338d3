// The answer of `equilibrium.assemblage` as the pages read it. Pure.
import { RARE_EARTHS } from '../science/matter/elements.ts';
import type { Remark } from './trust.ts';

export interface Assemblage {
  readonly odds: Readonly<Record<string, number>>;
  readonly phases: readonly { readonly name: string; readonly share: number; readonly shareU: number }[];
  readonly liquidShare: { readonly value: number; readonly standardUncertainty: number } | null;
  readonly liquidInterval: { readonly low: number; readonly high: number };
  readonly cuprousShare: number | null;
  readonly driving: Readonly<Record<string, number>>;
  readonly flags: readonly Remark[];
}

/** One reading of the same composition and condition. */
export interface ReadAs {
  /** `Equilibrium`, or what is set free */
  readonly title: string;
  readonly answer: Assemblage;
}

export const LIQUID = 'liquid';

/** Name of 123 of the most abundant rare earth; of Y where there is none, as the diagram names it. */
export function superconductorOf(cations: Readonly<Record<string, number>>): string {
  const amounts = RARE_EARTHS.filter((symbol) => (cations[symbol] ?? 0) > 0);
  const rareEarth = amounts.sort((one, other) => cations[other]! - cations[one]!)[0] ?? 'Y';
  return `${rareEarth}Ba2Cu3O7`;
}

/** Odds that a phase stands there, alone or with others. */
export function oddsOf(odds: Assemblage['odds'], ...phases: readonly string[]): number {
  return Object.entries(odds)
    .filter(([field]) => phases.every((phase) => field.split(' + ').includes(phase)))
    .reduce((sum, [, probability]) => sum + probability, 0);
}

/** Probability as a page writes it: never a certainty that a finite ensemble cannot give. */
export function oddsText(probability: number): string {
  const percent = 100 * probability;
  if (probability <= 0) return 'none';
  if (probability >= 1) return 'all members';
  return `${percent < 10 ? percent.toFixed(1) : percent.toFixed(0)} %`;
}

/** Names that any of the readings has, those of the first before the rest; liquid first. */
export function namesOver(
  readings: readonly ReadAs[],
  of: (answer: Assemblage) => readonly string[],
): string[] {
  const names = [...new Set(readings.flatMap(({ answer }) => of(answer)))];
  return names.sort((p, q) => Number(q === LIQUID) - Number(p === LIQUID));
}

/** Phases that are not there in any of the readings, the nearest to forming first. */
export function absentPhases(readings: readonly ReadAs[], most: number): string[] {
  const present = new Set(readings.flatMap(({ answer }) => answer.phases.map(({ name }) => name)));
  const [first] = readings;
  if (!first) return [];
  return namesOver(readings, ({ driving }) => Object.keys(driving))
    .filter((name) => !present.has(name))
    .sort((p, q) => (first.answer.driving[p] ?? Infinity) - (first.answer.driving[q] ?? Infinity))
    .slice(0, most);
}

/** Remarks of all readings; one that not all of them make says whose it is. */
export function remarksOver(readings: readonly ReadAs[]): Remark[] {
  const isShared = (message: string): boolean =>
    readings.every(({ answer }) => answer.flags.some((each) => each.message === message));
  return readings.flatMap(({ title, answer }) =>
    answer.flags.map(({ code, message }) => ({
      code,
      message: isShared(message) ? message : `${title}: ${message}`,
    })),
  );
}
