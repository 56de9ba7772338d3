// Uncertainty of a length that nobody stated, for films and bridges. Pure.
import { type Flag, inWords } from '../measured.ts';

/**
 * Relative standard uncertainty taken for a length whose own is not stated: thickness of a film from a profile or a growth
 * rate 7 %, width of an etched or cut bridge 5 %, side of a cut piece 2 % [common practice: thickness and width together
 * 5 to 10 % of a film's current density].
 */
const USUAL_SHARE = { thickness: 0.07, width: 0.05, side: 0.02 } as const;

interface StatedLength {
  readonly name: string;
  readonly kind: keyof typeof USUAL_SHARE;
  readonly valueM: number;
  /** undefined: not stated; 0 is a statement too */
  readonly standardUncertaintyM: number | undefined;
}

/** Relative standard uncertainty of each length, the usual one where none is stated, and a flag that says which were taken. */
export function lengthShares(lengths: readonly StatedLength[], flags: Flag[]): number[] {
  const taken = lengths.filter(({ standardUncertaintyM }) => standardUncertaintyM === undefined);
  if (taken.length > 0)
    flags.push({
      code: 'GEOMETRY_UNCERTAINTY_MISSING',
      message: `The uncertainty of ${taken.map(({ name }) => name).join(', ')} is not stated; ${taken.map(({ kind }) => `${inWords(100 * USUAL_SHARE[kind])} %`).join(', ')}, usual for films, was taken. It is often the largest part of that of Jc: state it if it is known.`,
    });
  return lengths.map(({ kind, valueM, standardUncertaintyM }) =>
    standardUncertaintyM === undefined ? USUAL_SHARE[kind] : standardUncertaintyM / valueM,
  );
}
