// Usual cautions for precursors and for the work of making a target. Pure.
import type { Amounts } from '../matter/cation-ratios.ts';
import { elementAmounts, parseFormula } from '../matter/formula.ts';
import { CAUTIONS } from '../tables/cautions.ts';

interface Caution {
  readonly matter: string;
  readonly statement: string;
  /** GHS hazard statements; they differ between jurisdictions and suppliers */
  readonly codes: readonly string[];
  readonly source: string;
}

/** Work that every batch of powder leads to. */
const BATCH_WORK = ['powder', 'furnace'];

/** Kinds of row that may speak for a compound without its own, nearest first. */
function kindsOf(elements: Amounts): string[] {
  const count = Object.keys(elements).length;
  if (count === 1) return ['metal', 'element'];
  if (count === 2 && 'O' in elements) return ['oxide'];
  return 'N' in elements && 'O' in elements ? ['nitrate', 'element'] : ['element'];
}

/** Whether two formulas name one substance: the same elements in the same proportions, however written. */
export function sameSubstance(a: Amounts, b: Amounts): boolean {
  const symbols = Object.keys(a);
  const first = symbols[0];
  if (first === undefined || symbols.length !== Object.keys(b).length) return false;
  const factor = (b[first] ?? 0) / a[first]!;
  if (!(factor > 0)) return false;
  return symbols.every(
    (symbol) => Math.abs((b[symbol] ?? 0) - factor * a[symbol]!) <= 1e-9 * factor * a[symbol]!,
  );
}

/**
 * Cautions for powders that are weighed, milled and fired: those of each compound, those of the element where the
 * compound has none of its own, and those of the work. Every one defers to local rules and the supplier's safety data
 * sheet; none stands in for it.
 *
 * @param formulas precursors; a substance named twice is listed once
 * @throws DomainError FORMULA_BAD
 *
 * Source: data/cautions.json, row by row.
 */
export function cautionsFor(formulas: readonly string[]): Caution[] {
  const rows = new Set<(typeof CAUTIONS.records)[number]>();
  const unknown = new Set<string>();
  for (const formula of formulas) {
    const elements = elementAmounts(parseFormula(formula));
    const isOfKind = (kind: string) => (row: (typeof CAUTIONS.records)[number]) =>
      row.kind === kind && row.formulas.some((symbol) => symbol in elements);
    const own = CAUTIONS.records.filter(
      (row) =>
        row.kind === 'compound' &&
        row.formulas.some((named) => sameSubstance(elementAmounts(parseFormula(named)), elements)),
    );
    const found =
      [own, ...kindsOf(elements).map((kind) => CAUTIONS.records.filter(isOfKind(kind)))].find(
        (some) => some.length > 0,
      ) ?? [];
    for (const row of found) rows.add(row);
    if (found.length === 0) unknown.add(formula);
  }
  for (const row of CAUTIONS.records)
    if (row.kind === 'work' && row.formulas.some((name) => BATCH_WORK.includes(name))) rows.add(row);
  return [
    ...Array.from(rows, ({ matter, statement, codes, source, tag }) => ({
      matter,
      statement,
      codes: [...codes],
      source: `${source} ${tag}`,
    })),
    ...Array.from(unknown, (formula) => ({
      matter: formula,
      statement: `No caution for ${formula} is stored here, which does not mean that it is harmless. Local rules and the responsible person decide; the supplier's safety data sheet prevails.`,
      codes: [],
      source: 'not established',
    })),
  ];
}
