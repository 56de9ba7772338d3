// How far a compound lies below the mixture of another compound and a melt that it could turn into. J per mole of the
// compound's cations; negative where it would turn.
import { CUPROUS, D_BA, D_BA_BA, D_RE, D_RE_BA, D_RE_RE, MELT_NUMBERS, type Melt, OMEGA } from './melt.ts';

type Shares = readonly [number, number, number];

/** A place in composition with its energy. */
export interface Placed {
  readonly shares: Shares;
  readonly height: number;
}

/** The melt that a decomposition makes, and how far it is from happening. */
export interface MeltOpposite {
  readonly height: number;
  readonly y: number;
  readonly b: number;
  readonly cuprousShare: number;
}

/** Parts of the way from the compound to the edge of the triangle that are tried, denser towards the edge. */
const TRIED = Array.from({ length: 40 }, (_, i) => 1 - 10 ** (-4 * ((i + 0.5) / 40)));
/** What stands for no RE on the Ba-Cu edge. */
const NO_RE = 1e-300;

/**
 * Least energy of compound -> residue + melt over the melts that lie opposite the residue, on the line through both:
 * [Omega(x) + t g]/(1 + t) - G with x = a + t (a - s). The melt of least energy has its tangent plane through the residue.
 */
export function decompositionInto(melt: Melt, compound: Placed, residue: Placed): MeltOpposite {
  const n = new Float64Array(MELT_NUMBERS);
  const a = compound.shares;
  const s = residue.shares;
  const [dRe, dBa, dCu] = [a[0] - s[0], a[1] - s[1], a[2] - s[2]];
  let end = Number.POSITIVE_INFINITY;
  for (const [at, by] of [
    [a[0], dRe],
    [a[1], dBa],
    [a[2], dCu],
  ] as const) {
    if (by < -1e-15) end = Math.min(end, -at / by);
  }
  const place = (t: number): [number, number] => [
    Math.max(NO_RE, a[0] + t * dRe),
    Math.max(NO_RE, a[1] + t * dBa),
  ];
  const heightAt = (t: number): number => {
    const [y, b] = place(t);
    return (melt.omega(y, b) + t * residue.height) / (1 + t) - compound.height;
  };
  let best = 0;
  let height = heightAt(1e-9 * end);
  TRIED.forEach((part, i) => {
    const here = heightAt(part * end);
    if (here < height) {
      height = here;
      best = i;
    }
  });
  let low = best === 0 ? 0 : TRIED[best - 1]! * end;
  let high = best === TRIED.length - 1 ? end : TRIED[best + 1]! * end;
  let t = TRIED[best]! * end;
  for (let i = 0; i < 60; i++) {
    const [y, b] = place(t);
    melt.evaluate(y, b, n);
    const slope = dRe * n[D_RE]! + dBa * n[D_BA]!;
    const excess = (1 + t) * slope + residue.height - n[OMEGA]!;
    const bend = (1 + t) * (dRe * dRe * n[D_RE_RE]! + 2 * dRe * dBa * n[D_RE_BA]! + dBa * dBa * n[D_BA_BA]!);
    if (excess > 0) high = t;
    else low = t;
    let next = t - excess / bend;
    if (!(next > low && next < high)) next = (low + high) / 2;
    const change = Math.abs(next - t);
    t = next;
    if (change < 1e-13 * end) break;
  }
  const [y, b] = place(t);
  melt.evaluate(y, b, n);
  return {
    height: (n[OMEGA]! + t * residue.height) / (1 + t) - compound.height,
    y: y === NO_RE ? 0 : y,
    b,
    cuprousShare: n[CUPROUS]!,
  };
}

/** The melt of the Ba-Cu edge that lies lowest over the line of two of its solids; per mole of cations of the melt. */
export function edgeMeltOver(melt: Melt, p: Placed, q: Placed): MeltOpposite {
  const n = new Float64Array(MELT_NUMBERS);
  const slope = (q.height - p.height) / (q.shares[1] - p.shares[1]);
  const over = (b: number): number => melt.omega(NO_RE, b) - p.height - slope * (b - p.shares[1]);
  let best = 1;
  for (let i = 2; i < 98; i++) if (over(i / 100) < over(best / 100)) best = i;
  let low = (best - 1) / 100;
  let high = (best + 1) / 100;
  let b = best / 100;
  for (let i = 0; i < 60; i++) {
    melt.evaluate(NO_RE, b, n);
    const excess = n[D_BA]! - slope;
    if (excess > 0) high = b;
    else low = b;
    let next = b - excess / n[D_BA_BA]!;
    if (!(next > low && next < high)) next = (low + high) / 2;
    const change = Math.abs(next - b);
    b = next;
    if (change < 1e-14) break;
  }
  melt.evaluate(NO_RE, b, n);
  return { height: over(b), y: 0, b, cuprousShare: n[CUPROUS]! };
}
