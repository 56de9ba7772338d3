import { SimpleGrid, TextInput } from '@mantine/core';
import type { PieceDraft } from '../../drafts/film-draft.ts';
import { type FormProps, textFields } from './fields.ts';

/** A piece: its name and its full sides in the plane. */
export function PieceForm(props: FormProps<PieceDraft>) {
  const field = textFields(props);
  return (
    <SimpleGrid cols={{ base: 2, sm: 4 }} spacing="sm" verticalSpacing="xs" style={{ flex: 1 }}>
      <TextInput {...field('label', 'Name of the piece')} required maxLength={200} />
      <TextInput {...field('lengthMm', 'Length, mm')} inputMode="decimal" />
      <TextInput {...field('widthMm', 'Width, mm')} inputMode="decimal" />
      <TextInput {...field('note', 'Note')} maxLength={20_000} />
    </SimpleGrid>
  );
}
