import { SimpleGrid, TextInput } from '@mantine/core';
import { type InputSpec, type InputTexts, usualText } from '../../../drafts/stated-inputs.ts';
import type { Faults } from '../../../drafts/typed-numbers.ts';

interface InputFieldsProps {
  specs: readonly InputSpec[];
  texts: InputTexts;
  faults: Faults;
  onChange: (texts: InputTexts) => void;
  columns?: number;
}

/** Inputs that may be stated; an empty one shows what is taken instead and where that comes from. */
export function InputFields({ specs, texts, faults, onChange, columns = 2 }: InputFieldsProps) {
  return (
    <SimpleGrid cols={{ base: 1, xs: columns }} spacing="sm" verticalSpacing="xs">
      {specs.map((spec) => {
        const text = texts[spec.key] ?? '';
        const usual = usualText(spec);
        const isOwn = text.trim() !== '';
        return (
          <TextInput
            key={spec.key}
            size="xs"
            label={spec.label}
            value={text}
            placeholder={usual === '' ? 'not stated' : usual}
            description={isOwn && usual !== '' ? `yours; ${usual}: ${spec.from}` : spec.from}
            inputWrapperOrder={['label', 'input', 'description', 'error']}
            inputMode={spec.isBare ? 'decimal' : undefined}
            error={faults[spec.key]}
            onChange={(event) => onChange({ ...texts, [spec.key]: event.currentTarget.value })}
          />
        );
      })}
    </SimpleGrid>
  );
}
