import { Anchor, Button, Group, Stack, Text } from '@mantine/core';
import { Link } from '@tanstack/react-router';
import { useState } from 'react';
import { uncertainText } from '../../../charts/number-text.ts';
import type { CationRatio } from '../../../records/common.ts';
import type { SeriesView } from '../../../records/series-view.ts';
import { newId, removeRecord, reviseRecord, useChange } from '../../records.ts';
import { useSayDone } from '../../undo.ts';
import { ProblemNotice } from '../problem-notice.tsx';
import { CompositionEditor } from '../record-forms/composition-form.tsx';

type TypedFacts = SeriesView['typedFacts'][number];

/** `Y 1.00 ± 0.02 : Ba 1.90 ± 0.04`. */
function measuredText({ composition }: TypedFacts['body']): string {
  const { cations, standardUncertainties } = composition!;
  return Object.entries(cations)
    .map(([element, amount]) => `${element} ${uncertainText(amount, standardUncertainties[element] ?? null)}`)
    .join(' : ');
}

interface CompositionSectionProps {
  view: SeriesView;
  piece: SeriesView['pieces'][number];
  stateTreatmentId: string | null;
  /** what the film is meant to be */
  cations: CationRatio | null;
}

/** Compositions measured of a piece in a state, each with where it came from; written down and changed in place. */
export function CompositionSection({ view, piece, stateTreatmentId, cations }: CompositionSectionProps) {
  const [open, setOpen] = useState<string | null>(null);
  const { label } = piece.body;
  const here = view.typedFacts.filter(
    ({ body }) =>
      body.pieceId === piece.id && body.stateTreatmentId === stateTreatmentId && body.composition !== null,
  );
  const editor = (facts: TypedFacts | null) => (
    <CompositionEditor
      key={open}
      view={view}
      pieceId={piece.id}
      pieceLabel={label}
      stateTreatmentId={stateTreatmentId}
      facts={facts}
      cations={cations}
      onClose={() => setOpen(null)}
    />
  );
  return (
    <Stack gap={4}>
      {here.map((facts) =>
        open === facts.id ? (
          <div key={facts.id}>{editor(facts)}</div>
        ) : (
          <Measured
            key={facts.id}
            facts={facts}
            label={label}
            seriesId={view.series.id}
            onEdit={() => setOpen(facts.id)}
          />
        ),
      )}
      {open === 'new' ? editor(null) : null}
      {open === null ? (
        <Group className="no-print">
          <Button
            size="compact-xs"
            variant="light"
            aria-label={`Write down a measured composition of ${label}`}
            onClick={() => setOpen('new')}
          >
            Write down a measured composition
          </Button>
        </Group>
      ) : null}
    </Stack>
  );
}

interface MeasuredProps {
  facts: TypedFacts;
  label: string;
  seriesId: string;
  onEdit: () => void;
}

function Measured({ facts, label, seriesId, onEdit }: MeasuredProps) {
  const announce = useSayDone();
  const { composition, source, note, numbers, phases, stateTreatmentId } = facts.body;
  const remove = useChange(async () => {
    const changeId = newId();
    // other facts of the same record stay
    if (numbers.length + phases.length > 0)
      await reviseRecord(facts, { ...facts.body, composition: null }, changeId);
    else await removeRecord(facts, changeId);
    announce(`Removed the measured composition of ${label}.`, [changeId]);
  });
  const { method, standard } = composition!;
  const origin = [method, standard ? `against ${standard}` : 'without standard', 'typed', source, note];
  return (
    <>
      <Group justify="space-between" align="flex-start" gap="xs">
        <Text size="sm" className="number" style={{ overflowWrap: 'anywhere' }}>
          <Text span size="sm" fw={600}>
            Measured composition:{' '}
          </Text>
          {measuredText(facts.body)}
          <Text span size="xs" c="dimmed">
            {' '}
            {origin.filter(Boolean).join(', ')}.
          </Text>{' '}
          <Anchor
            size="xs"
            renderRoot={(props) => <Link to="/series/$seriesId/target" params={{ seriesId }} {...props} />}
          >
            {stateTreatmentId === null
              ? 'The transfer factors of the target page use it.'
              : 'The target page proposes losses in heating from it.'}
          </Anchor>
        </Text>
        <Group gap={4} className="no-print">
          <Button
            size="compact-xs"
            variant="subtle"
            onClick={onEdit}
            aria-label={`Edit the measured composition of ${label}`}
          >
            Edit
          </Button>
          <Button
            size="compact-xs"
            variant="subtle"
            color="gray"
            loading={remove.isPending}
            onClick={() => remove.mutate(undefined)}
            aria-label={`Remove the measured composition of ${label}`}
          >
            Remove
          </Button>
        </Group>
      </Group>
      <ProblemNotice error={remove.error} />
    </>
  );
}
