import { Alert, Text } from '@mantine/core';

interface Worded extends Error {
  problem?: { sentence: string; remedy: string };
  sentence?: string;
  remedy?: string;
}

/** An error in its two parts: what is wrong, and what to do next. */
export function ProblemNotice({ error }: { error: Error | null | undefined }) {
  if (!error) return null;
  const worded = error as Worded;
  const sentence = worded.problem?.sentence ?? worded.sentence ?? error.message;
  const remedy = worded.problem?.remedy ?? worded.remedy ?? '';
  return (
    <Alert color="red" variant="light" role="alert" title={sentence}>
      {remedy ? <Text size="sm">{remedy}</Text> : null}
    </Alert>
  );
}
