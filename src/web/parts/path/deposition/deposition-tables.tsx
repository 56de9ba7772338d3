import { Table, Text } from '@mantine/core';
import { useMemo } from 'react';
import type { z } from 'zod';
import { curveScene } from '../../../../charts/curve-chart.ts';
import { shortNumber } from '../../../../charts/number-text.ts';
import type { growthDeposition } from '../../../../computations/growth/deposition.ts';
import { quantityText, shareText, timeText } from '../../../drafts/answer-words.ts';
import type { FilmTime } from '../../../drafts/pulse-calibrations.ts';
import { Figure } from '../../figure.tsx';

export type DepositionAnswer = z.infer<typeof growthDeposition.response>;

/** Thickness per pulse of every target and fluence of the series. */
export function GroupTable({ answer }: { answer: DepositionAnswer }) {
  return (
    <Table.ScrollContainer minWidth={380}>
      <Table aria-label="Thickness per pulse by target and fluence" verticalSpacing={4} fz="sm">
        <Table.Thead>
          <Table.Tr>
            <Table.Th>Target and fluence</Table.Th>
            <Table.Th ta="right">Films</Table.Th>
            <Table.Th ta="right">nm per pulse</Table.Th>
            <Table.Th ta="right">Scatter of one film</Table.Th>
          </Table.Tr>
        </Table.Thead>
        <Table.Tbody>
          {answer.groups.map(({ group, films, nmPerPulse, relativeScatter }) => (
            <Table.Tr key={group}>
              <Table.Th fw={500} style={{ overflowWrap: 'anywhere' }}>
                {group}
              </Table.Th>
              <Table.Td ta="right" className="number">
                {films}
              </Table.Td>
              <Table.Td ta="right" className="number">
                {nmPerPulse ? quantityText(nmPerPulse, '') : 'one film without uncertainty'}
              </Table.Td>
              <Table.Td ta="right" className="number">
                {relativeScatter > 0 ? `${shortNumber(100 * relativeScatter, 2)} %` : 'not known'}
              </Table.Td>
            </Table.Tr>
          ))}
        </Table.Tbody>
      </Table>
    </Table.ScrollContainer>
  );
}

interface PlumeAnswerProps {
  plume: DepositionAnswer['plume'];
  isTurning: boolean;
}

/** How even the thickness is over the substrate. */
export function PlumeAnswer({ plume, isTurning }: PlumeAnswerProps) {
  const scene = useMemo(() => {
    if (!plume) return null;
    const x = Array.from(plume.positionMm);
    const [share, doubt] = [Array.from(plume.share), Array.from(plume.shareU)];
    return curveScene({
      title: `Thickness across the substrate${isTurning ? ', turning' : ''}`,
      x: { label: 'From the middle', unit: 'mm' },
      y: { label: 'Thickness, share of that on the axis', unit: '' },
      series: [{ id: 'share', label: 'thickness', look: 'line', x, y: share }],
      bands: [
        {
          label: 'one standard uncertainty',
          x,
          lower: share.map((each, i) => each - doubt[i]!),
          upper: share.map((each, i) => each + doubt[i]!),
        },
      ],
      size: { width: 560, height: 240 },
    });
  }, [plume, isTurning]);
  if (!plume || !scene) {
    return (
      <Text size="sm" c="dimmed">
        How even the film is stands here once the distance of target and substrate is stated.
      </Text>
    );
  }
  return (
    <>
      <Text size="sm">
        Over the substrate the thickness goes {shareText(plume.spread)} to either side of the mean of its
        extremes; in the middle it is {shareText(plume.atMiddle)} of that on the axis of the plume.
      </Text>
      <Figure scene={scene} />
    </>
  );
}

const exact = (seconds: number | null): string =>
  seconds === null ? 'no rate recorded' : timeText({ value: seconds, standardUncertainty: 0 });

/** What each recorded film took of the machine, and all together. */
export function FilmTimesTable({ times }: { times: readonly FilmTime[] }) {
  const total = times.reduce(
    (sum, { depositionS, preAblationS }) => sum + (depositionS ?? 0) + (preAblationS ?? 0),
    0,
  );
  const known = times.filter(({ depositionS }) => depositionS !== null).length;
  return (
    <>
      <Text size="sm">
        Pulsing alone: {exact(total)} for {known} of {times.length} films
        {known > 0 ? `, ${exact(total / known)} each` : ''}. Heating, cooling and pumping are the path’s.
      </Text>
      <Table.ScrollContainer minWidth={380}>
        <Table aria-label="Time that each film took" verticalSpacing={2} fz="xs">
          <Table.Thead>
            <Table.Tr>
              <Table.Th>Film</Table.Th>
              <Table.Th ta="right">Pulses</Table.Th>
              <Table.Th ta="right">Thickness, nm</Table.Th>
              <Table.Th ta="right">Pulsing</Table.Th>
              <Table.Th ta="right">Shuttered before</Table.Th>
            </Table.Tr>
          </Table.Thead>
          <Table.Tbody>
            {times.map(({ label, pulses, thicknessNm, depositionS, preAblationS }) => (
              <Table.Tr key={label}>
                <Table.Th fw={500} style={{ overflowWrap: 'anywhere' }}>
                  {label}
                </Table.Th>
                <Table.Td ta="right" className="number">
                  {pulses}
                </Table.Td>
                <Table.Td ta="right" className="number">
                  {thicknessNm === null ? 'not measured' : shortNumber(thicknessNm)}
                </Table.Td>
                <Table.Td ta="right" className="number">
                  {exact(depositionS)}
                </Table.Td>
                <Table.Td ta="right" className="number">
                  {preAblationS === null ? 'not recorded' : exact(preAblationS)}
                </Table.Td>
              </Table.Tr>
            ))}
          </Table.Tbody>
        </Table>
      </Table.ScrollContainer>
    </>
  );
}
