import { Button, Group, Stack } from '@mantine/core';
import { counted } from '../../charts/number-text.ts';
import { type FilmRow, isInformed } from '../../records/film-rows.ts';
import type { SeriesView } from '../../records/series-view.ts';
import { judgePieces } from '../judging.ts';
import { newId, useChange } from '../records.ts';
import { useSayDone } from '../undo.ts';
import { JudgingFailures } from './judging-failures.tsx';
import { ProblemNotice } from './problem-notice.tsx';

/** Judges what was never judged, or on what has changed since; nothing where every verdict holds. */
export function JudgeFilms({ view, rows }: { view: SeriesView; rows: readonly FilmRow[] }) {
  const sayDone = useSayDone();
  const isOpen = ({ states }: FilmRow) =>
    states.some((state) => isInformed(state) && (state.verdict?.isStale ?? true));
  const open = rows.filter(isOpen);
  const what = counted(open.length, 'film');
  const judge = useChange(async () => {
    const changeId = newId();
    const pieceIds = open.flatMap(({ states }) => states.map(({ piece }) => piece.id));
    const judged = await judgePieces(view, pieceIds, changeId);
    sayDone(`Judged ${what}: ${counted(judged.verdictCount, 'verdict')}.`, [changeId]);
    return judged;
  });
  return (
    <Stack gap="xs" className="no-print" align="flex-end">
      {open.length > 0 ? (
        <Group>
          <Button variant="light" loading={judge.isPending} onClick={() => judge.mutate(undefined)}>
            Judge {what}
          </Button>
        </Group>
      ) : null}
      <ProblemNotice error={judge.error} />
      <JudgingFailures failures={judge.data?.failures} />
    </Stack>
  );
}
