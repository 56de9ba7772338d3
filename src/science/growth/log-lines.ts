// The fewest straight lines that a log's temperatures follow: penalised least squares, exact over blocks of readings. s, K.

/** Sums of readings about their means: what a straight line through them needs. */
export interface LineSums {
  readonly n: number;
  readonly meanS: number;
  readonly meanK: number;
  readonly ss: number;
  readonly sk: number;
  readonly kk: number;
}

/** A straight piece: readings from..to (not included). */
export interface LinePiece {
  readonly from: number;
  readonly to: number;
  readonly sums: LineSums;
}

/** Departures of this size from a straight line are no piece of their own, K. [common practice] */
const MODEL_K = 0.3;
/** Blocks that a stretch is first cut into; each is halved until a line fits it. */
const FIRST_BLOCKS = 400;
const MOST_BLOCKS = 2500;

/** Sums of two sets of readings together (Chan's update: nothing large is subtracted). Source: [memory: Chan, Golub and LeVeque 1983, Am. Stat. 37, 242]. */
export function joined(a: LineSums, b: LineSums): LineSums {
  const n = a.n + b.n;
  const ds = b.meanS - a.meanS;
  const dk = b.meanK - a.meanK;
  const weight = (a.n * b.n) / n;
  return {
    n,
    meanS: a.meanS + (ds * b.n) / n,
    meanK: a.meanK + (dk * b.n) / n,
    ss: a.ss + b.ss + ds * ds * weight,
    sk: a.sk + b.sk + ds * dk * weight,
    kk: a.kk + b.kk + dk * dk * weight,
  };
}

export function sumsOf(timeS: Float64Array, temperatureK: Float64Array, from: number, to: number): LineSums {
  const n = to - from;
  let meanS = 0;
  let meanK = 0;
  for (let i = from; i < to; i++) {
    meanS += timeS[i]!;
    meanK += temperatureK[i]!;
  }
  meanS /= n;
  meanK /= n;
  let [ss, sk, kk] = [0, 0, 0];
  for (let i = from; i < to; i++) {
    const s = timeS[i]! - meanS;
    const k = temperatureK[i]! - meanK;
    ss += s * s;
    sk += s * k;
    kk += k * k;
  }
  return { n, meanS, meanK, ss, sk, kk };
}

/** Slope of the line, K/s; 0 where all readings stand at one time. */
export const slopeOf = ({ ss, sk }: LineSums): number => (ss > 0 ? sk / ss : 0);

/** The line's temperature at a time. */
export const lineAt = (sums: LineSums, atS: number): number =>
  sums.meanK + slopeOf(sums) * (atS - sums.meanS);

/** Sum of squares left by the line. */
const leftOver = ({ ss, sk, kk }: LineSums): number => Math.max(0, ss > 0 ? kk - (sk * sk) / ss : kk);

/** Standard uncertainty of the line at a time for readings of that scatter. */
export function lineUncertainty({ n, meanS, ss }: LineSums, atS: number, sigmaK: number): number {
  return sigmaK * Math.sqrt(1 / n + (ss > 0 ? (atS - meanS) ** 2 / ss : 0));
}

/**
 * Cuts readings from..to into straight pieces: of all ways to cut between blocks it takes the one with the least sum of
 * (residual/sigma)^2 + 3 ln n a piece, by dynamic programming. Blocks are halved until a line fits within its noise, so a
 * break lies between two readings.
 *
 * @param sigmaK noise of one reading, K; 0.3 K are added in squares for what no straight line follows
 *
 * Source: [derived: least squares with a penalty for each piece, three numbers each].
 */
export function straightPieces(
  timeS: Float64Array,
  temperatureK: Float64Array,
  from: number,
  to: number,
  sigmaK: number,
): LinePiece[] {
  let sigma = Math.hypot(sigmaK, MODEL_K);
  let blocks = fittedBlocks(timeS, temperatureK, from, to, sigma);
  while (blocks.length > MOST_BLOCKS) {
    sigma *= 1.5; // the scatter has a memory that neighbours do not show
    blocks = fittedBlocks(timeS, temperatureK, from, to, sigma);
  }
  const penalty = 3 * Math.log(Math.max(to - from, 8));
  let pieces = fewestLines(blocks, sigma * sigma, penalty);
  // blocks beside a break are cut finer, until the break lies between two readings
  for (let pass = 0; pass < MOST_PASSES; pass++) {
    const finer = cutAtBreaks(timeS, temperatureK, blocks, pieces);
    if (finer.length === blocks.length || finer.length > MOST_BLOCKS) break;
    blocks = finer;
    pieces = fewestLines(blocks, sigma * sigma, penalty);
  }
  return pieces;
}

const MOST_PASSES = 5;
const PARTS_AT_BREAK = 8;

function cutAtBreaks(
  timeS: Float64Array,
  temperatureK: Float64Array,
  blocks: readonly LinePiece[],
  pieces: readonly LinePiece[],
): LinePiece[] {
  const breaks = new Set(pieces.slice(1).map(({ from }) => from));
  const near = new Set<number>();
  blocks.forEach(({ from }, i) => {
    if (breaks.has(from)) for (const k of [i - 2, i - 1, i, i + 1]) near.add(k);
  });
  return blocks.flatMap((block, i) => {
    const readings = block.to - block.from;
    if (!near.has(i) || readings < 2) return [block];
    const parts = Math.min(PARTS_AT_BREAK, readings);
    return Array.from({ length: parts }, (_, k): LinePiece => {
      const from = block.from + Math.floor((k * readings) / parts);
      const to = block.from + Math.floor(((k + 1) * readings) / parts);
      return { from, to, sums: sumsOf(timeS, temperatureK, from, to) };
    });
  });
}

function fittedBlocks(
  timeS: Float64Array,
  temperatureK: Float64Array,
  from: number,
  to: number,
  sigma: number,
): LinePiece[] {
  const size = Math.max(1, Math.ceil((to - from) / FIRST_BLOCKS));
  const blocks: LinePiece[] = [];
  const add = (first: number, end: number): void => {
    const sums = sumsOf(timeS, temperatureK, first, end);
    const free = sums.n - 2;
    if (free <= 0 ? sums.n === 1 : leftOver(sums) / sigma ** 2 <= free + 4 * Math.sqrt(2 * free) + 6) {
      blocks.push({ from: first, to: end, sums });
      return;
    }
    const middle = (first + end) >> 1;
    add(first, middle);
    add(middle, end);
  };
  for (let first = from; first < to; first += size) add(first, Math.min(first + size, to));
  return blocks;
}

function fewestLines(blocks: readonly LinePiece[], variance: number, penalty: number): LinePiece[] {
  const n = blocks.length;
  const least = new Float64Array(n + 1).fill(Number.POSITIVE_INFINITY);
  const cut = new Int32Array(n + 1);
  least[0] = 0;
  for (let end = 1; end <= n; end++) {
    let [count, meanS, meanK, ss, sk, kk] = [0, 0, 0, 0, 0, 0];
    for (let first = end - 1; first >= 0; first--) {
      const b = blocks[first]!.sums;
      const both = count + b.n;
      const ds = b.meanS - meanS;
      const dk = b.meanK - meanK;
      const weight = (count * b.n) / both;
      meanS += (ds * b.n) / both;
      meanK += (dk * b.n) / both;
      ss += b.ss + ds * ds * weight;
      sk += b.sk + ds * dk * weight;
      kk += b.kk + dk * dk * weight;
      count = both;
      const left = ss > 0 ? kk - (sk * sk) / ss : kk;
      const cost = Math.max(0, left) / variance + penalty;
      if (least[first]! + cost < least[end]!) {
        least[end] = least[first]! + cost;
        cut[end] = first;
      }
    }
  }
  const pieces: LinePiece[] = [];
  for (let end = n; end > 0; end = cut[end]!) {
    const parts = blocks.slice(cut[end]!, end);
    pieces.push({
      from: parts[0]!.from,
      to: parts.at(-1)!.to,
      sums: parts.map(({ sums }) => sums).reduce(joined),
    });
  }
  return pieces.reverse();
}
