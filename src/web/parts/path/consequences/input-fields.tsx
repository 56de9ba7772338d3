import { SimpleGrid, TextInput } from '@mantine/core';
import { type InputSpec, type InputTexts, usualText } from '../../../drafts/stated-inputs.ts';
import type { Faults } from '../../../drafts/typed-numbers.ts';
import { Disclosure } from '../../disclosure.tsx';

interface InputFieldsProps {
  specs: readonly InputSpec[];
  texts: InputTexts;
  faults: Faults;
  onChange: (texts: InputTexts) => void;
}

/** Inputs that may be stated; an empty one shows what is taken instead and where that comes from. */
export function InputFields({ specs, ...rest }: InputFieldsProps) {
  const rare = specs.filter(({ isRare }) => isRare);
  return (
    <div>
      <FieldGrid specs={specs.filter(({ isRare }) => !isRare)} {...rest} />
      {rare.length > 0 ? (
        <Disclosure
          title="More inputs"
          isOpenAtFirst={rare.some(({ key }) => (rest.texts[key] ?? '') !== '')}
        >
          <FieldGrid specs={rare} {...rest} />
        </Disclosure>
      ) : null}
    </div>
  );
}

function FieldGrid({ specs, texts, faults, onChange }: InputFieldsProps) {
  return (
    <SimpleGrid cols={{ base: 1, xs: 2 }} spacing="sm" verticalSpacing="xs">
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
            description={isOwn && usual !== '' ? `yours; else ${usual}, ${spec.from}` : spec.from}
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
