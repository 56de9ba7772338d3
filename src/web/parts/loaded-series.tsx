import { Group, Loader, Text } from '@mantine/core';
import type { ReactNode } from 'react';
import type { SeriesView } from '../../records/series-view.ts';
import { useSeriesView } from '../records.ts';
import { ProblemNotice } from './problem-notice.tsx';

interface LoadedSeriesProps {
  seriesId: string;
  children: (view: SeriesView) => ReactNode;
}

/**
 * Shows its children once the series is read; until then, that it is being read. Where a later reading fails, what was read
 * before stays.
 */
export function LoadedSeries({ seriesId, children }: LoadedSeriesProps) {
  const { data, error, isPending } = useSeriesView(seriesId);
  if (isPending) {
    return (
      <Group>
        <Loader size="sm" /> <Text>Reading the series ...</Text>
      </Group>
    );
  }
  return (
    <>
      <ProblemNotice error={error} />
      {data ? children(data) : null}
    </>
  );
}
