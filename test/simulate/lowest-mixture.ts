// The lowest mixture of given phases at a composition by trying every triple with Cramer's rule: slow, and shares no code or
// idea with a hull of planes. A linear programme in three components has its minimum at three phases or fewer.

export interface Candidate {
  /** shares of three components, sum 1 */
  shares: readonly [number, number, number];
  energy: number;
}

type Triple = readonly [number, number, number];

const determinant = (a: Triple, b: Triple, c: Triple): number =>
  a[0] * (b[1] * c[2] - b[2] * c[1]) -
  a[1] * (b[0] * c[2] - b[2] * c[0]) +
  a[2] * (b[0] * c[1] - b[1] * c[0]);

/** Energy of the best mixture; infinite where no triple holds the composition. */
export function lowestMixtureEnergy(candidates: readonly Candidate[], at: Triple): number {
  let lowest = Number.POSITIVE_INFINITY;
  for (let i = 0; i < candidates.length; i++) {
    for (let j = 0; j < i; j++) {
      for (let k = 0; k < j; k++) {
        const [p, q, r] = [candidates[i]!, candidates[j]!, candidates[k]!];
        const whole = determinant(p.shares, q.shares, r.shares);
        if (Math.abs(whole) < 1e-10) continue;
        const weights = [
          determinant(at, q.shares, r.shares) / whole,
          determinant(p.shares, at, r.shares) / whole,
          determinant(p.shares, q.shares, at) / whole,
        ];
        if (Math.min(...weights) < -1e-12) continue;
        lowest = Math.min(lowest, weights[0]! * p.energy + weights[1]! * q.energy + weights[2]! * r.energy);
      }
    }
  }
  return lowest;
}
