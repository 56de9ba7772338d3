// How long liquid is there along the path at the film: by the phases at equilibrium, or above a temperature that is stated.
import { useMemo, useState } from 'react';
import type { CationRatio } from '../../../../records/common.ts';
import { LIKELY } from '../../../../science/growth/path-liquid.ts';
import { superconductorOf } from '../../../assemblage.ts';
import {
  type FilmAlongPath,
  type Interval,
  intervalsAbove,
  placesAlong,
} from '../../../drafts/film-along-path.ts';
import { usePathOdds } from '../../../plane/use-path-odds.ts';
import type { Reading } from '../../../reading.ts';

export interface LiquidTime {
  /** null while it is not known */
  readonly intervals: readonly Interval[] | null;
  readonly isRunning: boolean;
  readonly progress: number;
  readonly error: Error | null;
  readonly isStopped: boolean;
  readonly stop: () => void;
  readonly askAgain: () => void;
  /** by what, for a sentence */
  readonly by: string;
}

const NO_PLACES: ReturnType<typeof placesAlong> = [];

/** @param aboveC liquid is taken as there above this temperature, whatever the phases say; null asks the phases */
export function useLiquid(
  film: FilmAlongPath | null,
  cations: CationRatio,
  reading: Reading,
  aboveC: number | null,
): LiquidTime {
  const [isStopped, setIsStopped] = useState(false);
  const places = useMemo(() => (film ? placesAlong(film) : NO_PLACES), [film]);
  const isAsked = aboveC === null && !isStopped;
  const odds = usePathOdds(isAsked ? cations : null, superconductorOf(cations), reading, places);
  const intervals = useMemo(() => {
    if (!film) return null;
    if (aboveC !== null) return intervalsAbove(film.timeS, film.temperatureC, aboveC);
    if (!isAsked || odds.liquid.length !== places.length) return null;
    return intervalsAbove(
      places.map(({ timeS }) => timeS),
      odds.liquid,
      LIKELY,
    );
  }, [film, aboveC, isAsked, odds.liquid, places]);
  return {
    intervals,
    isRunning: isAsked && odds.isRunning,
    progress: odds.progress,
    error: isAsked ? odds.error : null,
    isStopped: isStopped && aboveC === null,
    stop: () => setIsStopped(true),
    askAgain: () => setIsStopped(false),
    by: aboveC === null ? 'its odds are above one half' : `the film is above ${aboveC} °C`,
  };
}
