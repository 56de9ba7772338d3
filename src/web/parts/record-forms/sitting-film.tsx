import { ActionIcon, Button, Group, NumberInput, Paper, Stack, Text } from '@mantine/core';
import { useState } from 'react';
import type { SeriesView } from '../../../records/series-view.ts';
import { nextSegment } from '../../drafts/segment-rows.ts';
import {
  cutIntoPieces,
  type FilmEntry,
  filmLabel,
  type PieceEntry,
  type Sitting,
} from '../../drafts/sitting.ts';
import type { Faults } from '../../drafts/typed-numbers.ts';
import { newId } from '../../records.ts';
import { faultsOf } from './fields.ts';
import { FilmForm } from './film-form.tsx';
import { PieceForm } from './piece-form.tsx';
import { TreatmentForm } from './treatment-form.tsx';

const MOST_PIECES_AT_ONCE = 26;

interface PartProps {
  faults: Faults;
  isTried: boolean;
  view: SeriesView;
}

interface SittingPieceProps extends PartProps {
  piece: PieceEntry;
  onChange: (piece: PieceEntry) => void;
  onRemove: () => void;
}

function SittingPiece({ piece, onChange, onRemove, faults, isTried, view }: SittingPieceProps) {
  const { treatments } = piece;
  const name = piece.draft.label || 'piece';
  const addTreatment = () =>
    onChange({
      ...piece,
      treatments: [
        ...treatments,
        {
          id: newId(),
          draft: {
            label: `${name} treatment ${treatments.length + 1}`,
            startedAt: '',
            segments: [nextSegment(newId(), undefined)],
            note: '',
          },
        },
      ],
    });
  return (
    <Paper withBorder p="xs">
      <Stack gap="xs">
        <Group align="flex-end" wrap="nowrap" gap="xs">
          <PieceForm
            draft={piece.draft}
            onChange={(draft) => onChange({ ...piece, draft })}
            faults={faultsOf(faults, piece.id)}
            isTried={isTried}
          />
          <Button
            size="compact-sm"
            mb={5}
            variant="light"
            onClick={addTreatment}
            aria-label={`Treat ${name}`}
          >
            Treat
          </Button>
          <ActionIcon
            variant="subtle"
            color="gray"
            mb={4}
            aria-label={`Leave out piece ${name}`}
            onClick={onRemove}
          >
            ×
          </ActionIcon>
        </Group>
        {treatments.map((treatment) => (
          <Stack
            key={treatment.id}
            gap="xs"
            pl="sm"
            style={{ borderLeft: '3px solid var(--mantine-color-default-border)' }}
          >
            <TreatmentForm
              draft={treatment.draft}
              onChange={(draft) =>
                onChange({
                  ...piece,
                  treatments: treatments.map((each) =>
                    each.id === treatment.id ? { ...each, draft } : each,
                  ),
                })
              }
              faults={faultsOf(faults, treatment.id)}
              isTried={isTried}
              known={view.treatments}
            />
            <Group justify="flex-end">
              <Button
                size="compact-xs"
                variant="subtle"
                color="gray"
                onClick={() =>
                  onChange({ ...piece, treatments: treatments.filter(({ id }) => id !== treatment.id) })
                }
              >
                Leave this treatment out
              </Button>
            </Group>
          </Stack>
        ))}
      </Stack>
    </Paper>
  );
}

interface SittingFilmProps extends PartProps {
  sitting: Sitting;
  film: FilmEntry;
  onChange: (film: FilmEntry) => void;
  /** null: it is the only one */
  onRemove: (() => void) | null;
}

/** One film of a sitting with its pieces and what was done to them. */
export function SittingFilm({ sitting, film, onChange, onRemove, ...part }: SittingFilmProps) {
  const { faults, isTried, view } = part;
  const [count, setCount] = useState(4);
  const name = filmLabel(sitting, film);
  const isOnly = sitting.films.length === 1 && sitting.origin === 'run';
  const taken = view.pieces.map(({ body }) => body.label);
  return (
    <Paper withBorder p="sm">
      <Stack gap="xs">
        <Group justify="space-between">
          <Text fw={600} style={{ overflowWrap: 'anywhere' }}>
            Film {name}
          </Text>
          {onRemove ? (
            <Button size="compact-xs" variant="subtle" color="gray" onClick={onRemove}>
              Leave this film out
            </Button>
          ) : null}
        </Group>
        <FilmForm
          draft={film.draft}
          onChange={(draft) => onChange({ ...film, draft })}
          faults={faultsOf(faults, film.id)}
          isTried={isTried}
          nameOtherwise={isOnly ? name : ''}
        />
        {film.pieces.map((piece) => (
          <SittingPiece
            key={piece.id}
            {...part}
            piece={piece}
            onChange={(changed) =>
              onChange({
                ...film,
                pieces: film.pieces.map((each) => (each.id === piece.id ? changed : each)),
              })
            }
            onRemove={() => onChange({ ...film, pieces: film.pieces.filter(({ id }) => id !== piece.id) })}
          />
        ))}
        <Group align="flex-end" gap="xs">
          <NumberInput
            label="Cut into"
            size="xs"
            w={90}
            min={1}
            max={MOST_PIECES_AT_ONCE}
            clampBehavior="strict"
            allowDecimal={false}
            value={count}
            onChange={(value) => typeof value === 'number' && setCount(value)}
          />
          <Button
            size="xs"
            variant="light"
            onClick={() => onChange(cutIntoPieces(sitting, film, count, newId, taken))}
          >
            {film.pieces.length === 0
              ? `Name ${count} ${count === 1 ? 'piece' : 'pieces'}`
              : `Add ${count} more`}
          </Button>
          <Text size="xs" c="dimmed" pb={6}>
            {film.pieces.length === 0 ? 'A film that is measured uncut is one piece.' : ''}
          </Text>
        </Group>
      </Stack>
    </Paper>
  );
}
