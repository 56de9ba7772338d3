import { SimpleGrid, Stack, Textarea, TextInput } from '@mantine/core';
import type { FilmDraft } from '../../drafts/film-draft.ts';
import { Disclosure } from '../disclosure.tsx';
import { type FormProps, textFields } from './fields.ts';

interface FilmFormProps extends FormProps<FilmDraft> {
  /** name taken where the field stays empty */
  nameOtherwise?: string;
  isRateShown?: boolean;
}

/** A film: on what, where it lay, and what is known of it. */
export function FilmForm(props: FilmFormProps) {
  const field = textFields(props);
  const { draft, nameOtherwise = '', isRateShown = false } = props;
  const rates = (
    <SimpleGrid cols={{ base: 2, sm: 4 }} spacing="sm" verticalSpacing="xs">
      <TextInput {...field('depositionRateNmPerS', 'Deposition rate, nm/s')} />
      <TextInput {...field('conversionRateNmPerS', 'Conversion rate, nm/s')} />
      <TextInput {...field('overallRateNmPerS', 'Overall rate, nm/s')} />
      <TextInput {...field('cations', 'Film ratio, if not the target’s')} placeholder="1:2:3" />
    </SimpleGrid>
  );
  return (
    <Stack gap="xs">
      <SimpleGrid cols={{ base: 2, sm: 3, lg: 5 }} spacing="sm" verticalSpacing="xs">
        <TextInput
          {...field('label', 'Name of the film')}
          placeholder={nameOtherwise}
          required={nameOtherwise === ''}
          maxLength={200}
        />
        <TextInput {...field('substrate', 'Substrate')} required maxLength={200} />
        <TextInput {...field('substrateLot', 'Substrate lot')} maxLength={100} />
        <TextInput {...field('position', 'Position')} placeholder="on the heater" maxLength={100} />
        <TextInput {...field('thicknessNm', 'Thickness, nm')} placeholder="500 ± 20" />
      </SimpleGrid>
      {isRateShown ? (
        rates
      ) : (
        <Disclosure
          title="Rates, ratio, note"
          isOpenAtFirst={
            draft.depositionRateNmPerS + draft.conversionRateNmPerS + draft.overallRateNmPerS !== ''
          }
        >
          {rates}
          <Textarea {...field('note', 'Note')} autosize minRows={1} mt="xs" maxLength={20_000} />
        </Disclosure>
      )}
      {isRateShown ? <Textarea {...field('note', 'Note')} autosize minRows={1} maxLength={20_000} /> : null}
    </Stack>
  );
}
