import { Button, Group, List, Paper, Stack, Table, Text, TextInput, Title } from '@mantine/core';
import { Link } from '@tanstack/react-router';
import { useEffect, useState } from 'react';
import { uncertainText } from '../../charts/number-text.ts';
import { ratioText } from '../../charts/trade-text.ts';
import type { CationRatio } from '../../records/common.ts';
import { placeInTriangle } from '../../science/matter/cation-ratios.ts';
import { ratioParameter, readRatio } from '../compositions.ts';
import { useComputation } from '../compute.ts';
import type { GrowthCondition } from './growth-controls.tsx';
import { ProblemNotice } from './problem-notice.tsx';

interface Assemblage {
  odds: Record<string, number>;
  phases: { name: string; share: number; shareU: number }[];
  liquidShare: { value: number; standardUncertainty: number } | null;
  flags: { code: string; message: string }[];
}

interface CompositionPanelProps {
  seriesId: string;
  rareEarth: string;
  selected: CationRatio | null;
  onSelect: (cations: CationRatio) => void;
  condition: GrowthCondition;
}

const percent = (share: number): string => `${(share * 100).toFixed(share < 0.1 ? 1 : 0)} %`;

/** What stands at the composition clicked or typed, how sure that is, and the way to its target. */
export function CompositionPanel({
  seriesId,
  rareEarth,
  selected,
  onSelect,
  condition,
}: CompositionPanelProps) {
  const [text, setText] = useState('');
  const [fault, setFault] = useState<string | null>(null);
  useEffect(() => {
    if (!selected) return;
    setText(ratioText(selected));
    setFault(null);
  }, [selected]);
  const { temperatureC, po2Atm, meltOffsetJPerMol, heldBack } = condition;
  const { response, error } = useComputation<Assemblage>(
    'equilibrium.assemblage',
    selected && {
      cations: selected,
      temperatureC,
      po2Atm,
      offsetsJPerMol: meltOffsetJPerMol === 0 ? {} : { liquid: meltOffsetJPerMol },
      heldBack,
    },
  );
  const shares = placeInTriangle(selected);
  const take = () => {
    const read = readRatio(text, rareEarth);
    if ('fault' in read) setFault(read.fault);
    else {
      setFault(null);
      onSelect(read.cations);
    }
  };
  return (
    <Paper withBorder p="sm">
      <Stack gap="xs">
        <Title order={2}>At one composition</Title>
        <form
          onSubmit={(event) => {
            event.preventDefault();
            take();
          }}
        >
          <Group align="flex-end" wrap="nowrap">
            <TextInput
              label="Cation ratio"
              description={`${rareEarth}:Ba:Cu such as 1:2:3, or click in the triangle`}
              value={text}
              error={fault}
              onChange={(event) => {
                setText(event.currentTarget.value);
                setFault(null);
              }}
              style={{ flex: 1 }}
            />
            <Button type="submit" variant="light">
              Look
            </Button>
          </Group>
        </form>
        <ProblemNotice error={error} />
        {selected && shares && response && !fault ? (
          <>
            <Text size="sm">At {ratioText(selected)}</Text>
            <Table aria-label="Phases at this composition">
              <Table.Thead>
                <Table.Tr>
                  <Table.Th>Phase (median diagram)</Table.Th>
                  <Table.Th ta="right">Share of cations</Table.Th>
                </Table.Tr>
              </Table.Thead>
              <Table.Tbody>
                {response.phases.map(({ name, share, shareU }) => (
                  <Table.Tr key={name}>
                    <Table.Td>{name}</Table.Td>
                    <Table.Td ta="right" className="number">
                      {uncertainText(share * 100, shareU * 100)} %
                    </Table.Td>
                  </Table.Tr>
                ))}
              </Table.Tbody>
            </Table>
            <Text size="sm" fw={600}>
              Odds of each field
            </Text>
            <List size="sm" listStyleType="none">
              {Object.entries(response.odds)
                .sort(([, one], [, other]) => other - one)
                .slice(0, 5)
                .map(([field, odds]) => (
                  <List.Item key={field} className="number">
                    {percent(odds)} {field}
                  </List.Item>
                ))}
            </List>
            {response.flags.map(({ code, message }) => (
              <Text key={code} size="xs" c="dimmed">
                {message}
              </Text>
            ))}
            <Button
              renderRoot={(props) => (
                <Link
                  to="/series/$seriesId/target"
                  params={{ seriesId }}
                  search={{ ratio: ratioParameter(selected, rareEarth) }}
                  {...props}
                />
              )}
            >
              Weigh a target of this
            </Button>
          </>
        ) : (
          <Text size="sm" c="dimmed">
            Click in the triangle, or type a ratio.
          </Text>
        )}
      </Stack>
    </Paper>
  );
}
