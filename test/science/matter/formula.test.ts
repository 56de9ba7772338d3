import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DomainError } from '../../../src/science/errors.ts';
import {
  elementAmounts,
  type Formula,
  type FormulaNode,
  MAX_FORMULA_LENGTH,
  parseFormula,
  printFormula,
} from '../../../src/science/matter/formula.ts';

const amounts = (text: string): Record<string, number> => elementAmounts(parseFormula(text));
function refusal(text: string): string {
  try {
    parseFormula(text);
  } catch (error) {
    expect(error).toBeInstanceOf(DomainError);
    return (error as DomainError).sentence;
  }
  throw new Error(`${text} was read`);
}

const count = fc.oneof(
  fc.constant(1),
  fc.integer({ min: 1, max: 40 }),
  fc.integer({ min: 1, max: 9999 }).map((n) => n / 1000),
);
const element = fc.record({
  kind: fc.constant('element' as const),
  symbol: fc.constantFrom('Y', 'Ba', 'Cu', 'O', 'Gd', 'RE', 'C', 'N', 'Nb'),
  count,
});
const { nodes } = fc.letrec<{ node: FormulaNode; nodes: FormulaNode[] }>((tie) => ({
  node: fc.oneof(
    { maxDepth: 4 },
    element,
    fc.record({ kind: fc.constant('group' as const), nodes: tie('nodes'), count }),
  ),
  nodes: fc.array(tie('node'), { minLength: 1, maxLength: 3 }),
}));
const formulas: fc.Arbitrary<Formula> = fc
  .array(fc.record({ factor: count, nodes }), { minLength: 1, maxLength: 3 })
  .map((units) => units.map((unit, i) => (i === 0 ? { ...unit, factor: 1 } : unit)));

describe('parseFormula', () => {
  it.each([
    ['YBa2Cu3O6.93', { Y: 1, Ba: 2, Cu: 3, O: 6.93 }],
    ['(Y0.5Gd0.5)Ba2Cu3O7', { Y: 0.5, Gd: 0.5, Ba: 2, Cu: 3, O: 7 }],
    ['REBa2Cu3O6.9', { RE: 1, Ba: 2, Cu: 3, O: 6.9 }],
    ['Re2O7', { Re: 2, O: 7 }],
    ['Cu(NO3)2·3H2O', { Cu: 1, N: 2, O: 9, H: 6 }],
    ['Cu(NO3)2.H2O', { Cu: 1, N: 2, O: 7, H: 2 }],
    ['BaC2O4·0.5H2O', { Ba: 1, C: 2, O: 4.5, H: 1 }],
    ['[Ba{Zr(O)3}]2', { Ba: 2, Zr: 2, O: 6 }],
    ['Y₂O₃', { Y: 2, O: 3 }],
    ['  CuO ', { Cu: 1, O: 1 }],
  ])('reads %s', (text, expected) => {
    expect(amounts(text)).toEqual(expected);
  });

  it.each([
    ['YBa2Cu3O7-d', "position 10: found '-'"],
    ['Ba(', 'position 4: found the end'],
    ['Ba)', "position 3: found ')'"],
    ['(Ba]', "position 4: found ']', expected ')'"],
    ['', 'position 1: found the end'],
    ['YXx', "position 2: found 'Xx'"],
    ['ybacuo', "position 1: found 'y'"],
    ['CuO0', "position 4: found '0', expected a number above 0"],
    ['Y(NO3)3.6H2O', "position 8: found '.', expected '·'"],
    ['CuO😀', "position 4: found '😀'"],
  ])('refuses %s and says where', (text, sentence) => {
    expect(refusal(text)).toContain(sentence);
  });

  it('gives back the tree that was printed', () => {
    fc.assert(
      fc.property(formulas, (formula) => {
        const text = printFormula(formula);
        fc.pre(text.length <= MAX_FORMULA_LENGTH);
        expect(parseFormula(text)).toEqual(formula);
      }),
      { seed: 1, numRuns: 500 },
    );
  });

  it('answers any text with a tree or a named refusal, in bounded time', () => {
    const noise = fc.oneof(
      fc.string({ maxLength: 400 }),
      fc.string({ unit: 'grapheme', maxLength: 200 }),
      fc
        .array(fc.constantFrom('Ba', 'RE', '(', ')', '[', '.', '·', '2', '0.5', 'H2O', '9'.repeat(30)), {
          maxLength: 200,
        })
        .map((parts) => parts.join('')),
    );
    const start = performance.now();
    fc.assert(
      fc.property(noise, (text) => {
        try {
          const formula = parseFormula(text);
          expect(parseFormula(printFormula(formula))).toEqual(formula);
        } catch (error) {
          expect(error).toBeInstanceOf(DomainError);
        }
      }),
      { seed: 2, numRuns: 3000 },
    );
    expect(performance.now() - start).toBeLessThan(20_000);
  });

  it('refuses a formula of a million brackets at once', () => {
    expect(refusal('('.repeat(1e6))).toContain('expected at most 200');
  });
});
