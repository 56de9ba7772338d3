import { Button, Group, Paper, Stack, Text, Title } from '@mantine/core';
import { Link } from '@tanstack/react-router';
import { useState } from 'react';
import type { CationRatio } from '../../../records/common.ts';
import type { PieceState } from '../../../records/film-rows.ts';
import type { StoryPiece } from '../../../records/film-story.ts';
import type { SeriesView } from '../../../records/series-view.ts';
import { RecordActions } from '../record-actions.tsx';
import { PieceEditor, TreatmentEditor } from '../record-forms/editors.tsx';
import { Revisions } from './revisions.tsx';
import { StateSection } from './state-section.tsx';

function sidesText(lengthMm: number | null, widthMm: number | null): string {
  if (lengthMm === null && widthMm === null) return 'size not recorded';
  const side = (mm: number | null) => (mm === null ? '?' : `${mm}`);
  return `${side(lengthMm)} mm × ${side(widthMm)} mm`;
}

interface PieceSectionProps {
  view: SeriesView;
  part: StoryPiece;
  /** what the film is meant to be */
  cations: CationRatio | null;
  /** the state that speaks for the film: its reasons stand open */
  best: PieceState | null;
}

/** One piece of the film, state after state. */
export function PieceSection({ view, part, cations, best }: PieceSectionProps) {
  const [open, setOpen] = useState<'nothing' | 'piece' | 'treatment'>('nothing');
  const { piece, states } = part;
  const { label, lengthMm, widthMm, note, filmId } = piece.body;
  const seriesId = view.series.id;
  const { benchmarkPieceId, controlPieceId } = view.series.body;
  const role =
    piece.id === benchmarkPieceId ? ', the benchmark' : piece.id === controlPieceId ? ', the control' : '';
  return (
    <Paper withBorder p="sm" component="section" aria-label={`Piece ${label}`}>
      <Stack gap="sm">
        <Group justify="space-between" gap="xs">
          <div>
            <Title order={3} style={{ overflowWrap: 'anywhere' }}>
              Piece {label}
              {role}
            </Title>
            <Text size="sm" c="dimmed">
              {sidesText(lengthMm, widthMm)}
              {note ? `; ${note}` : ''}
            </Text>
          </div>
          <Group gap={4} className="no-print">
            <Button
              size="compact-xs"
              variant="light"
              renderRoot={(props) => (
                <Link
                  to="/series/$seriesId/files"
                  params={{ seriesId }}
                  search={{ pieceId: piece.id }}
                  {...props}
                />
              )}
            >
              Drop files on this piece
            </Button>
            <Button
              size="compact-xs"
              variant="light"
              aria-label={`Add a treatment of ${label}`}
              onClick={() => setOpen('treatment')}
            >
              Add a treatment
            </Button>
            <RecordActions record={piece} name={`piece ${label}`} onEdit={() => setOpen('piece')} />
          </Group>
        </Group>
        {open === 'piece' ? (
          <PieceEditor
            view={view}
            filmId={filmId}
            piece={piece}
            proposedLabel={label}
            onClose={() => setOpen('nothing')}
          />
        ) : null}
        {open === 'treatment' ? (
          <TreatmentEditor view={view} piece={piece} treatment={null} onClose={() => setOpen('nothing')} />
        ) : null}
        {states.map((state) => (
          <StateSection
            key={state.treatment?.id ?? 'as grown'}
            view={view}
            part={part}
            state={state}
            cations={cations}
            isBest={best?.piece.id === piece.id && best.stateTreatmentId === (state.treatment?.id ?? null)}
          />
        ))}
        <Revisions record={piece} name={`Piece ${label}`} />
      </Stack>
    </Paper>
  );
}
