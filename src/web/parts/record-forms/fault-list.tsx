import { Alert, List } from '@mantine/core';
import { useEffect, useRef } from 'react';

interface FaultListProps {
  /** sentences that name the field, what was found and what was expected */
  sentences: readonly string[];
  /** counts attempts: at each, the first field at fault takes the focus */
  attempts: number;
}

/** Why a form was not kept: all faults together; what was typed stays. */
export function FaultList({ sentences, attempts }: FaultListProps) {
  const focused = useRef(0);
  const hasFaults = sentences.length > 0;
  useEffect(() => {
    if (attempts === focused.current || !hasFaults) return;
    focused.current = attempts;
    document.querySelector<HTMLElement>('main [aria-invalid="true"]')?.focus();
  }, [attempts, hasFaults]);
  if (!hasFaults || attempts === 0) return null;
  return (
    <Alert color="red" variant="light" role="alert" title="Not kept yet; nothing typed is lost.">
      <List size="sm">
        {sentences.map((sentence) => (
          <List.Item key={sentence}>{sentence}</List.Item>
        ))}
      </List>
    </Alert>
  );
}
