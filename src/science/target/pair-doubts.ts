// Doubts about measured pairs of target and film, before they are fitted. Pure.
import type { Doubt } from '../doubt.ts';
import { type Amounts, sumOf } from '../matter/cation-ratios.ts';
import type { TransferPair } from './transfer.ts';

/** A longer list would not be read. */
const MOST_DOUBTS = 20;

/** Whether two ratios are the same but for a common factor and rounding. */
const sameRatio = (a: Amounts, b: Amounts): boolean => {
  const [sumA, sumB] = [sumOf(a), sumOf(b)];
  return [...new Set([...Object.keys(a), ...Object.keys(b)])].every(
    (symbol) => Math.abs((a[symbol] ?? 0) / sumA - (b[symbol] ?? 0) / sumB) < 1e-12,
  );
};

/** Doubts about pairs that the fit takes as independent measurements. */
export function pairDoubts(pairs: readonly TransferPair[]): Doubt[] {
  const doubts: Doubt[] = [];
  pairs.forEach((pair, i) => {
    const twin = pairs.findIndex(
      (other) => sameRatio(other.film, pair.film) && sameRatio(other.target, pair.target),
    );
    if (twin < i) {
      doubts.push({
        code: 'PAIR_TWICE',
        message: `pairs[${i}] (${pair.label}) has the numbers of pairs[${twin}] (${pairs[twin]!.label}). Both count as measurements of their own, which makes the uncertainty too small if it is one film entered twice.`,
      });
      return;
    }
    const namesake = pairs.findIndex(({ label }) => label === pair.label);
    if (namesake < i)
      doubts.push({
        code: 'LABEL_TWICE',
        message: `pairs[${i}] and pairs[${namesake}] are both called '${pair.label}'. If it is one film measured twice, its own scatter is counted twice: give the mean.`,
      });
  });
  if (pairs.length > 1 && pairs.every(({ target }) => sameRatio(target, pairs[0]!.target)))
    doubts.push({
      code: 'TARGETS_ALIKE',
      message:
        'All pairs have the same target ratio: the factors hold there, and nothing says how they change with the target.',
    });
  return doubts.slice(0, MOST_DOUBTS);
}
