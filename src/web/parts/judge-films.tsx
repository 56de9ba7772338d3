import { Button, Group } from '@mantine/core';
import { counted } from '../../charts/number-text.ts';
import { type FilmRow, isInformed } from '../../records/film-rows.ts';
import { api, dataOf } from '../api.ts';
import { newId, useChange } from '../records.ts';
import { useSayDone } from '../undo.ts';
import { ProblemNotice } from './problem-notice.tsx';

/** Judges what was never judged, or on what has changed since; nothing where every verdict holds. */
export function JudgeFilms({ seriesId, rows }: { seriesId: string; rows: readonly FilmRow[] }) {
  const sayDone = useSayDone();
  const isOpen = ({ states }: FilmRow) =>
    states.some((state) => isInformed(state) && (state.verdict?.isStale ?? true));
  const open = rows.filter(isOpen);
  const what = counted(open.length, 'film');
  const judge = useChange(async () => {
    const changeId = newId();
    const pieceIds = open.flatMap(({ states }) => states.map(({ piece }) => piece.id));
    const body = { changeId, pieceIds: [...new Set(pieceIds)] };
    const { verdicts } = await dataOf(
      api.POST('/api/series/{seriesId}/judge', { params: { path: { seriesId } }, body }),
    );
    sayDone(`Judged ${what}: ${counted(verdicts.length, 'verdict')}.`, [changeId]);
  });
  return (
    <Group gap="xs" className="no-print">
      <ProblemNotice error={judge.error} />
      {open.length > 0 ? (
        <Button variant="light" loading={judge.isPending} onClick={() => judge.mutate(undefined)}>
          Judge {what}
        </Button>
      ) : null}
    </Group>
  );
}
