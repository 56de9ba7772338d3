import { Checkbox, SimpleGrid, Stack, TextInput } from '@mantine/core';
import type { LiteraturePoint, StoredRecord } from '../../../records/kinds.ts';
import {
  EMPTY_LITERATURE,
  type LiteratureDraft,
  literatureDraftOf,
  readLiterature,
} from '../../drafts/literature-draft.ts';
import { createRecord, newId, reviseRecord } from '../../records.ts';
import { useSayDone } from '../../undo.ts';
import { type FormProps, shownFault, textFields } from './fields.ts';
import { PressureField } from './pressure-field.tsx';
import { RecordEditor } from './record-editor.tsx';

/** One published point: where, what stood there, and who says so. */
function LiteratureForm(props: FormProps<LiteratureDraft> & { twin: LiteraturePoint | undefined }) {
  const { draft, onChange, twin } = props;
  const field = textFields(props);
  return (
    <Stack gap="xs">
      <SimpleGrid cols={{ base: 1, sm: 3 }} spacing="sm" verticalSpacing="xs">
        <TextInput {...field('label', 'Name of the point')} required maxLength={200} />
        <TextInput {...field('temperatureC', 'Temperature, °C')} required inputMode="decimal" />
        <PressureField
          label="Oxygen pressure"
          value={draft.po2}
          unit={draft.po2Unit}
          error={shownFault(props, 'po2', draft.po2)}
          onChange={(po2, po2Unit) => onChange({ ...draft, po2, po2Unit })}
        />
        <TextInput {...field('phases', 'Phases there')} required placeholder="123 + liquid" maxLength={300} />
        <TextInput
          {...field('source', 'Source')}
          required
          placeholder="authors, journal, year, page"
          maxLength={500}
        />
        <TextInput {...field('note', 'Note')} maxLength={20_000} />
      </SimpleGrid>
      {twin ? (
        <Checkbox
          label={`Both are meant: '${twin.label}' of ${twin.source} stands at the same place with the same phases`}
          checked={draft.isTwinMeant}
          error={shownFault(props, 'isTwinMeant', '')}
          onChange={(event) => onChange({ ...draft, isTwinMeant: event.currentTarget.checked })}
        />
      ) : null}
    </Stack>
  );
}

interface LiteratureEditorProps {
  seriesId: string;
  /** null: a new one */
  point: StoredRecord<'literaturePoint'> | null;
  all: readonly StoredRecord<'literaturePoint'>[];
  /** what a new one begins with */
  initial?: Partial<LiteratureDraft>;
  onClose: () => void;
}

export function LiteratureEditor({ seriesId, point, all, initial, onClose }: LiteratureEditorProps) {
  const announce = useSayDone();
  const others = all.filter(({ id }) => id !== point?.id).map(({ body }) => body);
  return (
    <RecordEditor
      of={point ? `Point ${point.body.label}` : 'New published point'}
      initial={point ? literatureDraftOf(point.body) : { ...EMPTY_LITERATURE, ...initial }}
      {...(point ? { revision: point.revision } : {})}
      read={(draft) => readLiterature(draft, others)}
      form={(form) => <LiteratureForm {...form} twin={readLiterature(form.draft, others).twin} />}
      save={async (body) => {
        const changeId = newId();
        if (point) await reviseRecord(point, body, changeId);
        else await createRecord({ kind: 'literaturePoint', seriesId, body, changeId });
        announce(`${point ? 'Changed' : 'Added'} point ${body.label}.`, [changeId]);
      }}
      onClose={onClose}
    />
  );
}
