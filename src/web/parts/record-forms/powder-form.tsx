import { SimpleGrid, Textarea, TextInput } from '@mantine/core';
import type { SeriesView } from '../../../records/series-view.ts';
import { EMPTY_POWDER, type PowderDraft, powderDraftOf, readPowder } from '../../drafts/powder-draft.ts';
import { createRecord, newId, reviseRecord } from '../../records.ts';
import { useSayDone } from '../../undo.ts';
import { type FormProps, textFields } from './fields.ts';
import { RecordEditor } from './record-editor.tsx';

function PowderForm(props: FormProps<PowderDraft>) {
  const field = textFields(props);
  return (
    <>
      <SimpleGrid cols={{ base: 1, sm: 3 }} spacing="sm" verticalSpacing="xs">
        <TextInput {...field('formula', 'Formula')} required placeholder="Ba(OH)2" maxLength={100} />
        <TextInput {...field('label', 'Name')} required placeholder="barium hydroxide" maxLength={200} />
        <TextInput {...field('drying', 'Drying')} placeholder="120 °C, 2 h" maxLength={300} />
        <TextInput {...field('hazardCodes', 'Hazard codes')} placeholder="H302, H314" maxLength={200} />
        <TextInput
          {...field('source', 'Where codes and caution stand')}
          placeholder="supplier's safety data sheet, 2026-01"
          maxLength={300}
        />
        <TextInput {...field('note', 'Note')} maxLength={20_000} />
      </SimpleGrid>
      <Textarea {...field('caution', 'Caution')} autosize minRows={1} maxLength={500} />
    </>
  );
}

interface PowderEditorProps {
  /** null: a new one */
  powder: SeriesView['powders'][number] | null;
  all: SeriesView['powders'];
  onClose: () => void;
}

/** Adds a powder to the library that all series share, or changes one. */
export function PowderEditor({ powder, all, onClose }: PowderEditorProps) {
  const announce = useSayDone();
  const others = all.filter(({ id }) => id !== powder?.id);
  return (
    <RecordEditor
      of={powder ? `Powder ${powder.body.label}` : 'New powder'}
      initial={powder ? powderDraftOf(powder.body) : EMPTY_POWDER}
      {...(powder ? { revision: powder.revision } : {})}
      read={(draft) => readPowder(draft, others)}
      form={(form) => <PowderForm {...form} />}
      save={async (body) => {
        const changeId = newId();
        if (powder) await reviseRecord(powder, body, changeId);
        else await createRecord({ kind: 'powder', seriesId: null, body, changeId });
        announce(`${powder ? 'Changed' : 'Added'} powder ${body.label}.`, [changeId]);
      }}
      onClose={onClose}
    />
  );
}
