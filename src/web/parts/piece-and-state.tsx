import { Group, NativeSelect, Text } from '@mantine/core';
import type { SeriesView } from '../../records/series-view.ts';
import { treatmentsOf } from '../../records/state-of-file.ts';
import type { FileQueue } from '../file-queue.ts';
import type { WaitingFile } from '../waiting-files.ts';

interface PieceAndStateProps {
  file: WaitingFile;
  view: SeriesView;
  queue: FileQueue;
  /** the file is read or on its way: nothing can be changed */
  isFixed: boolean;
}

/** `D07-b`, with its film where the label does not begin with it. */
function pieceText(view: SeriesView, piece: SeriesView['pieces'][number]): string {
  const film = view.films.find(({ id }) => id === piece.body.filmId)?.body.label ?? '';
  return piece.body.label.startsWith(film) ? piece.body.label : `${piece.body.label} of ${film}`;
}

/** Of which piece a file is, and in which state it was taken; each with how that is known. */
export function PieceAndState({ file, view, queue, isFixed }: PieceAndStateProps) {
  const piece = view.pieces.find(({ id }) => id === file.pieceId);
  const treatments = file.pieceId ? treatmentsOf(view, file.pieceId) : [];
  const state = treatments.find(({ id }) => id === file.stateTreatmentId);
  if (isFixed) {
    return (
      <Text size="sm" style={{ overflowWrap: 'anywhere' }}>
        {piece ? pieceText(view, piece) : ''}
        {piece ? (state ? `, after ${state.body.label}` : ', as grown') : ''}
      </Text>
    );
  }
  const pieces = [...view.pieces].sort((one, other) =>
    one.body.label.localeCompare(other.body.label, 'en', { numeric: true }),
  );
  return (
    <div>
      <Group gap={6} wrap="nowrap" align="flex-start">
        <NativeSelect
          size="xs"
          aria-label={`Piece of ${file.fileName}`}
          value={file.pieceId ?? ''}
          onChange={(event) => queue.choosePiece(file.key, event.currentTarget.value || null)}
          data={[
            { value: '', label: 'which piece?' },
            ...pieces.map((each) => ({ value: each.id, label: pieceText(view, each) })),
          ]}
          style={{ flex: '1 1 6rem', minWidth: 0 }}
        />
        <NativeSelect
          size="xs"
          aria-label={`State of the piece for ${file.fileName}`}
          value={file.stateTreatmentId ?? ''}
          disabled={treatments.length === 0}
          onChange={(event) => queue.chooseState(file.key, event.currentTarget.value || null)}
          data={[
            { value: '', label: 'as grown' },
            ...treatments.map(({ id, body }) => ({ value: id, label: `after ${body.label}` })),
          ]}
          style={{ flex: '1 1 7rem', minWidth: 0 }}
        />
      </Group>
      <Text size="xs" c="dimmed">
        {[file.pieceNote.replace(/\.$/, ''), piece && `state: ${file.stateNote}`].filter(Boolean).join('; ')}
      </Text>
    </div>
  );
}
