// Liquid along the likely path at the film: from growth.path itself where it says so, else asked place by place.
import { useMemo } from 'react';
import { growthPath } from '../../computations/growth/path.ts';
import type { CationRatio } from '../../records/common.ts';
import { superconductorOf } from '../assemblage.ts';
import { useStagedComputation } from '../compute.ts';
import type { PathPlace } from '../plane/path-odds.ts';
import { usePathOdds } from '../plane/use-path-odds.ts';
import { type Reading, readingFields } from '../reading.ts';
import { filmPlaces, likelySpans } from './film-places.ts';
import type { LiquidAlong, PathAnswer } from './path-request.ts';

/** From this version on growth.path takes cations and answers with liquid; before it, liquid is asked place by place. */
const HAS_LIQUID = growthPath.version >= 2; // switch: with version 2 this and the place-by-place half can go

interface AskedLiquid {
  readonly liquid: LiquidAlong | null;
  readonly isRunning: boolean;
  readonly progress: number;
  readonly error: Error | null;
}

const NO_PLACES: PathPlace[] = [];
const NO_LIQUID = { timeS: [], odds: [], oddsWith123: [], share: [] };

/**
 * @param request of growth.path, without cations; null asks nothing
 * @param answer  to that request
 * @param cations of the film; null asks nothing
 */
export function usePathLiquid(
  request: object | null,
  answer: PathAnswer | null,
  cations: CationRatio | null,
  reading: Reading,
): AskedLiquid {
  const whole = useStagedComputation<PathAnswer>(
    'growth.path',
    HAS_LIQUID && request && cations ? [request, { ...request, cations, ...readingFields(reading) }] : null,
  );
  const places = useMemo(() => (!HAS_LIQUID && answer ? filmPlaces(answer) : NO_PLACES), [answer]);
  const asked = usePathOdds(HAS_LIQUID ? null : cations, superconductorOf(cations ?? {}), reading, places);
  const byPlace = useMemo((): LiquidAlong | null => {
    if (HAS_LIQUID || !answer || !cations || asked.liquid.length !== places.length) return null;
    const timeS = places.map((place) => place.timeS);
    return {
      timeS,
      odds: asked.liquid,
      oddsWith123: asked.liquidWith123,
      share: asked.liquidShare,
      liquidS: null,
      liquidWith123S: null,
      spans: likelySpans(places, asked.liquid),
      flags: [],
    };
  }, [places, asked, answer, cations]);
  const { response, stage } = whole;
  const ofWhole = useMemo((): LiquidAlong | null => {
    if (!cations || !response || stage < 1) return null; // the first stage is the path alone
    const { liquid, liquidS = null, liquidWith123S = null, liquidSpans = [] } = response;
    return { ...(liquid ?? NO_LIQUID), liquidS, liquidWith123S, spans: liquidSpans, flags: response.flags };
  }, [response, stage, cations]);
  return HAS_LIQUID
    ? { liquid: ofWhole, isRunning: whole.isRunning, progress: whole.progress, error: whole.error }
    : { liquid: byPlace, isRunning: asked.isRunning, progress: asked.progress, error: asked.error };
}
