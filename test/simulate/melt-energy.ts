// The melt's energy in the form its sources print it, written on its own: every species by itself, the Cu+ share found by brute
// force, the cooperative form integrated by number. Slow; shares no code with the program. J per mole of cations, K, atm.
//
// Ionic: species REO1.5 (y), BaO (b), CuO0.5 (c f), CuO (c (1 - f)) mix ideally; pairs interact:
//   Omega = y gY + b gB + c [(1 - f) g2 + f g1] + RT sum x ln x + b c [(1 - f) wB2 + f wB1] + b c (c - b) [(1 - f) dB2 + f dB1]
//         + y b wYB + y c [(1 - f) wY2 + f wY1] + c^2 f (1 - f) wCC + b c^2 f (1 - f) tB
// Cooperative: d(Omega_Cu)/d(d) = f = 1/(1 + exp(4 h d/RT)) with d = g1 - g2 + k0 + k1 b + k2 b^2, Omega_Cu = g2 where f = 0;
//   plus b c [w0 + w1 (c - b)] + y b wYB + y c wYC and ideal mixing of RE, Ba and Cu.

export interface PrintedMelt {
  form: string;
  values: Readonly<Record<string, number>>;
}

const R = 8.314462618; // J/(mol K), exact since 2019

/** CuO(s) -> CuO0.5(l) + 1/4 O2 at fixed pO2 [looked-up: NASA/TP-2002-211556, straight line; Cu2O melts at 1516.7 K, 64.24 kJ]. */
const cuprousEnd = (temperatureK: number, po2Atm: number): number =>
  65156 -
  46.99 * temperatureK +
  (R * temperatureK * Math.log(po2Atm)) / 4 +
  (64240 / 2) * (1 - temperatureK / 1516.7);
/** Y2O3 melts at 2712 K with 105 kJ [memory: standard tables]; BaO at 2246 K with 46 kJ [looked-up: NASA/TP-2002-211556]. */
const rareEarthEnd = (temperatureK: number): number => 52500 * (1 - temperatureK / 2712);
const bariumEnd = (temperatureK: number): number => 46000 * (1 - temperatureK / 2246);

const xLnX = (x: number): number => (x > 0 ? x * Math.log(x) : 0);

/** Least of f over 0 to 1, and where: a scan in log-odds, then golden sections about the best. */
function leastOver(f: (share: number) => number): { at: number; value: number } {
  const part = (Math.sqrt(5) - 1) / 2;
  const of = (u: number): number => f(1 / (1 + Math.exp(-u)));
  let best = -30;
  let least = of(best);
  for (let u = -30; u <= 30; u += 0.25) {
    const value = of(u);
    if (value < least) {
      least = value;
      best = u;
    }
  }
  let [low, high] = [best - 0.3, best + 0.3];
  let [p, q] = [high - part * (high - low), low + part * (high - low)];
  let [fp, fq] = [of(p), of(q)];
  for (let i = 0; i < 40; i++) {
    if (fp < fq) {
      [high, q, fq] = [q, p, fp];
      p = high - part * (high - low);
      fp = of(p);
    } else {
      [low, p, fp] = [p, q, fq];
      q = low + part * (high - low);
      fq = of(q);
    }
  }
  return { at: 1 / (1 + Math.exp(-p)), value: Math.min(fp, fq) };
}

/** Integral of f from a to b by Simpson's rule. */
function integral(f: (x: number) => number, a: number, b: number, pieces = 700): number {
  const h = (b - a) / pieces;
  let sum = f(a) + f(b);
  for (let i = 1; i < pieces; i++) sum += f(a + i * h) * (i % 2 === 1 ? 4 : 2);
  return (sum * h) / 3;
}

/** Energy and Cu+ share of the melt at y (RE share) and b (Ba share). */
export function printedMelt(
  { form, values: q }: PrintedMelt,
  temperatureK: number,
  po2Atm: number,
  y: number,
  b: number,
): { omega: number; cuprousShare: number } {
  const c = 1 - y - b;
  const rt = R * temperatureK;
  const g1 = cuprousEnd(temperatureK, po2Atm);
  const g2 = q.fusionEntropy! * (q.fusionTemperature! - temperatureK);
  const ends = y * rareEarthEnd(temperatureK) + b * bariumEnd(temperatureK);
  if (form === 'cooperative') {
    const d = g1 - g2 + q.redox0! + q.redox1! * b + q.redox2! * b * b;
    const steepness = (4 * q.cooperation!) / rt;
    const share = (x: number): number => 1 / (1 + Math.exp(steepness * x));
    const none = Math.max(d, 0) + 40 / steepness; // f below 1e-17 from here on
    const copper = g2 - integral(share, d, none);
    return {
      omega:
        ends +
        c * copper +
        rt * (xLnX(y) + xLnX(b) + xLnX(c)) +
        b * c * (q.baCu! + q.baCuSlope! * (c - b)) +
        y * b * q.reBa! +
        y * c * q.reCu!,
      cuprousShare: share(d),
    };
  }
  const { at, value } = leastOver((f) => {
    const [x1, x2] = [c * f, c * (1 - f)];
    return (
      ends +
      x2 * g2 +
      x1 * g1 +
      rt * (xLnX(y) + xLnX(b) + xLnX(x1) + xLnX(x2)) +
      b * (x2 * q.baCu2! + x1 * q.baCu1!) +
      b * (c - b) * (x2 * q.baCu2Slope! + x1 * q.baCu1Slope!) +
      y * b * q.reBa! +
      y * (x2 * q.reCu2! + x1 * q.reCu1!) +
      x1 * x2 * q.cuCu! +
      b * x1 * x2 * (q.baCuCu ?? 0)
    );
  });
  return { omega: value, cuprousShare: at };
}
