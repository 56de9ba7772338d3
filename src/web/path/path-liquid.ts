// Liquid along the likely path at the film, as growth.path says it.
import { useMemo } from 'react';
import type { CationRatio } from '../../records/common.ts';
import { useStagedComputation } from '../compute.ts';
import { type Reading, readingFields } from '../reading.ts';
import type { LiquidAlong, PathAnswer } from './path-request.ts';

export interface AskedLiquid {
  readonly liquid: LiquidAlong | null;
  readonly isRunning: boolean;
  readonly progress: number;
  readonly error: Error | null;
}

const NO_PLACES = {
  timeS: [],
  temperatureC: [],
  log10Po2Atm: [],
  segment: [],
  odds: [],
  oddsWith123: [],
  share: [],
};

/**
 * @param request of growth.path, without cations; null asks nothing
 * @param cations of the film; null asks nothing
 */
export function usePathLiquid(
  request: object | null,
  cations: CationRatio | null,
  reading: Reading,
): AskedLiquid {
  const { response, stage, isRunning, progress, error } = useStagedComputation<PathAnswer>(
    'growth.path',
    request && cations ? [request, { ...request, cations, ...readingFields(reading) }] : null,
  );
  const liquid = useMemo((): LiquidAlong | null => {
    if (!cations || !response || stage < 1) return null; // the first stage is the path alone
    const { liquid, liquidS, liquidWith123S, liquidSpans: spans, flags } = response;
    return { ...(liquid ?? NO_PLACES), liquidS, liquidWith123S, spans, flags };
  }, [response, stage, cations]);
  return { liquid, isRunning, progress, error };
}
