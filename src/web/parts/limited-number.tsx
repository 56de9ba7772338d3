import { NumberInput, type NumberInputProps } from '@mantine/core';
import { useState } from 'react';
import { type Limits, readNumber } from '../drafts/typed-numbers.ts';

interface LimitedNumberProps
  extends Pick<NumberInputProps, 'label' | 'w' | 'step' | 'placeholder' | 'hideControls'> {
  /** '' is not stated */
  value: number | '';
  limits: Limits;
  /** called with a number within the limits, or undefined where the field was emptied */
  onChange: (value: number | undefined) => void;
  description?: string | undefined;
}

/** A number that is refused in words outside its limits, where it stays as typed and changes nothing. */
export function LimitedNumber({ value, limits, onChange, description, ...rest }: LimitedNumberProps) {
  // the text as typed holds until the number is set elsewhere, by a slider say
  const [typed, setTyped] = useState<{ text: string | number; at: number | '' } | null>(null);
  const standing = typed && typed.at === value ? typed : null;
  const reading = standing ? readNumber(String(standing.text), limits) : null;
  const fault = reading && 'fault' in reading ? reading.fault : undefined;
  const kept = value === '' ? '' : ` Still taken: ${value}${limits.unit ? ` ${limits.unit}` : ''}.`;
  return (
    <NumberInput
      {...rest}
      {...(description === undefined ? {} : { description })}
      inputWrapperOrder={['label', 'input', 'description', 'error']}
      clampBehavior="none"
      allowedDecimalSeparators={[',', '.']}
      {...(limits.min === undefined ? {} : { min: limits.min })}
      {...(limits.max === undefined ? {} : { max: limits.max })}
      value={standing ? standing.text : value}
      error={fault && fault + kept}
      onChange={(text) => {
        const read = readNumber(String(text), limits);
        const isRead = 'value' in read;
        setTyped({ text, at: isRead ? (read.value ?? '') : value });
        if (isRead) onChange(read.value ?? undefined);
      }}
    />
  );
}
