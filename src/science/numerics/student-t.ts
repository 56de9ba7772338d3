// Student's t: probability and quantile. Pure.

/** ln of the gamma function by Lanczos' series. Source: [memory: Lanczos 1964, J. SIAM Numer. Anal. B 1, 86]; |error| below 1e-13. */
function lnGamma(x: number): number {
  const series = [
    676.5203681218851, -1259.1392167224028, 771.3234287776531, -176.6150291621406, 12.507343278686905,
    -0.13857109526572012, 9.984369578019572e-6, 1.5056327351493116e-7,
  ];
  const y = x - 1;
  let sum = 0.9999999999998099;
  series.forEach((term, i) => {
    sum += term / (y + i + 1);
  });
  const t = y + series.length - 0.5;
  return 0.5 * Math.log(2 * Math.PI) + (y + 0.5) * Math.log(t) - t + Math.log(sum);
}

/** Regularised incomplete beta function by its continued fraction [memory: Abramowitz and Stegun 1964, 26.5.8]. */
function incompleteBeta(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  if (x > (a + 1) / (a + b + 2)) return 1 - incompleteBeta(1 - x, b, a);
  const front =
    Math.exp(lnGamma(a + b) - lnGamma(a) - lnGamma(b) + a * Math.log(x) + b * Math.log(1 - x)) / a;
  let c = 1;
  let d = 1 / Math.max(1e-300, 1 - ((a + b) * x) / (a + 1));
  let fraction = d;
  for (let m = 1; m < 400; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / (1 + even * d);
    c = 1 + even / c;
    fraction *= c * d;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / (1 + odd * d);
    c = 1 + odd / c;
    const change = c * d;
    fraction *= change;
    if (Math.abs(change - 1) < 1e-15) break;
  }
  return front * fraction;
}

/** Probability that |t| stays below a value, for some degrees of freedom above 0. */
export function studentWithin(t: number, degreesOfFreedom: number): number {
  return 1 - incompleteBeta(degreesOfFreedom / (degreesOfFreedom + t * t), degreesOfFreedom / 2, 0.5);
}

/**
 * The t that |t| stays below with a probability: 2.776 for 0.95 and four degrees of freedom.
 *
 * @param probability above 0, below 1
 */
export function studentBound(probability: number, degreesOfFreedom: number): number {
  let low = 0;
  let high = 2;
  while (studentWithin(high, degreesOfFreedom) < probability && high < 1e12) high *= 2;
  for (let i = 0; i < 200 && high - low > 1e-13 * high; i++) {
    const middle = (low + high) / 2;
    if (studentWithin(middle, degreesOfFreedom) < probability) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Probability that chi squared exceeds a value: the upper regularised gamma function, by series or continued fraction. */
export function chiSquaredAbove(value: number, degreesOfFreedom: number): number {
  const a = degreesOfFreedom / 2;
  const x = value / 2;
  if (x <= 0) return 1;
  const front = Math.exp(-x + a * Math.log(x) - lnGamma(a));
  if (x < a + 1) {
    let term = 1 / a;
    let sum = term;
    for (let n = 1; n < 1000; n++) {
      term *= x / (a + n);
      sum += term;
      if (term < 1e-16 * sum) break;
    }
    return 1 - front * sum;
  }
  let b = x + 1 - a;
  let c = 1e300;
  let d = 1 / b;
  let fraction = d;
  for (let n = 1; n < 1000; n++) {
    const an = -n * (n - a);
    b += 2;
    d = 1 / (an * d + b);
    c = b + an / c;
    const change = c * d;
    fraction *= change;
    if (Math.abs(change - 1) < 1e-15) break;
  }
  return front * fraction;
}
