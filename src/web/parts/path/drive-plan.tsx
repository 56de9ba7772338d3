import {
  Anchor,
  Button,
  Group,
  NativeSelect,
  Paper,
  SimpleGrid,
  Stack,
  Text,
  TextInput,
  Title,
} from '@mantine/core';
import { Link, useNavigate } from '@tanstack/react-router';
import { useState } from 'react';
import type { SeriesView } from '../../../records/series-view.ts';
import { type DriveDraft, readDrive, sittingKey, sittingOfPlan } from '../../drafts/drive-draft.ts';
import { faultSentences } from '../../drafts/field-names.ts';
import type { PathDraft } from '../../drafts/path-draft.ts';
import { emptySitting, type Sitting } from '../../drafts/sitting.ts';
import type { AnsweredStep } from '../../path/path-request.ts';
import { createRecord, newId, useChange } from '../../records.ts';
import { useSayDone } from '../../undo.ts';
import { ProblemNotice } from '../problem-notice.tsx';
import { FaultList } from '../record-forms/fault-list.tsx';
import { shownFault, textFields } from '../record-forms/fields.ts';
import { sayDone } from '../undo-notice.tsx';

/** What was written down last. */
interface Written {
  label: string;
  piece: string;
  film: SeriesView['films'][number] | undefined;
}

interface DrivePlanProps {
  view: SeriesView;
  draft: PathDraft;
  /** empty while the path cannot be read as a whole */
  placed: readonly AnsweredStep[];
}

/** Sends a piece through the plan: the treatment is written down with the plan and the chamber it was driven by. */
export function DrivePlan({ view, draft, placed }: DrivePlanProps) {
  const seriesId = view.series.id;
  const navigate = useNavigate();
  const announce = useSayDone();
  const [drive, setDrive] = useState<DriveDraft>({ pieceId: '', label: '', startedAt: '' });
  const [attempts, setAttempts] = useState(0);
  const isKept = view.pathPlans.some(({ id }) => id === draft.planId);
  const deposits = placed.flatMap(({ kind }, i) => (kind === 'deposit' ? [i + 1] : []));
  const plan = { route: draft.route, chamberId: draft.chamberId, label: draft.label.trim(), placed };
  const { body, faults } = readDrive(drive, { ...plan, planId: isKept ? draft.planId : '' });
  const [written, setWritten] = useState<Written | null>(null);
  const sentences = faultSentences('Treatment', faults);
  const write = useChange(async () => {
    const changeId = newId();
    await createRecord({ kind: 'treatment', seriesId, body, changeId });
    announce(`Wrote down treatment ${body.label}.`, [changeId]);
    const piece = view.pieces.find(({ id }) => id === body.pieceId);
    const film = view.films.find(({ id }) => id === piece?.body.filmId);
    setWritten({ label: body.label, piece: piece?.body.label ?? '', film });
    setAttempts(0);
    setDrive({ pieceId: '', label: '', startedAt: '' });
  });
  const recordRun = async () => {
    const key = sittingKey(seriesId);
    const before = sessionStorage.getItem(key);
    const sitting = before === null ? emptySitting(newId) : (JSON.parse(before) as Sitting);
    sessionStorage.setItem(key, JSON.stringify(sittingOfPlan(sitting, plan)));
    await navigate({ to: '/series/$seriesId/record', params: { seriesId } });
    sayDone({
      message:
        'The run begins with the chamber, the surface temperature and the oxygen of the plan’s deposit.',
      undo: async () => {
        if (before === null) sessionStorage.removeItem(key);
        else sessionStorage.setItem(key, before);
        window.location.reload();
      },
      refresh: () => undefined,
    });
  };
  const field = textFields({ draft: drive, onChange: setDrive, faults, isTried: attempts > 0 });
  const pieces = view.pieces
    .map(({ id, body: piece }) => ({
      value: id,
      label: `${piece.label} of ${view.films.find((film) => film.id === piece.filmId)?.body.label ?? 'a film'}`,
    }))
    .sort((one, other) => one.label.localeCompare(other.label, 'en', { numeric: true }));
  return (
    <Paper withBorder p="sm" component="section" aria-label="Drive it with a piece" className="no-print">
      <Stack gap="sm">
        <Title order={2}>Drive it with a piece</Title>
        {written ? (
          <Text role="status" style={{ overflowWrap: 'anywhere' }}>
            Wrote down treatment {written.label} of piece {written.piece}.{' '}
            {written.film ? (
              <Anchor
                component={Link}
                to={`/series/${seriesId}/films/${written.film.id}`}
              >{`Open film ${written.film.body.label}`}</Anchor>
            ) : null}
          </Text>
        ) : null}
        {deposits.length > 0 ? (
          <>
            <Text size="sm">
              Step {deposits.join(', ')} grows a film, which a treatment of a piece cannot hold. Write it down
              as a run: its chamber, surface temperature and oxygen are filled in from here.
            </Text>
            <Group>
              <Button variant="light" onClick={() => void recordRun()}>
                Write it down as a run
              </Button>
            </Group>
          </>
        ) : pieces.length === 0 ? (
          <Text size="sm" c="dimmed">
            This series has no piece yet. Record a run or a film with its pieces first.
          </Text>
        ) : (
          <form
            noValidate
            aria-label="New treatment by this plan"
            onSubmit={(event) => {
              event.preventDefault();
              setAttempts(attempts + 1);
              if (sentences.length === 0) write.mutate(undefined);
            }}
          >
            <Stack gap="sm">
              <SimpleGrid cols={{ base: 1, sm: 3 }} spacing="sm">
                <NativeSelect
                  label="Piece"
                  value={drive.pieceId}
                  error={shownFault({ faults, isTried: attempts > 0 }, 'pieceId', drive.pieceId)}
                  data={[{ value: '', label: 'which piece?' }, ...pieces]}
                  onChange={(event) => setDrive({ ...drive, pieceId: event.currentTarget.value })}
                />
                <TextInput {...field('label', 'Name of the treatment')} required maxLength={200} />
                <TextInput {...field('startedAt', 'Started, local time')} type="datetime-local" />
              </SimpleGrid>
              <Group>
                <Button type="submit" variant="light" loading={write.isPending}>
                  Write it down as a treatment
                </Button>
                <Text size="xs" c="dimmed">
                  {isKept
                    ? 'The treatment names the plan.'
                    : 'The plan is not kept, so the treatment will not name it.'}
                </Text>
              </Group>
              <FaultList sentences={sentences} attempts={attempts} />
              <ProblemNotice error={write.error} />
            </Stack>
          </form>
        )}
      </Stack>
    </Paper>
  );
}
