import { NativeSelect, SimpleGrid, Stack, TextInput } from '@mantine/core';
import { useMemo } from 'react';
import type { SeriesView } from '../../../records/series-view.ts';
import { type SegmentDraft, segmentDraftOf } from '../../drafts/segment-rows.ts';
import { readTreatment, type TreatmentDraft } from '../../drafts/treatment-draft.ts';
import { newId } from '../../records.ts';
import { Cautions, workCautions } from '../cautions.tsx';
import { Disclosure } from '../disclosure.tsx';
import { PathFigure } from '../path-figure.tsx';
import { type FormProps, textFields } from './fields.ts';
import { SegmentRows } from './segment-rows.tsx';

interface TreatmentFormProps extends FormProps<TreatmentDraft> {
  /** paths that may be copied from */
  known: SeriesView['treatments'];
}

/** A heat and gas path, a step a row, drawn while it is typed. */
export function TreatmentForm(props: TreatmentFormProps) {
  const { draft, onChange, faults, known } = props;
  const field = textFields(props);
  const setRows = (segments: SegmentDraft[]) => onChange({ ...draft, segments });
  const { readable } = useMemo(() => readTreatment(draft, ''), [draft]);
  return (
    <Stack gap="xs">
      <SimpleGrid cols={{ base: 2, sm: 4 }} spacing="sm" verticalSpacing="xs">
        <TextInput {...field('label', 'Name of the treatment')} required maxLength={200} />
        <TextInput {...field('startedAt', 'Started, local time')} type="datetime-local" />
        <TextInput {...field('note', 'Note')} maxLength={20_000} />
        <NativeSelect
          label="Copy the steps of"
          value=""
          disabled={known.length === 0}
          data={[
            { value: '', label: known.length === 0 ? 'no path yet' : 'choose a path' },
            ...known.map(({ id, body }) => ({ value: id, label: body.label })),
          ]}
          onChange={(event) => {
            const from = known.find(({ id }) => id === event.currentTarget.value);
            if (from) setRows(from.body.segments.map((segment) => segmentDraftOf(segment, newId())));
          }}
        />
      </SimpleGrid>
      <SegmentRows rows={draft.segments} onChange={setRows} faults={faults} isTried={props.isTried} />
      {readable.length > 0 ? (
        <PathFigure title={draft.label || 'Heat and gas path'} segments={readable} />
      ) : null}
      <Disclosure title="Cautions for this work: furnace, pressurised oxygen">
        <Cautions cautions={workCautions(['furnace', 'oxygen'])} />
      </Disclosure>
    </Stack>
  );
}
