// Odds of liquid along a path, place by place, in the patient worker; the newest path first.
import { useEffect, useState } from 'react';
import { type Assemblage, LIQUID, oddsOf } from '../assemblage.ts';
import { patientRunner } from '../compute.ts';
import { type Reading, readingFields } from '../reading.ts';
import type { PathPlace } from './path-odds.ts';

export interface PathOdds {
  /** as many as there are places once all are answered */
  readonly liquid: number[];
  readonly liquidWith123: number[];
  readonly liquidShare: number[];
  readonly isRunning: boolean;
  readonly progress: number;
  readonly error: Error | null;
}

const NOTHING: PathOdds = {
  liquid: [],
  liquidWith123: [],
  liquidShare: [],
  isRunning: false,
  progress: 0,
  error: null,
};

/**
 * @param cations null asks nothing
 * @param places  of a path, in order
 */
export function usePathOdds(
  cations: Readonly<Record<string, number>> | null,
  superconductor: string,
  reading: Reading,
  places: readonly PathPlace[],
): PathOdds {
  const [state, setState] = useState<PathOdds>(NOTHING);
  const key = JSON.stringify(cations && places.length > 0 ? { cations, reading, places } : null);
  useEffect(() => {
    const asked = JSON.parse(key) as {
      cations: Record<string, number>;
      reading: Reading;
      places: PathPlace[];
    } | null;
    setState(NOTHING);
    if (!asked) return;
    const controller = new AbortController();
    const run = async (): Promise<void> => {
      const answers: Assemblage[] = [];
      for (const { temperatureC, po2Atm } of asked.places) {
        setState((before) => ({
          ...before,
          isRunning: true,
          progress: answers.length / asked.places.length,
        }));
        answers.push(
          (await patientRunner().run(
            'equilibrium.assemblage',
            { cations: asked.cations, temperatureC, po2Atm, ...readingFields(asked.reading) },
            { signal: controller.signal },
          )) as Assemblage,
        );
      }
      setState({
        liquid: answers.map(({ odds }) => oddsOf(odds, LIQUID)),
        liquidWith123: answers.map(({ odds }) => oddsOf(odds, LIQUID, superconductor)),
        liquidShare: answers.map(({ liquidShare }) => liquidShare?.value ?? 0),
        isRunning: false,
        progress: 1,
        error: null,
      });
    };
    run().catch((error: Error) => {
      if (error.name !== 'AbortError') setState({ ...NOTHING, error });
    });
    return () => controller.abort(new DOMException('Another path was chosen.', 'AbortError'));
  }, [key, superconductor]);
  return state;
}
