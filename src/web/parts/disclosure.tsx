import { Collapse, UnstyledButton } from '@mantine/core';
import { type ReactNode, useId, useState } from 'react';

interface DisclosureProps {
  title: ReactNode;
  children: ReactNode;
  isOpenAtFirst?: boolean;
}

/** What opens on demand: a line that says what lies under it. */
export function Disclosure({ title, children, isOpenAtFirst = false }: DisclosureProps) {
  const [isOpen, setIsOpen] = useState(isOpenAtFirst);
  const id = useId();
  return (
    <div>
      <UnstyledButton
        fz="sm"
        fw={500}
        py={4}
        aria-expanded={isOpen}
        aria-controls={id}
        onClick={() => setIsOpen(!isOpen)}
      >
        <span aria-hidden="true">{isOpen ? '▾' : '▸'}</span> {title}
      </UnstyledButton>
      <Collapse expanded={isOpen} id={id}>
        {isOpen ? children : null}
      </Collapse>
    </div>
  );
}
