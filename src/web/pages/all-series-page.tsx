import { Anchor, Button, Group, Stack, Table, Text, TextInput } from '@mantine/core';
import { Link, useNavigate } from '@tanstack/react-router';
import { useState } from 'react';
import { isRareEarth } from '../../science/matter/elements.ts';
import { ProblemNotice } from '../parts/problem-notice.tsx';
import { Question } from '../parts/question.tsx';
import { createRecord, newId, useChange, useSeriesList } from '../records.ts';

/** All series of the store, and the way to a new one. */
export function AllSeriesPage() {
  const { data, error, isPending } = useSeriesList();
  const navigate = useNavigate();
  const [label, setLabel] = useState('');
  const [rareEarth, setRareEarth] = useState('Y');
  const rareEarths = rareEarth.split(/[\s,;+]+/).filter(Boolean);
  const wrong = rareEarths.find((symbol) => !isRareEarth(symbol));
  const create = useChange(async () => {
    const id = newId();
    await createRecord({
      kind: 'series',
      id,
      seriesId: id,
      body: {
        label,
        aim: '',
        isInvented: false,
        rareEarths,
        growth: { temperatureC: 850, po2Atm: 1e-3, meltOffsetJPerMol: 0 },
        coil: { temperatureK: 30, fieldT: 5 },
        criteria: [
          { kind: 'number', fact: 'tcMidpointK', comparison: 'at least', wanted: 88, relativeTo: 'nothing' },
          {
            kind: 'number',
            fact: 'transitionWidthK',
            comparison: 'at most',
            wanted: 1.5,
            relativeTo: 'nothing',
          },
        ],
        benchmarkPieceId: null,
        controlPieceId: null,
        note: '',
      },
    });
    await navigate({ to: '/series/$seriesId', params: { seriesId: id } });
  });
  return (
    <Stack maw={900}>
      <Question>Which series?</Question>
      <ProblemNotice error={error} />
      {isPending ? <Text c="dimmed">Reading the store ...</Text> : null}
      {data && data.length === 0 ? (
        <Text>
          There is no series yet. Make one below; it holds everything from the first cation ratio to the last
          verdict.
        </Text>
      ) : null}
      {data && data.length > 0 ? (
        <Table>
          <Table.Thead>
            <Table.Tr>
              <Table.Th>Series</Table.Th>
              <Table.Th ta="right">Films</Table.Th>
            </Table.Tr>
          </Table.Thead>
          <Table.Tbody>
            {data.map((series) => (
              <Table.Tr key={series.id}>
                <Table.Td>
                  <Anchor
                    renderRoot={(props) => (
                      <Link to="/series/$seriesId" params={{ seriesId: series.id }} {...props} />
                    )}
                  >
                    {series.label}
                  </Anchor>
                  {series.isInvented ? (
                    <Text span c="dimmed" size="sm">
                      {' '}
                      (invented data)
                    </Text>
                  ) : null}
                </Table.Td>
                <Table.Td ta="right" className="number">
                  {series.filmCount}
                </Table.Td>
              </Table.Tr>
            ))}
          </Table.Tbody>
        </Table>
      ) : null}
      <form
        onSubmit={(event) => {
          event.preventDefault();
          if (wrong === undefined && rareEarths.length > 0) create.mutate(undefined);
        }}
      >
        <Group align="flex-start">
          <TextInput
            label="New series"
            placeholder="What it is called"
            required
            maxLength={200}
            value={label}
            onChange={(event) => setLabel(event.currentTarget.value)}
            style={{ flex: '1 1 16rem' }}
          />
          <TextInput
            label="Rare earths"
            required
            value={rareEarth}
            error={wrong && `'${wrong}' is no rare earth; expected symbols such as Y, or Y, Gd.`}
            onChange={(event) => setRareEarth(event.currentTarget.value)}
            w={180}
          />
          <Button type="submit" mt={25} loading={create.isPending}>
            Make series
          </Button>
        </Group>
      </form>
      <ProblemNotice error={create.error} />
    </Stack>
  );
}
