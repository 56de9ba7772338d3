// A body whose mean follows its surface by diffusion, as modes that relax each at its own rate. Pure; times as theta = D t/L^2.

/** Modes kept; what is left out is taken as filled at once: 0.05 % of a change of a plate, 0.15 % of one of a sphere. */
const MODES = 400;

/** What is missing of a step at the surface: scale sum exp(-rate_k theta)/divisor_k. */
interface DiffusingBody {
  readonly rates: Float64Array;
  readonly divisors: Float64Array;
  readonly scale: number;
}

const modes = (of: (k: number) => number): Float64Array =>
  Float64Array.from({ length: MODES }, (_, k) => of(k));

/**
 * A plate with one face open, L its thickness, or half a plate with both: 8/pi^2 sum exp(-(2k + 1)^2 pi^2 theta/4)/(2k + 1)^2.
 *
 * Source: [looked-up: Crank, The Mathematics of Diffusion, 1975, p. 48, as quoted in a library's manual].
 */
export const PLATE: DiffusingBody = {
  rates: modes((k) => ((2 * k + 1) ** 2 * Math.PI ** 2) / 4),
  divisors: modes((k) => (2 * k + 1) ** 2),
  scale: 8 / Math.PI ** 2,
};

/**
 * A sphere of radius L: 6/pi^2 sum exp(-n^2 pi^2 theta)/n^2.
 *
 * Source: [looked-up: Crank, The Mathematics of Diffusion, 1975, p. 91, as quoted in a library's manual].
 */
export const SPHERE: DiffusingBody = {
  rates: modes((k) => (k + 1) ** 2 * Math.PI ** 2),
  divisors: modes((k) => (k + 1) ** 2),
  scale: 6 / Math.PI ** 2,
};

/** One step of a body, before it is known where the surface goes. */
interface DiffusionStep {
  /** mean after the step less the surface before it, if the surface stays */
  readonly stays: number;
  /** mean gained per change of the surface, which moves straight in theta over the step */
  readonly perChange: number;
  /** moves the body; returns its mean less the surface after the step */
  readonly take: (surfaceChange: number) => number;
}

/**
 * A body followed over any course of its surface: each mode relaxes, a_k' = -rate_k a_k + c_s' (Duhamel's superposition, exact for
 * a surface that moves straight in theta within a step).
 *
 * @param behind surface less mean at the beginning, the same everywhere
 * @returns a function that plans a step of a given theta; take it before the next is planned
 *
 * Source: [derived: superposition of the body's answer to a step].
 */
export function diffusingBody(body: DiffusingBody, behind: number): (theta: number) => DiffusionStep {
  const { rates, divisors, scale } = body;
  const lag = new Float64Array(MODES).fill(behind);
  const relaxed = new Float64Array(MODES);
  const gains = new Float64Array(MODES);
  return (theta) => {
    let missing = 0;
    let missed = 0;
    for (let k = 0; k < MODES; k++) {
      const decay = rates[k]! * theta;
      const kept = Math.exp(-decay);
      relaxed[k] = lag[k]! * kept;
      gains[k] = decay > 1e-9 ? (1 - kept) / decay : 1;
      missing += relaxed[k]! / divisors[k]!;
      missed += gains[k]! / divisors[k]!;
    }
    return {
      stays: -scale * missing,
      perChange: 1 - scale * missed,
      take(surfaceChange) {
        let sum = 0;
        for (let k = 0; k < MODES; k++) {
          lag[k] = relaxed[k]! + surfaceChange * gains[k]!;
          sum += lag[k]! / divisors[k]!;
        }
        return -scale * sum;
      },
    };
  };
}
