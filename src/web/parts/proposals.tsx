import { Badge, Button, Group, Paper, SimpleGrid, Stack, Text, Title } from '@mantine/core';
import { Link } from '@tanstack/react-router';
import { ratioText } from '../../charts/trade-text.ts';
import type { CationRatio } from '../../records/common.ts';
import type { SeriesView } from '../../records/series-view.ts';
import { api, dataOf } from '../api.ts';
import { ratioParameter } from '../compositions.ts';
import { newId, useChange } from '../records.ts';
import { ProblemNotice } from './problem-notice.tsx';

export interface Proposal {
  cations: CationRatio;
  re: number;
  ba: number;
  cu: number;
  oddsLiquidAnd123: number;
  sentence: string;
  couldGoWrong: string;
}
interface ProposalsAnswer {
  proposals: Proposal[];
  flags: { code: string; message: string }[];
}

/** The proposals of a series as last asked; empty before. */
export function proposalsOf(view: SeriesView): ProposalsAnswer {
  return (view.proposals?.body.response as ProposalsAnswer | undefined) ?? { proposals: [], flags: [] };
}

/** The next targets, each with its reason. */
export function Proposals({ view, onLook }: { view: SeriesView; onLook: (cations: CationRatio) => void }) {
  const seriesId = view.series.id;
  const { proposals, flags } = proposalsOf(view);
  const ask = useChange(() =>
    dataOf(
      api.POST('/api/series/{seriesId}/propose', {
        params: { path: { seriesId } },
        body: { changeId: newId(), count: 3 },
      }),
    ),
  );
  return (
    <Stack gap="sm">
      <Group justify="space-between">
        <Group gap="xs">
          <Title order={2}>Next targets</Title>
          {view.proposalsAreStale ? (
            <Badge variant="light" color="gray" c="var(--mantine-color-text)" tt="none">
              old: films or science changed since; judge first, then ask again
            </Badge>
          ) : null}
        </Group>
        <Button onClick={() => ask.mutate(undefined)} loading={ask.isPending}>
          Ask for the next three targets
        </Button>
      </Group>
      <ProblemNotice error={ask.error} />
      {proposals.length === 0 ? (
        <Text c="dimmed" size="sm">
          Not asked yet.
        </Text>
      ) : null}
      <SimpleGrid cols={{ base: 1, md: 3 }}>
        {proposals.map((proposal, i) => (
          <Paper
            withBorder
            p="sm"
            key={ratioText(proposal.cations)}
            component="article"
            aria-label={`Proposal ${i + 1}`}
          >
            <Stack gap={6}>
              <Text fw={600} className="number">
                {i + 1}. {ratioText(proposal.cations)}
              </Text>
              <Text size="sm">{proposal.sentence}</Text>
              <Text size="sm" c="dimmed">
                {proposal.couldGoWrong}
              </Text>
              <Group gap="xs">
                <Button size="compact-sm" variant="light" onClick={() => onLook(proposal.cations)}>
                  Show in the triangle
                </Button>
                <Button
                  size="compact-sm"
                  variant="light"
                  renderRoot={(props) => (
                    <Link
                      to="/series/$seriesId/target"
                      params={{ seriesId }}
                      search={{ ratio: ratioParameter(proposal.cations, view.series.body.rareEarths[0]!) }}
                      {...props}
                    />
                  )}
                >
                  Weigh a target of this
                </Button>
              </Group>
            </Stack>
          </Paper>
        ))}
      </SimpleGrid>
      {flags.map(({ code, message }) => (
        <Text key={code} size="xs" c="dimmed">
          {message}
        </Text>
      ))}
    </Stack>
  );
}
