// Firing of a target as it is typed: steps in a gas, what is asked of `target.sinter`, and what is kept. Pure.
import type { z } from 'zod';
import type { targetSinter } from '../../computations/target/sinter.ts';
import type { CationRatio, Stated } from '../../records/common.ts';
import type { Segment, Target } from '../../records/kinds.ts';
import { type SegmentDraft, segmentDraftOf } from './segment-rows.ts';

/** What `target.sinter` is asked. */
export interface SinterAsk {
  cations: CationRatio;
  segments: { kind: Segment['kind']; toC: number; durationS: number; po2Atm: number }[];
  grainRadiusUm?: Stated;
  isPorous?: boolean;
  gasSccmPerG?: Stated;
  temperatureUK?: number;
}

/** What may be stated of a firing beside its steps; null is not stated. */
export interface FiringStated {
  grainRadiusUm: Stated | null;
  isPorous: boolean | null;
  gasSccmPerG: Stated | null;
  temperatureUK: number | null;
}

/** What it answers. */
export type SinterAnswer = z.infer<typeof targetSinter.response>;

type Preset = readonly (readonly [Segment['kind'], number, number, number, string])[];
const H = 3600;

/**
 * Schedules to begin from [common practice: calcine 850 to 920 °C in air 12 to 24 h, sinter Y123 920 to 960 °C, oxygen hold 400 to
 * 450 °C long; after an anneal in argon the target is insulating]. Each row: kind, °C at its end, s, atm O2, gas.
 */
const PRESETS: Readonly<Record<string, Preset>> = {
  'air, calcine and sinter': [
    ['ramp', 900, 3 * H, 0.21, 'air'],
    ['hold', 900, 24 * H, 0.21, 'air'],
    ['ramp', 940, 1 * H, 0.21, 'air'],
    ['hold', 940, 24 * H, 0.21, 'air'],
    ['cool', 25, 8 * H, 0.21, 'air'],
  ],
  'oxygen anneal': [
    ['ramp', 450, 2 * H, 1, 'O2'],
    ['hold', 450, 24 * H, 1, 'O2'],
    ['cool', 25, 4 * H, 1, 'O2'],
  ],
  argon: [
    ['ramp', 800, 3 * H, 1e-5, 'Ar'],
    ['hold', 800, 24 * H, 1e-5, 'Ar'],
    ['cool', 25, 6 * H, 1e-5, 'Ar'],
  ],
};
export const SINTERING_PRESETS: readonly string[] = Object.keys(PRESETS);

/** The steps of a schedule in common use, as rows. */
export function presetSegments(name: string, newKey: () => string): SegmentDraft[] {
  return (PRESETS[name] ?? []).map(([kind, toC, durationS, po2Atm, gas]) =>
    segmentDraftOf({ kind, toC, durationS, po2Atm, gas }, newKey()),
  );
}

/** What is asked of `target.sinter`; null before there is a step. */
export function sinterAsk(
  cations: CationRatio | null,
  segments: readonly Segment[],
  stated: Partial<FiringStated> = {},
): SinterAsk | null {
  if (!cations || segments.length === 0) return null;
  return {
    cations,
    segments: segments.map(({ kind, toC, durationS, po2Atm }) => ({ kind, toC, durationS, po2Atm })),
    ...Object.fromEntries(Object.entries(stated).filter(([, value]) => value !== null)),
  };
}

/** Gases of the steps in their order, each once: `air, O2`. */
export function gasesOf(segments: readonly Segment[]): string {
  return [...new Set(segments.map(({ gas }) => gas).filter(Boolean))].join(', ').slice(0, 100);
}

/** What a kept target says of its oxygen; null where it was not predicted. */
export function sinterAnswerOf(target: Target): SinterAnswer | null {
  const response = target.sintering?.oxygen?.response as Partial<SinterAnswer> | null | undefined;
  return response?.oxygenState !== undefined && Array.isArray(response.consequences)
    ? (response as SinterAnswer)
    : null;
}
