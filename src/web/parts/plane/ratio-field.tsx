import { TextInput } from '@mantine/core';
import { useEffect, useState } from 'react';
import { ratioText } from '../../../charts/trade-text.ts';
import type { CationRatio } from '../../../records/common.ts';
import { readRatio } from '../../compositions.ts';

interface RatioFieldProps {
  label: string;
  cations: CationRatio;
  rareEarth: string;
  onChange: (cations: CationRatio) => void;
}

/** A cation ratio that is taken when the field is left or Enter is pressed, and refused in words beside the field. */
export function RatioField({ label, cations, rareEarth, onChange }: RatioFieldProps) {
  const shown = ratioText(cations);
  const [text, setText] = useState(shown);
  const [fault, setFault] = useState<string | null>(null);
  useEffect(() => {
    setText(shown);
    setFault(null);
  }, [shown]);
  const take = () => {
    if (text === shown) return;
    const read = readRatio(text, rareEarth);
    if ('fault' in read) setFault(read.fault);
    else onChange(read.cations);
  };
  return (
    <TextInput
      label={label}
      value={text}
      error={fault}
      onChange={(event) => {
        setText(event.currentTarget.value);
        setFault(null);
      }}
      onBlur={take}
      onKeyDown={(event) => event.key === 'Enter' && take()}
      style={{ flex: '1 1 14rem' }}
    />
  );
}
