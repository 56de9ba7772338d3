import { Text } from '@mantine/core';
import { pressureText } from '../../../charts/trade-text.ts';
import { likelyRangeC, type PlaneSetting, type WindowAnswer } from '../../plane/plane-setting.ts';

/** Columns that are said in words: the ends and two between. */
const SAID = [0, 1 / 3, 2 / 3, 1];

/** In words: from which to which temperature liquid and 123 are likely, along the map. */
export function WindowWords({ answer, setting }: { answer: WindowAnswer; setting: PlaneSetting }) {
  const columns = setting.across === 'oxygen' ? answer.po2Atm.length : answer.part.length;
  const said = SAID.map((share) => {
    const column = Math.round(share * (columns - 1));
    const range = likelyRangeC(answer, column, columns);
    const where =
      setting.across === 'oxygen'
        ? pressureText(answer.po2Atm[column]!)
        : `${Math.round(100 * answer.part[column]!)} % of the way`;
    return `${where}: ${range ? `${Math.round(range.lowC)} to ${Math.round(range.highC)} °C` : 'nowhere'}`;
  });
  return (
    <Text size="sm" role="status" aria-label="Where liquid and 123 are likely">
      Even odds or better of liquid with 123, on the grid drawn: {said.join('; ')}.
    </Text>
  );
}
