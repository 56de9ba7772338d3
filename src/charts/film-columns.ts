// The numbers by which films are compared side by side: the same columns on pages, in reports and on the command line.
import type { Fact, FactCondition, FactName } from '../science/learning/facts.ts';
import { findFact } from '../science/learning/find-fact.ts';
import { FACT_TRADE_UNITS, factText } from './trade-text.ts';

export interface FilmColumn {
  readonly heading: string;
  readonly fact: FactName;
  readonly at?: FactCondition;
}

/** @param coil the condition at which a coil of the series works; null: not stated */
export function filmColumns(coil: { temperatureK: number; fieldT: number } | null): FilmColumn[] {
  return [
    { heading: 'Tc midpoint, K', fact: 'tcMidpointK' },
    { heading: 'Width, K', fact: 'transitionWidthK' },
    { heading: 'c axis, Å', fact: 'cAxisAngstrom' },
    { heading: 'Jc 77 K sf, MA/cm²', fact: 'jcAPerM2', at: { temperatureK: 77, fieldT: 0 } },
    ...(coil
      ? [
          {
            heading: `Jc ${coil.temperatureK} K ${coil.fieldT} T, MA/cm²`,
            fact: 'jcAPerM2' as const,
            at: coil,
          },
        ]
      : []),
    { heading: 'Rate, nm/s', fact: 'overallRateNmPerS' },
  ];
}

/**
 * A column's number among the facts of a piece, without its unit, which the heading states; '' where there is none.
 *
 * @param oldMeasurementIds measurements whose reduction is old: a number read from one is marked so
 */
export function filmCell(
  { fact, at }: FilmColumn,
  numbers: readonly Fact[],
  oldMeasurementIds: readonly string[],
): string {
  const found = findFact(numbers, fact, at)?.fact;
  if (!found) return '';
  const { unit } = FACT_TRADE_UNITS[fact];
  const text = factText(found);
  const number = unit ? text.slice(0, text.length - unit.length).trim() : text;
  return found.measurementId && oldMeasurementIds.includes(found.measurementId) ? `${number} (old)` : number;
}
