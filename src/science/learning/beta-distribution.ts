// What counts of passes and falls say about the odds of passing. Pure.

export interface BetaEstimate {
  readonly mean: number;
  readonly standardDeviation: number;
}

/**
 * Odds of passing after weighted counts, from a uniform prior: Beta(1 + passes, 1 + falls), with
 * mean = a/(a + b) and variance = a b/((a + b)^2 (a + b + 1)).
 *
 * @param passes weight of the trials that passed, 0 or more; need not be whole
 * @param falls  weight of those that fell short
 *
 * Source: [memory: Laplace's rule of succession; Beta-binomial conjugacy]. Range: fractional weights are a smoothing
 * device, not counts of trials.
 */
export function passingOdds(passes: number, falls: number): BetaEstimate {
  const a = 1 + passes;
  const b = 1 + falls;
  const n = a + b;
  return { mean: a / n, standardDeviation: Math.sqrt((a * b) / (n * n * (n + 1))) };
}
