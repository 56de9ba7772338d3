// One composition at one condition, read as equilibrium and, where the grower sets something free, also as set.
import type { Sink } from '../science/equilibrium/film-composition.ts';
import { type Assemblage, type ReadAs, superconductorOf } from './assemblage.ts';
import { useComputation } from './compute.ts';
import { EQUILIBRIUM, type GrowthCondition, isEquilibrium, readingFields } from './reading.ts';

interface Readings {
  /** null before the first answer */
  readings: ReadAs[] | null;
  /** name of 123 of this composition's rare earth */
  superconductor: string;
  error: Error | null;
}

/** @param cations null asks nothing */
export function useReadings(
  cations: Readonly<Record<string, number>> | null,
  condition: GrowthCondition,
  sink: Sink | null,
): Readings {
  const { temperatureC, po2Atm } = condition;
  const common = cations && { cations, temperatureC, po2Atm, ...(sink ? { sinks: [sink] } : {}) };
  const isMoved = !isEquilibrium(condition);
  const bulk = useComputation<Assemblage>(
    'equilibrium.assemblage',
    common && { ...common, ...readingFields(EQUILIBRIUM) },
  );
  const moved = useComputation<Assemblage>(
    'equilibrium.assemblage',
    common && isMoved ? { ...common, ...readingFields(condition) } : null,
  );
  return {
    readings: bulk.response && [
      { title: 'Equilibrium', answer: bulk.response },
      ...(isMoved && moved.response ? [{ title: 'As set free', answer: moved.response }] : []),
    ],
    superconductor: superconductorOf(cations ?? {}),
    error: bulk.error ?? (isMoved ? moved.error : null),
  };
}
