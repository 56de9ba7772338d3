import { Checkbox, Group, Stack, Table, Text, Title } from '@mantine/core';
import { stepName, timeText } from '../../../charts/path/path-time-request.ts';
import { pressureText, ratioText } from '../../../charts/trade-text.ts';
import { growthPath } from '../../../computations/growth/path.ts';
import type { Chamber, PathPlan } from '../../../records/kinds.ts';
import { CAUTIONS } from '../../../science/tables/cautions.ts';
import { type AnsweredStep, readingC } from '../../path/path-request.ts';
import { Cautions, type CautionText, workCautions } from '../cautions.tsx';

/** Where barium may leave a hot film, the caution of its compounds. */
function bariumVapour(): CautionText[] {
  return CAUTIONS.records
    .filter(({ kind, formulas }) => kind === 'element' && (formulas as readonly string[]).includes('Ba'))
    .map(({ statement, codes, source, tag }) => ({
      matter: 'barium vapour and what it leaves on cold walls',
      statement,
      codes,
      source: `${source} ${tag}`,
    }));
}

/** Cautions of a plan: furnace, oxygen and vacuum always, the laser where a film is grown. */
function cautionsOf(plan: PathPlan): CautionText[] {
  const isGrown = plan.segments.some(({ kind }) => kind === 'deposit');
  const hasBarium = plan.cations === null || (plan.cations.Ba ?? 0) > 0;
  return [
    ...workCautions(['furnace', 'oxygen', 'vacuum', ...(isGrown ? ['laser'] : [])]),
    ...(hasBarium ? bariumVapour() : []),
  ];
}

const NO_WRAP = { whiteSpace: 'nowrap' } as const;

interface RunSheetProps {
  plan: PathPlan;
  placed: readonly AnsweredStep[];
  chamber: Chamber | null;
}

/** What is driven at the chamber, step by step, with boxes to tick; it is what is printed. */
export function RunSheet({ plan, placed, chamber }: RunSheetProps) {
  const startReading = readingC(plan.start.temperatureC, chamber);
  const degrees = (value: number): string => `${Number(value.toFixed(1))} °C`;
  const hasReading = startReading !== null;
  return (
    <Stack gap="sm" component="section" aria-label="Run sheet">
      <div>
        <Title order={2} style={{ overflowWrap: 'anywhere' }}>
          Run sheet{plan.label ? `: ${plan.label}` : ''}
        </Title>
        <Text size="sm" c="dimmed" style={{ overflowWrap: 'anywhere' }}>
          {[
            plan.route,
            plan.cations ? ratioText(plan.cations) : '',
            plan.thicknessNm ? `${plan.thicknessNm.value} nm` : '',
            plan.substrate ? `on ${plan.substrate}` : '',
            chamber ? `chamber ${chamber.label}` : 'no chamber chosen',
          ]
            .filter(Boolean)
            .join('; ')}
          . Starts at {degrees(plan.start.temperatureC)} at the surface
          {startReading === null ? '' : ` (reading ${degrees(startReading)})`},{' '}
          {pressureText(plan.start.po2Atm)} of oxygen.
        </Text>
      </div>
      <Table.ScrollContainer minWidth={560}>
        <Table aria-label="Steps to drive" verticalSpacing={4}>
          <Table.Thead>
            <Table.Tr>
              <Table.Th w={60}>Done</Table.Th>
              <Table.Th>Step</Table.Th>
              <Table.Th ta="right">Begins after</Table.Th>
              <Table.Th ta="right">Takes</Table.Th>
              <Table.Th ta="right">Surface to</Table.Th>
              {hasReading ? <Table.Th ta="right">Set point, {chamber!.temperaturePlace}</Table.Th> : null}
              <Table.Th ta="right">Rate</Table.Th>
              <Table.Th ta="right">Oxygen to</Table.Th>
              <Table.Th>Seen</Table.Th>
            </Table.Tr>
          </Table.Thead>
          <Table.Tbody>
            {placed.map(({ kind, startS, endS, fromC, toC, toPo2Atm }, i) => {
              const minutes = (endS - startS) / 60;
              const thickness = plan.segments[i]?.thicknessNm;
              return (
                // biome-ignore lint/suspicious/noArrayIndexKey: steps have no other name and never change places here
                <Table.Tr key={i}>
                  <Table.Td>
                    <Checkbox aria-label={`Step ${i + 1} is done`} />
                  </Table.Td>
                  <Table.Td fw={600}>
                    {i + 1} {stepName(kind)}
                    {thickness ? `, ${thickness} nm` : ''}
                  </Table.Td>
                  <Table.Td ta="right" className="number" style={NO_WRAP}>
                    {timeText(startS)}
                  </Table.Td>
                  <Table.Td ta="right" className="number" style={NO_WRAP}>
                    {minutes === 0 ? 'at once' : timeText(endS - startS)}
                  </Table.Td>
                  <Table.Td ta="right" className="number" style={NO_WRAP} fw={700}>
                    {degrees(toC)}
                  </Table.Td>
                  {hasReading ? (
                    <Table.Td ta="right" className="number" style={NO_WRAP} fw={700}>
                      {degrees(readingC(toC, chamber)!)}
                    </Table.Td>
                  ) : null}
                  <Table.Td ta="right" className="number" style={NO_WRAP}>
                    {toC === fromC || minutes === 0
                      ? ''
                      : `${Number((Math.abs(toC - fromC) / minutes).toPrecision(3))} K/min`}
                  </Table.Td>
                  <Table.Td ta="right" className="number" style={NO_WRAP} fw={700}>
                    {pressureText(toPo2Atm)}
                  </Table.Td>
                  <Table.Td>________</Table.Td>
                </Table.Tr>
              );
            })}
          </Table.Tbody>
        </Table>
      </Table.ScrollContainer>
      {chamber && hasReading ? (
        <Text size="sm">
          Set points are what the {chamber.temperaturePlace} of {chamber.label} reads; surface minus reading
          is {String(chamber.offsetK!.value).replace('-', '−')}
          {chamber.offsetK!.standardUncertainty === null ? '' : ` ± ${chamber.offsetK!.standardUncertainty}`}{' '}
          K.
        </Text>
      ) : (
        <Text size="sm">Temperatures are the surface’s; no offset of a sensor is known here.</Text>
      )}
      {plan.note ? (
        <Text size="sm" style={{ overflowWrap: 'anywhere' }}>
          {plan.note}
        </Text>
      ) : null}
      <div>
        <Title order={3} mb={4}>
          Cautions
        </Title>
        <Cautions cautions={cautionsOf(plan)} />
      </div>
      <Group justify="space-between" gap="xs">
        <Text size="xs" c="dimmed">
          Made with growth.path version {growthPath.version}.
        </Text>
        <Text size="xs" className="print-only">
          Driven by ____________________ on ____________________
        </Text>
      </Group>
    </Stack>
  );
}
