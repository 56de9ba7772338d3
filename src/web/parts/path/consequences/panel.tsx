import { Button, Group, List, Paper, Progress, SimpleGrid, Stack, Text, Title } from '@mantine/core';
import { type ReactNode, useEffect, useId, useState } from 'react';
import { type InputSpec, inFieldWords } from '../../../drafts/stated-inputs.ts';
import { Disclosure } from '../../disclosure.tsx';
import { ProblemNotice } from '../../problem-notice.tsx';

interface Running {
  readonly isRunning: boolean;
  readonly progress: number;
  readonly stop: () => void;
}

/** What lasts longer than this is said to run. */
const LONG_MS = 400;

/** True once something has run for longer than a blink. */
function useIsLong(isRunning: boolean): boolean {
  const [isLong, setIsLong] = useState(false);
  useEffect(() => {
    if (!isRunning) {
      setIsLong(false);
      return;
    }
    const timer = setTimeout(() => setIsLong(true), LONG_MS);
    return () => clearTimeout(timer);
  }, [isRunning]);
  return isLong;
}

/** How far a computation is, and the way to stop it. */
export function RunningLine({ run, of }: { run: Running; of: string }) {
  const isLong = useIsLong(run.isRunning);
  if (!isLong) return null;
  return (
    <Group gap="xs" wrap="nowrap">
      <Progress
        value={run.progress > 0 ? run.progress * 100 : 100}
        animated={run.progress === 0}
        size="sm"
        style={{ flex: 1 }}
        aria-label={of}
      />
      <Button size="compact-xs" variant="default" onClick={run.stop}>
        Stop
      </Button>
    </Group>
  );
}

interface RestsOnProps {
  /** the formulas and where they stand */
  formulas: readonly string[];
  flags: readonly { readonly code: string; readonly message: string }[];
  specs: readonly InputSpec[];
  children?: ReactNode;
}

/** What an answer rests on: formulas with their sources, and its remarks in words. */
export function RestsOn({ formulas, flags, specs, children }: RestsOnProps) {
  const remarks = [...new Set(flags.map(({ message }) => inFieldWords(message, specs)))];
  return (
    <Stack gap="xs" mt={4}>
      <List size="xs" spacing={4}>
        {formulas.map((formula) => (
          <List.Item key={formula}>{formula}</List.Item>
        ))}
      </List>
      {children}
      {remarks.length > 0 ? (
        <div>
          <Text size="xs" fw={600}>
            Remarks
          </Text>
          <List size="xs" spacing={4}>
            {remarks.map((remark) => (
              <List.Item key={remark}>{remark}</List.Item>
            ))}
          </List>
        </div>
      ) : null}
    </Stack>
  );
}

interface PanelProps {
  question: string;
  /** in one sentence; null while there is none */
  answer: ReactNode | null;
  /** said in place of an answer */
  waiting: string;
  run: Running;
  /** that stands at no field */
  error: Error | null;
  /** what follows from the answer, and cautions: they stand open */
  beside?: ReactNode;
  /** figure and table */
  children?: ReactNode;
  inputs?: ReactNode;
  restsOn: ReactNode;
}

/** One consequence: its question, the answer in a sentence, what shows it, what may be changed, and what it rests on. */
export function Panel({
  question,
  answer,
  waiting,
  run,
  error,
  beside,
  children,
  inputs,
  restsOn,
}: PanelProps) {
  const id = useId();
  return (
    <Paper withBorder p="md" component="section" aria-labelledby={id} aria-busy={run.isRunning}>
      <Stack gap="sm">
        <Title order={3} id={id}>
          {question}
        </Title>
        <RunningLine run={run} of={`Computing: ${question}`} />
        <div aria-live="polite">
          {answer === null ? (
            <Text size="sm" c="dimmed">
              {waiting}
            </Text>
          ) : (
            <Text fw={600}>{answer}</Text>
          )}
        </div>
        <ProblemNotice error={error} />
        {beside}
        <div>
          <Disclosure title="Numbers, and what may be changed">
            <SimpleGrid cols={{ base: 1, lg: 2 }} spacing="lg" mt="xs">
              <Stack gap="sm" style={{ minWidth: 0 }}>
                {children}
              </Stack>
              <div>{inputs}</div>
            </SimpleGrid>
          </Disclosure>
          <Disclosure title="Rests on">{restsOn}</Disclosure>
        </div>
      </Stack>
    </Paper>
  );
}
