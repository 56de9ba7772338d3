// Random numbers for the invented series: a seed and a name fix a stream, so a film's numbers do not depend on how many
// films are made. Pure.

/** A stream of deviates. */
export interface RandomStream {
  /** uniform in [0, 1) */
  uniform(): number;
  /** uniform between two ends */
  between(low: number, high: number): number;
  /** mean 0, standard deviation 1 */
  normal(): number;
  /** whole number with the given mean, Poisson distributed */
  count(mean: number): number;
}

/** Above this mean a Poisson count is drawn as a rounded normal; the skew left out is below 0.13. */
const NORMAL_COUNT_MEAN = 60;

/** 32-bit FNV-1a hash of a name [memory: Fowler, Noll and Vo, FNV-1a parameters]. */
function hashOfName(name: string): number {
  let hash = 0x811c9dc5;
  for (let i = 0; i < name.length; i++) hash = Math.imul(hash ^ name.charCodeAt(i), 0x01000193);
  return hash >>> 0;
}

/**
 * The stream of a seed and a name.
 *
 * Generator: xoshiro128**, [memory: Blackman and Vigna 2021, ACM Trans. Math. Softw. 47, 36]; normal deviates by
 * Box and Muller.
 */
export function randomStream(seed: number, name: string): RandomStream {
  const state = new Uint32Array(4);
  let mixed = (hashOfName(name) ^ Math.imul(seed + 1, 0x9e3779b1)) >>> 0;
  for (let i = 0; i < 4; i++) {
    mixed = (mixed + 0x9e3779b9) >>> 0;
    const once = Math.imul(mixed ^ (mixed >>> 16), 0x21f0aaad);
    const twice = Math.imul(once ^ (once >>> 15), 0x735a2d97);
    state[i] = twice ^ (twice >>> 15);
  }
  const rotated = (x: number, by: number) => (x << by) | (x >>> (32 - by));
  const next = (): number => {
    const result = Math.imul(rotated(Math.imul(state[1]!, 5), 7), 9) >>> 0;
    const shifted = state[1]! << 9;
    state[2]! ^= state[0]!;
    state[3]! ^= state[1]!;
    state[1]! ^= state[2]!;
    state[0]! ^= state[3]!;
    state[2]! ^= shifted;
    state[3] = rotated(state[3]!, 11);
    return result;
  };
  const uniform = () => next() / 2 ** 32;
  const normal = () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
  return {
    uniform,
    normal,
    between: (low, high) => low + (high - low) * uniform(),
    count(mean) {
      if (mean <= 0) return 0;
      if (mean > NORMAL_COUNT_MEAN) return Math.max(0, Math.round(mean + Math.sqrt(mean) * normal()));
      const floor = Math.exp(-mean);
      let count = -1;
      for (let product = 1; product > floor; count++) product *= uniform();
      return count;
    },
  };
}
