// The melt REO1.5-BaO-CuO-CuO0.5 at one T and pO2: energy, Cu+ share and derivatives. J per mole of cations, shares of cations.
//
// y = RE share, b = Ba share, c = 1 - y - b = Cu share, f = share of the copper that is Cu+. All forms are one function:
//   Omega = y gRE + b gBa + c g2 + RT (y ln y + b ln b + c ln c) + c k + b c [B0 + B1 (c - b)] + y b W1 + y c W2
// where c k is what the copper gains by being partly Cu+, minimised over f:
//   ionic:       k = min over f of f a + f (1 - f) w + RT [f ln f + (1 - f) ln(1 - f)]
//   cooperative: k = -(RT/h) ln[1 + exp(-h a/RT)], f = 1/(1 + exp(h a/RT)), h = 4 times the cooperation
//   a = a0 + a1 b + a2 b^2 + a3 y + a4 b (c - b),  w = c (w0 + w1 b)
// By the envelope theorem first derivatives are those at fixed f. Derivation: docs/science/equilibrium.md.
import { THERMO_MELT } from '../tables/thermo-melt.ts';
import { GAS_CONSTANT, type OxygenState } from './oxygen.ts';

export const MELT_FORMS = ['ionic', 'ionic-ternary', 'cooperative'] as const;
export type MeltForm = (typeof MELT_FORMS)[number];

const SHARED_PARAMETERS = ['fusionEntropy', 'fusionTemperature', 'reBa'] as const;
const IONIC_PARAMETERS = [
  ...SHARED_PARAMETERS,
  'baCu2',
  'baCu1',
  'cuCu',
  'baCu2Slope',
  'baCu1Slope',
  'reCu2',
  'reCu1',
] as const;
/** Names of each form's parameters; a form has all of its own and no other. */
export const MELT_PARAMETERS: Readonly<Record<MeltForm, readonly string[]>> = {
  ionic: IONIC_PARAMETERS,
  'ionic-ternary': [...IONIC_PARAMETERS, 'baCuCu'],
  cooperative: [
    ...SHARED_PARAMETERS,
    'cooperation',
    'redox0',
    'redox1',
    'redox2',
    'baCu',
    'baCuSlope',
    'reCu',
  ],
};

/** A form with its parameters by name, J/mol but fusionEntropy (J/(mol K)), fusionTemperature (K) and cooperation (1). */
export interface MeltParameters {
  readonly form: MeltForm;
  readonly values: Readonly<Record<string, number>>;
}

/** Indices into what a melt's evaluation fills. */
export const OMEGA = 0;
export const CUPROUS = 1;
export const D_RE = 2;
export const D_BA = 3;
export const D_RE_RE = 4;
export const D_RE_BA = 5;
export const D_BA_BA = 6;
export const MELT_NUMBERS = 7;

type MeltId = (typeof THERMO_MELT.records)[number]['id'];
const fusion = (id: MeltId): number => THERMO_MELT.records.find((record) => record.id === id)!.value;
const CU2O_FUSION = fusion('fusion-cu2o') / 2;
const CU2O_MELTS_K = fusion('fusion-cu2o-t');
const BAO_FUSION = fusion('fusion-bao');
const BAO_MELTS_K = fusion('fusion-bao-t');
const RE2O3_FUSION = fusion('fusion-re2o3') / 2;
const RE2O3_MELTS_K = fusion('fusion-re2o3-t');

/** What the steps may leave of u = ln(f/(1 - f)): the energy is least in u, so that it moves by RT/8 times the square of this. */
const LEFT_IN_ENERGY = 1e-7;
/** First derivatives move by this itself. */
const LEFT = 1e-12;

/** y ln y + b ln b + c ln c, with 0 for an absent cation. */
export function mixingOf(y: number, b: number): number {
  const c = 1 - y - b;
  return (y > 0 ? y * Math.log(y) : 0) + (b > 0 ? b * Math.log(b) : 0) + (c > 0 ? c * Math.log(c) : 0);
}

/** The melt of one member at one T and pO2, ready to be evaluated at many compositions. */
export class Melt {
  readonly rt: number;
  readonly #gRe: number;
  readonly #gBa: number;
  readonly #g2: number;
  readonly #a0: number;
  readonly #a1: number;
  readonly #a2: number;
  readonly #a3: number;
  readonly #a4: number;
  readonly #w0: number;
  readonly #w1: number;
  /** 0: ionic */
  readonly #h: number;
  readonly #b0: number;
  readonly #b1: number;
  readonly #reBa: number;
  readonly #reCu: number;
  #k = 0;

  /**
   * @param offsetJPerMol added to the melt's energy, J per mole of cations
   */
  constructor({ form, values }: MeltParameters, oxygen: OxygenState, offsetJPerMol = 0) {
    const { temperatureK, cuprousStepJPerMol } = oxygen;
    const v = (name: string): number => values[name] ?? 0;
    this.rt = GAS_CONSTANT * temperatureK;
    this.#gRe = RE2O3_FUSION * (1 - temperatureK / RE2O3_MELTS_K) + offsetJPerMol;
    this.#gBa = BAO_FUSION * (1 - temperatureK / BAO_MELTS_K) + offsetJPerMol;
    this.#g2 = v('fusionEntropy') * (v('fusionTemperature') - temperatureK) + offsetJPerMol;
    const g1 = cuprousStepJPerMol + CU2O_FUSION * (1 - temperatureK / CU2O_MELTS_K) + offsetJPerMol;
    const step = g1 - this.#g2;
    this.#reBa = v('reBa');
    if (form === 'cooperative') {
      this.#a0 = step + v('redox0');
      this.#a1 = v('redox1');
      this.#a2 = v('redox2');
      this.#a3 = 0;
      this.#a4 = 0;
      this.#w0 = 0;
      this.#w1 = 0;
      this.#h = 4 * v('cooperation');
      this.#b0 = v('baCu');
      this.#b1 = v('baCuSlope');
      this.#reCu = v('reCu');
    } else {
      this.#a0 = step;
      this.#a1 = v('baCu1') - v('baCu2');
      this.#a2 = 0;
      this.#a3 = v('reCu1') - v('reCu2');
      this.#a4 = v('baCu1Slope') - v('baCu2Slope');
      this.#w0 = v('cuCu');
      this.#w1 = form === 'ionic-ternary' ? v('baCuCu') : 0;
      this.#h = 0;
      this.#b0 = v('baCu2');
      this.#b1 = v('baCu2Slope');
      this.#reCu = v('reCu2');
    }
  }

  /** Solves the Cu+ share for step a and interaction w; leaves k in #k. */
  #share(a: number, w: number, left = LEFT): number {
    const { rt } = this;
    if (this.#h > 0) {
      const e = Math.exp(-Math.abs((this.#h * a) / rt));
      this.#k = -(rt / this.#h) * (Math.log1p(e) + (a < 0 ? (-this.#h * a) / rt : 0));
      return a < 0 ? 1 / (1 + e) : e / (1 + e);
    }
    if (w <= 2 * rt) return this.#singleShare(a, w, left); // just where the hump below begins to exist
    // RT u - w tanh(u/2) + a rises to a hump at -edge, falls to edge and rises again: a valley of the energy on either side of it,
    // if it is above 0 at the hump, or below 0 behind it
    const half = Math.sqrt(1 - (2 * rt) / w) / 2;
    const edge = Math.log((0.5 + half) / (0.5 - half));
    const atHump = a + 2 * half * w - rt * edge;
    const behind = a - 2 * half * w + rt * edge;
    if (atHump < 0) return this.#shareFrom((w - a) / rt, a, w, left);
    const low = this.#shareFrom(-(a + w) / rt, a, w, left);
    if (behind > 0) return low;
    const kLow = this.#k;
    const high = this.#shareFrom((w - a) / rt, a, w, left);
    if (this.#k <= kLow) return high;
    this.#k = kLow;
    return low;
  }

  /**
   * Newton steps in u from outside the valleys, where f is taken as 0 or 1: the function bends towards them, so that the steps come
   * from one side and never pass the root.
   */
  #shareFrom(start: number, a: number, w: number, left: number): number {
    const { rt } = this;
    let u = start;
    let f = 1 / (1 + Math.exp(-u));
    for (let i = 0; i < 60; i++) {
      const value = a + w * (1 - 2 * f) + rt * u;
      const slope = rt - 2 * w * f * (1 - f);
      const change = value / slope;
      if (!(slope > 0)) break; // at the edge of the valley
      u -= change;
      f = 1 / (1 + Math.exp(-u));
      if (0.1 * Math.abs(w) * change * change < left * slope || Math.abs(change) < 1e-11 * (1 + Math.abs(u)))
        break;
    }
    this.#keep(u, f, a, w);
    return f;
  }

  /** Keeps what the copper gains at a share. */
  #keep(u: number, f: number, a: number, w: number): void {
    const softplus = Math.max(u, 0) + Math.log1p(Math.exp(-Math.abs(u)));
    this.#k = f * a + f * (1 - f) * w + this.rt * (f * u - softplus);
  }

  /** The share where it has one value: Newton steps in u = ln(f/(1 - f)), along which RT u - w tanh(u/2) + a rises. */
  #singleShare(a: number, w: number, left: number): number {
    const { rt } = this;
    let low = (-a - Math.abs(w)) / rt;
    let high = (-a + Math.abs(w)) / rt;
    let u = -a / rt;
    let f = 1 / (1 + Math.exp(-u));
    for (let i = 0; i < 50; i++) {
      const value = a + w * (1 - 2 * f) + rt * u;
      if (value > 0) high = u;
      else low = u;
      const slope = rt - 2 * w * f * (1 - f);
      let next = u - value / slope;
      if (!(next >= low && next <= high)) next = (low + high) / 2;
      const change = Math.abs(next - u);
      u = next;
      f = 1 / (1 + Math.exp(-u));
      // a Newton step leaves at most change^2 |w|/10 over the slope, as |d2/du2| is at most |w|/5
      if (0.1 * Math.abs(w) * change * change < left * slope || change < 1e-11 * (1 + Math.abs(u))) break;
    }
    this.#keep(u, f, a, w);
    return f;
  }

  /** Energy alone, J per mole of cations; y and b may be 0. */
  omega(y: number, b: number): number {
    return this.omegaOf(y, b, mixingOf(y, b));
  }

  /** The same where the mixing term is known, y ln y + b ln b + c ln c: for a grid that is asked again and again. */
  omegaOf(y: number, b: number, mixing: number): number {
    const c = 1 - y - b;
    const asymmetry = b * (c - b);
    const a = this.#a0 + this.#a1 * b + this.#a2 * b * b + this.#a3 * y + this.#a4 * asymmetry;
    this.#share(a, c * (this.#w0 + this.#w1 * b), LEFT_IN_ENERGY);
    return (
      y * this.#gRe +
      b * this.#gBa +
      c * (this.#g2 + this.#k) +
      this.rt * mixing +
      c * (b * this.#b0 + asymmetry * this.#b1 + y * this.#reCu) +
      y * b * this.#reBa
    );
  }

  /**
   * Energy, Cu+ share and derivatives with respect to y and b at fixed T and pO2.
   *
   * @param out MELT_NUMBERS numbers, filled by the index constants of this file
   * Range: y, b and 1 - y - b above 0.
   */
  evaluate(y: number, b: number, out: Float64Array): void {
    const { rt } = this;
    const c = 1 - y - b;
    const asymmetry = b * (c - b);
    const w0b = this.#w0 + this.#w1 * b;
    const a = this.#a0 + this.#a1 * b + this.#a2 * b * b + this.#a3 * y + this.#a4 * asymmetry;
    const w = c * w0b;
    const f = this.#share(a, w);
    const k = this.#k;
    const mixed = f * (1 - f);
    const aRe = this.#a3 - this.#a4 * b;
    const aBa = this.#a1 + 2 * this.#a2 * b + this.#a4 * (1 - y - 4 * b);
    const wRe = -w0b;
    const wBa = -w0b + c * this.#w1;
    const kRe = f * aRe + mixed * wRe;
    const kBa = f * aBa + mixed * wBa;
    const pullRe = aRe + (1 - 2 * f) * wRe;
    const pullBa = aBa + (1 - 2 * f) * wBa;
    const stiffness = this.#h > 0 ? rt / (this.#h * mixed) : rt / mixed - 2 * w;
    const fRe = -pullRe / stiffness;
    const fBa = -pullBa / stiffness;
    const kReBa = -f * this.#a4 - mixed * this.#w1 + fBa * pullRe;
    const kBaBa = f * (2 * this.#a2 - 4 * this.#a4) - 2 * mixed * this.#w1 + fBa * pullBa;
    const lnC = Math.log(c);
    const lnY = Math.log(y);
    const lnB = Math.log(b);
    const { rt: t } = this;
    out[OMEGA] =
      y * this.#gRe +
      b * this.#gBa +
      c * (this.#g2 + k) +
      t * (y * lnY + b * lnB + c * lnC) +
      c * (b * this.#b0 + asymmetry * this.#b1 + y * this.#reCu) +
      y * b * this.#reBa;
    out[CUPROUS] = f;
    out[D_RE] =
      this.#gRe -
      this.#g2 -
      k +
      c * kRe +
      t * (lnY - lnC) -
      b * this.#b0 +
      (b * b - 2 * b * c) * this.#b1 +
      b * this.#reBa +
      (c - y) * this.#reCu;
    out[D_BA] =
      this.#gBa -
      this.#g2 -
      k +
      c * kBa +
      t * (lnB - lnC) +
      (c - b) * this.#b0 +
      (c * c - 4 * b * c + b * b) * this.#b1 +
      y * (this.#reBa - this.#reCu);
    out[D_RE_RE] = -2 * kRe + c * fRe * pullRe + t * (1 / y + 1 / c) + 2 * b * this.#b1 - 2 * this.#reCu;
    out[D_RE_BA] =
      -kRe - kBa + c * kReBa + t / c - this.#b0 + (4 * b - 2 * c) * this.#b1 + this.#reBa - this.#reCu;
    out[D_BA_BA] = -2 * kBa + c * kBaBa + t * (1 / b + 1 / c) - 2 * this.#b0 + 6 * (b - c) * this.#b1;
  }

  /** Cu+ share of the copper at a composition; y and b may be 0. */
  cuprousShare(y: number, b: number): number {
    const c = 1 - y - b;
    const a = this.#a0 + this.#a1 * b + this.#a2 * b * b + this.#a3 * y + this.#a4 * b * (c - b);
    return this.#share(a, c * (this.#w0 + this.#w1 * b));
  }
}
