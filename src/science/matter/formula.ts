// Chemical formulas: text to tree, tree to text, tree to amounts of elements. Pure; amounts are moles per formula.
import { DomainError } from '../errors.ts';
import { isElement } from './elements.ts';

/** Longest formula read, characters; a bound on time, not on chemistry. */
export const MAX_FORMULA_LENGTH = 200;
const MAX_DEPTH = 12;
const MAX_COUNT = 1e6;
const MAX_DIGITS = 16;
/** Stands for a rare earth, or a mixture of them, that is not chosen yet. */
export const OPEN_RARE_EARTH = 'RE';

export type FormulaNode =
  | { readonly kind: 'element'; readonly symbol: string; readonly count: number }
  | { readonly kind: 'group'; readonly nodes: readonly FormulaNode[]; readonly count: number };

/** Part of a formula between hydrate dots, with the number in front of it. */
interface FormulaUnit {
  readonly factor: number;
  readonly nodes: readonly FormulaNode[];
}
export type Formula = readonly FormulaUnit[];

const CLOSING: Readonly<Record<string, string>> = { '(': ')', '[': ']', '{': '}' };
const HYDRATE_DOTS = '·•⋅∙*';
const SUBSCRIPTS = '₀₁₂₃₄₅₆₇₈₉';
const ITEM = "an element symbol, 'RE' or an opening bracket";

class FormulaReader {
  private readonly text: string;
  private readonly shown: string;
  private at = 0;

  constructor(text: string) {
    this.shown = text;
    this.text = text.replace(/[₀-₉]/g, (character) => String(SUBSCRIPTS.indexOf(character)));
  }

  read(): Formula {
    const units: FormulaUnit[] = [];
    for (;;) {
      const factor = units.length > 0 ? this.number() : 1;
      const nodes = this.nodes(0);
      units.push({ factor, nodes });
      if (this.at >= this.text.length) return units;
      if (!this.isHydrateDot()) throw this.fault(`${ITEM}, a number, a hydrate dot or the end`);
      this.at += 1;
    }
  }

  private nodes(depth: number): FormulaNode[] {
    if (depth > MAX_DEPTH) throw this.fault(`at most ${MAX_DEPTH} brackets inside each other`);
    const nodes: FormulaNode[] = [];
    for (;;) {
      const character = this.text[this.at];
      const closing = character === undefined ? undefined : CLOSING[character];
      if (closing !== undefined) {
        this.at += 1;
        const inner = this.nodes(depth + 1);
        if (this.text[this.at] !== closing) throw this.fault(`'${closing}' or ${ITEM}`);
        this.at += 1;
        nodes.push({ kind: 'group', nodes: inner, count: this.count() });
      } else if (character !== undefined && character >= 'A' && character <= 'Z') {
        const symbol = this.symbol();
        nodes.push({ kind: 'element', symbol, count: this.count() });
      } else {
        if (nodes.length === 0) throw this.fault(ITEM);
        return nodes;
      }
    }
  }

  private symbol(): string {
    const two = this.text.slice(this.at, this.at + 2);
    const second = two[1] ?? '';
    const isPair = second >= 'a' && second <= 'z';
    if (two === OPEN_RARE_EARTH) {
      this.at += 2;
      return two;
    }
    const symbol = isPair ? two : two.slice(0, 1);
    if (!isElement(symbol)) throw this.fault(ITEM, symbol);
    this.at += symbol.length;
    return symbol;
  }

  /** The number after an element or bracket, or 1: a dot in it is decimal, unless it may be the dot of a hydrate. */
  private count(): number {
    const match = /^(\d+)\.\d+H0*2(\.0+)?O(?![a-z])/.exec(this.text.slice(this.at));
    if (match) {
      this.at += match[1]!.length;
      throw this.fault(
        "'·' for a hydrate, or brackets as in (H2O), since '.' before H2O can be read in two ways",
      );
    }
    return this.number();
  }

  private number(): number {
    const written = /^\d+(\.\d+)?/.exec(this.text.slice(this.at))?.[0];
    if (written === undefined) return 1;
    if (written.length > MAX_DIGITS)
      throw this.fault(`a number of at most ${MAX_DIGITS} characters`, written);
    const value = Number(written);
    if (!(value > 0 && value <= MAX_COUNT))
      throw this.fault(`a number above 0 and up to ${MAX_COUNT}`, written);
    this.at += written.length;
    return value;
  }

  private isHydrateDot(): boolean {
    const character = this.text[this.at];
    return character === '.' || (character !== undefined && HYDRATE_DOTS.includes(character));
  }

  private fault(expected: string, written?: string): DomainError {
    const codePoint = this.text.codePointAt(this.at);
    const found = written ?? (codePoint === undefined ? undefined : String.fromCodePoint(codePoint));
    const what = found === undefined ? 'the end' : `'${found}'`;
    return new DomainError(
      'FORMULA_BAD',
      `'${this.shown}', position ${this.at + 1}: found ${what}, expected ${expected}.`,
    );
  }
}

/**
 * Reads a formula: element symbols with whole or decimal numbers, nested round, square or curly brackets, subscript
 * digits, `RE` for a rare earth not yet chosen, and parts joined by a hydrate dot (`·` or `*`, or `.` where no digit
 * stands on both sides). Spaces at the ends are left out.
 *
 * @throws DomainError FORMULA_BAD naming the position (from 1), what was found there and what was expected
 *
 * Range: at most 200 characters, 12 brackets deep, numbers above 0 up to 1e6. No charges, no letters for amounts
 * (`7-d`): what has no number has no mass.
 */
export function parseFormula(text: string): Formula {
  const trimmed = text.trim();
  if (trimmed.length > MAX_FORMULA_LENGTH) {
    throw new DomainError(
      'FORMULA_BAD',
      `'${trimmed.slice(0, 30)}...', position ${MAX_FORMULA_LENGTH + 1}: found ${trimmed.length} characters, expected at most ${MAX_FORMULA_LENGTH}.`,
    );
  }
  return new FormulaReader(trimmed).read();
}

const printCount = (count: number): string => (count === 1 ? '' : plainNumber(count));
/** Never in exponent form, which a formula cannot hold. */
const plainNumber = (value: number): string =>
  String(value).includes('e') ? value.toFixed(14).replace(/\.?0+$/, '') : String(value);
const printNode = (node: FormulaNode): string =>
  (node.kind === 'element' ? node.symbol : `(${node.nodes.map(printNode).join('')})`) +
  printCount(node.count);

/** A formula as text that `parseFormula` reads back to the same tree. */
export function printFormula(formula: Formula): string {
  return formula
    .map((unit, i) => (i > 0 ? printCount(unit.factor) : '') + unit.nodes.map(printNode).join(''))
    .join('·');
}

/** Moles of each element per mole of formula, in order of first mention; `RE` stands for itself. */
export function elementAmounts(formula: Formula): Record<string, number> {
  const amounts = new Map<string, number>();
  const add = (nodes: readonly FormulaNode[], factor: number): void => {
    for (const node of nodes) {
      if (node.kind === 'group') add(node.nodes, factor * node.count);
      else amounts.set(node.symbol, (amounts.get(node.symbol) ?? 0) + factor * node.count);
    }
  };
  for (const unit of formula) add(unit.nodes, unit.factor);
  return Object.fromEntries(amounts);
}
