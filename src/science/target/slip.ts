// What a single slipped weighing does to a target, and which slip would explain a ratio that was found. Pure; mg, shares of cations.
import { DomainError } from '../errors.ts';
import { type Amounts, sumOf } from '../matter/cation-ratios.ts';
import { chiSquaredAbove } from '../numerics/student-t.ts';
import { checkPowders, type Precursor, ratioOfMasses } from './batch.ts';

/** One powder weighed wrong by this much. */
export interface Slip {
  readonly formula: string;
  /** weighed less planned, mg */
  readonly errorMg: number;
  /** shares of cations that came of it */
  readonly shares: Record<string, number>;
}

function checkMasses(precursors: readonly Precursor[], massesMg: readonly number[]): void {
  checkPowders(precursors);
  if (massesMg.length !== precursors.length)
    throw new DomainError(
      'SLIP_RANGE',
      `massesMg has ${massesMg.length} numbers and there are ${precursors.length} precursors.`,
      'Give one mass for each precursor, in the same order.',
    );
  massesMg.forEach((mass, i) => {
    if (!(mass >= 0 && Number.isFinite(mass)))
      throw new DomainError(
        'SLIP_RANGE',
        `precursors[${i}].massMg is ${mass}; allowed is 0 or more.`,
        'Correct that mass.',
      );
  });
}

/** The ratio when one mass was off. @throws DomainError SLIP_RANGE where more is missing than was to be weighed */
export function slipped(
  precursors: readonly Precursor[],
  massesMg: readonly number[],
  index: number,
  errorMg: number,
): Slip {
  checkMasses(precursors, massesMg);
  const mass = massesMg[index]! + errorMg;
  if (!(mass >= 0))
    throw new DomainError(
      'SLIP_RANGE',
      `${precursors[index]!.formula}: ${-errorMg} mg short of ${massesMg[index]} mg leaves less than nothing.`,
      'Give a slip smaller than the mass.',
    );
  const masses = massesMg.map((each, i) => (i === index ? mass : each));
  return { formula: precursors[index]!.formula, errorMg, shares: ratioOfMasses(precursors, masses) };
}

/** How well one slip explains a ratio that was found. */
export interface Explanation extends Slip {
  readonly errorU: number;
  readonly chiSquared: number;
  readonly degreesOfFreedom: number;
  /** probability of so large a misfit, or a larger one, if this slip was it */
  readonly probability: number;
}

/**
 * For each powder the slip that explains a found ratio best: least squares of the shares over the one unknown mass, by golden
 * section between none of the powder and ten times the plan. Shares sum to 1, so k cations give k - 1 data; one is spent.
 *
 * @param found  amounts of cations found, any sum
 * @param foundU their standard uncertainties
 * @returns best first; the last entry, formula '', is no slip at all
 * @throws DomainError SLIP_RANGE
 *
 * Source: [derived: weighted least squares].
 */
export function explainBySlip(
  precursors: readonly Precursor[],
  massesMg: readonly number[],
  found: Amounts,
  foundU: Amounts,
): Explanation[] {
  checkMasses(precursors, massesMg);
  const total = sumOf(found);
  const symbols = Object.keys(found).sort();
  for (const symbol of symbols) {
    if (!(foundU[symbol]! > 0))
      throw new DomainError(
        'SLIP_RANGE',
        `found.u.${symbol} is ${foundU[symbol]}; allowed is above 0.`,
        'State how well each amount was measured.',
      );
  }
  const misfit = (shares: Amounts): number => {
    // independent amounts: the common factor that fits best is free
    let [fm, mm, ff] = [0, 0, 0];
    for (const symbol of symbols) {
      const weight = (total / foundU[symbol]!) ** 2;
      const f = found[symbol]! / total;
      const m = shares[symbol] ?? 0;
      fm += weight * f * m;
      mm += weight * m * m;
      ff += weight * f * f;
    }
    return Math.max(0, ff - (fm * fm) / mm);
  };
  if (symbols.length < 3)
    throw new DomainError(
      'SLIP_RANGE',
      `found.cations has ${symbols.length} cations; a slip and a common factor take two data, so three or more are needed.`,
      'Give every cation that was measured.',
    );
  const degreesOfFreedom = symbols.length - 2;
  const planned = ratioOfMasses(precursors, massesMg);
  // a powder of which no cation was looked for cannot be told right or wrong
  const isSeen = (index: number): boolean =>
    symbols.some((symbol) => (ratioOfMasses([precursors[index]!], [1])[symbol] ?? 0) > 0);
  const explanations = precursors.flatMap((precursor, index): Explanation[] => {
    if (!isSeen(index)) return [];
    const costAt = (factor: number): number =>
      misfit(
        ratioOfMasses(
          precursors,
          massesMg.map((mass, i) => (i === index ? mass * factor : mass)),
        ),
      );
    const factor = leastOf(costAt, 1e-6, 10);
    const cost = costAt(factor);
    const step = 1e-4;
    const bend = (costAt(factor + step) - 2 * cost + costAt(Math.max(1e-9, factor - step))) / step ** 2;
    const errorMg = massesMg[index]! * (factor - 1);
    return [
      {
        ...slipped(precursors, massesMg, index, errorMg),
        formula: precursor.formula,
        errorU: bend > 0 ? massesMg[index]! * Math.sqrt(2 / bend) : Number.POSITIVE_INFINITY,
        chiSquared: cost,
        degreesOfFreedom,
        probability: chiSquaredAbove(cost, degreesOfFreedom),
      },
    ];
  });
  const without = misfit(planned);
  explanations.sort((p, q) => p.chiSquared - q.chiSquared);
  return [
    ...explanations,
    {
      formula: '',
      errorMg: 0,
      shares: planned,
      errorU: 0,
      chiSquared: without,
      degreesOfFreedom: symbols.length - 1,
      probability: chiSquaredAbove(without, symbols.length - 1),
    },
  ];
}

/** Least of a function with one valley, by golden section [memory: Kiefer 1953, Proc. Am. Math. Soc. 4, 502]. */
function leastOf(f: (x: number) => number, from: number, to: number): number {
  const golden = (Math.sqrt(5) - 1) / 2;
  let [low, high] = [from, to];
  let p = high - golden * (high - low);
  let q = low + golden * (high - low);
  let [fp, fq] = [f(p), f(q)];
  while (high - low > 1e-9) {
    if (fp < fq) {
      high = q;
      q = p;
      fq = fp;
      p = high - golden * (high - low);
      fp = f(p);
    } else {
      low = p;
      p = q;
      fp = fq;
      q = low + golden * (high - low);
      fq = f(q);
    }
  }
  return (low + high) / 2;
}
