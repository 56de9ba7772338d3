// Random numbers that a seed fixes, so that a computation is a function of its request. Pure.

/** Source of uniform and normal deviates; the same seed gives the same sequence on every machine. */
export interface SeededRandom {
  /** uniform in [0, 1) */
  uniform(): number;
  /** mean 0, standard deviation 1 */
  normal(): number;
  /** whole number in [0, below) */
  below(below: number): number;
}

/**
 * A sequence fixed by the seed and, for work done in parts, the part.
 *
 * Generator: sfc32, a 128-bit chaotic counter generator in the public domain [memory: Doty-Humphrey, PractRand]. Normal
 * deviates by the polar method [memory: Marsaglia and Bray 1964, SIAM Rev. 6, 260].
 */
export function seededRandom(seed: number, part = 0): SeededRandom {
  let a = seed >>> 0;
  let b = Math.floor(seed / 2 ** 32) >>> 0;
  let c = part >>> 0;
  let counter = 1;
  const next = (): number => {
    const t = (((a + b) | 0) + counter) | 0;
    counter = (counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = ((c << 21) | (c >>> 11)) + t;
    return t >>> 0;
  };
  for (let i = 0; i < 20; i++) next();
  let spare: number | undefined;
  const uniform = (): number => (next() * 2 ** 21 + (next() >>> 11)) / 2 ** 53;
  return {
    uniform,
    normal() {
      if (spare !== undefined) {
        const kept = spare;
        spare = undefined;
        return kept;
      }
      for (;;) {
        const u = 2 * uniform() - 1;
        const v = 2 * uniform() - 1;
        const s = u * u + v * v;
        if (s > 0 && s < 1) {
          const factor = Math.sqrt((-2 * Math.log(s)) / s);
          spare = v * factor;
          return u * factor;
        }
      }
    },
    below: (limit) => Math.floor(uniform() * limit),
  };
}
