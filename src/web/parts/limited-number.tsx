import { TextInput, type TextInputProps } from '@mantine/core';
import { useState } from 'react';
import { type Limits, numberText, readNumber } from '../drafts/typed-numbers.ts';

interface LimitedNumberProps extends Pick<TextInputProps, 'label' | 'w' | 'placeholder' | 'description'> {
  /** '' is not stated */
  value: number | '';
  limits: Limits;
  /** what an arrow key adds or takes away; 1 if left out */
  step?: number;
  /** called with a number within the limits, or undefined where the field was emptied */
  onChange: (value: number | undefined) => void;
}

/** A number that is refused in words outside its limits, where it stays as typed and changes nothing. */
export function LimitedNumber({ value, limits, step = 1, onChange, ...rest }: LimitedNumberProps) {
  // the text as typed holds until the number is set elsewhere, by a slider say
  const [typed, setTyped] = useState<{ text: string; at: (number | '')[] } | null>(null);
  const standing = typed?.at.includes(value) ? typed : null;
  const shown = standing ? standing.text : value === '' ? '' : numberText(value);
  const reading = readNumber(shown, limits);
  const kept =
    value === '' ? '' : ` Still taken: ${numberText(value)}${limits.unit ? ` ${limits.unit}` : ''}.`;
  const take = (text: string): void => {
    const read = readNumber(text, limits);
    const number = 'value' in read ? read.value : undefined;
    // an emptied field may leave the number as it was, or not stated
    setTyped({ text, at: number === undefined ? [value] : number === null ? ['', value] : [number] });
    if (number !== undefined) onChange(number ?? undefined);
  };
  return (
    <TextInput
      {...rest}
      inputWrapperOrder={['label', 'input', 'description', 'error']}
      inputMode="decimal"
      value={shown}
      error={standing && 'fault' in reading ? reading.fault + kept : undefined}
      onChange={(event) => take(event.currentTarget.value)}
      onBlur={() => standing?.text.trim() === '' && setTyped(null)}
      onKeyDown={(event) => {
        const by = { ArrowUp: step, ArrowDown: -step }[event.key];
        if (by === undefined || value === '') return;
        event.preventDefault();
        const moved = value + by;
        const { min = Number.NEGATIVE_INFINITY, max = Number.POSITIVE_INFINITY } = limits;
        take(numberText(Math.min(max, Math.max(min, moved))));
      }}
    />
  );
}
