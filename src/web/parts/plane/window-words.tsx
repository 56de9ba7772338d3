import { Text } from '@mantine/core';
import { useMemo } from 'react';
import { pressureText } from '../../../charts/trade-text.ts';
import { useStagedComputation } from '../../compute.ts';
import { bulkStages, likelyRangeC, type PlaneSetting, type WindowAnswer } from '../../plane/plane-setting.ts';
import { readingText } from '../../reading.ts';

/** Columns that are said in words: next to whole powers of ten of oxygen pressure, or quarters of the way between compositions. */
function saidColumns({ po2Atm, part }: WindowAnswer, isOxygen: boolean): number[] {
  const places = isOxygen ? po2Atm.map((atm) => Math.log10(atm)) : part.map((each) => 4 * each);
  const nearest = places.map((place, column) => {
    const off = Math.abs(place - Math.round(place));
    const isNearest = [column - 1, column + 1].every(
      (other) =>
        places[other] === undefined ||
        Math.round(places[other]!) !== Math.round(place) ||
        Math.abs(places[other]! - Math.round(place)) >= off,
    );
    return isNearest ? column : -1;
  });
  return nearest.filter((column) => column >= 0);
}

/** From which to which temperature liquid and 123 are likely, along the map, as one sentence. */
function sentenceOf(answer: WindowAnswer, isOxygen: boolean): string {
  const columns = isOxygen ? answer.po2Atm.length : answer.part.length;
  return saidColumns(answer, isOxygen)
    .map((column) => {
      const range = likelyRangeC(answer, column, columns);
      const where = isOxygen
        ? pressureText(answer.po2Atm[column]!)
        : `${Math.round(100 * answer.part[column]!)} % of the way`;
      return `${where}: ${range ? `${Math.round(range.lowC)} to ${Math.round(range.highC)} °C` : 'nowhere'}`;
    })
    .join('; ');
}

interface WindowWordsProps {
  answer: WindowAnswer;
  setting: PlaneSetting;
}

/** Where liquid and 123 are likely, in words; where something is set free, at equilibrium too. */
export function WindowWords({ answer, setting }: WindowWordsProps) {
  const isOxygen = setting.across === 'oxygen';
  const stages = useMemo(() => bulkStages(setting), [setting]);
  const { response, answered } = useStagedComputation<WindowAnswer>('equilibrium.window', stages);
  const isBulkOfThis =
    stages !== null && Array.isArray((answered as { po2Atm?: unknown } | null)?.po2Atm) === isOxygen;
  return (
    <div role="status" aria-label="Where liquid and 123 are likely">
      <Text size="sm">
        Even odds or better of liquid with 123, on the grid drawn ({readingText(setting)}):{' '}
        {sentenceOf(answer, isOxygen)}.
      </Text>
      {isBulkOfThis && response ? (
        <Text size="sm" mt={4}>
          The same at equilibrium: {sentenceOf(response, isOxygen)}.
        </Text>
      ) : null}
    </div>
  );
}
