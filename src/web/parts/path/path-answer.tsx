import { List, Loader, Paper, Progress, Stack, Text, Title } from '@mantine/core';
import type { AskedLiquid } from '../../path/path-liquid.ts';
import type { PathAnswer } from '../../path/path-request.ts';
import { chamberSentences, courseSentence, liquidSentences, otherRemarks } from '../../path/path-words.ts';
import { type Reading, readingText } from '../../reading.ts';
import { Disclosure } from '../disclosure.tsx';
import { ProblemNotice } from '../problem-notice.tsx';

export interface ReadLiquid extends AskedLiquid {
  readonly reading: Reading;
}

interface PathAnswerPartProps {
  answer: PathAnswer | null;
  error: Error | null;
  /** liquid in each reading; empty where no film ratio is stated */
  readings: readonly ReadLiquid[];
  hasChamber: boolean;
  /** steps that can be read, and all of them */
  readCount: number;
  stepCount: number;
}

/** What the path does, first and large. */
export function PathAnswerPart(props: PathAnswerPartProps) {
  const { answer, error, readings, hasChamber, readCount, stepCount } = props;
  const chamber = answer ? chamberSentences(answer) : [];
  const flags = [...(answer?.flags ?? []), ...readings.flatMap(({ liquid }) => liquid?.flags ?? [])];
  const remarks = answer ? [...new Set(otherRemarks(flags))] : [];
  const isBusy = readings.some(({ isRunning }) => isRunning);
  return (
    <Paper withBorder p="md" component="section" aria-label="What the path does" aria-busy={isBusy}>
      {error ? <ProblemNotice error={error} /> : null}
      {answer ? (
        <Stack gap="xs">
          <Text size="xl" fw={600}>
            {courseSentence(answer)}
          </Text>
          {readings.length === 0 ? (
            <Text size="lg">State the film's cation ratio to hear when it holds liquid.</Text>
          ) : null}
          {readings.map(({ reading, liquid, isRunning, progress, error: failure }) => (
            <div key={readingText(reading)}>
              <Title order={2} fz="sm" c="dimmed" fw={600}>
                Read as {readingText(reading)}
              </Title>
              {liquid ? (
                liquidSentences(answer, liquid).map((sentence) => (
                  <Text key={sentence} size="lg">
                    {sentence}
                  </Text>
                ))
              ) : failure ? null : isRunning ? (
                <Text size="sm" c="dimmed">
                  Asking for liquid along the path ...
                </Text>
              ) : null}
              {isRunning ? (
                <Progress
                  value={progress * 100}
                  size={3}
                  aria-label={`Asking along the path, ${readingText(reading)}`}
                />
              ) : null}
              <ProblemNotice error={failure} />
            </div>
          ))}
          {chamber.length > 0 ? (
            <List size="md" aria-label="What the chamber cannot follow" spacing={2}>
              {chamber.map((sentence) => (
                <List.Item key={sentence}>{sentence}</List.Item>
              ))}
            </List>
          ) : (
            <Text size="md">
              {hasChamber
                ? 'The chamber follows this path.'
                : 'No chamber is chosen: the film is taken to follow the command.'}
            </Text>
          )}
          {readCount < stepCount ? (
            <Text size="sm" role="status">
              Said of the first {readCount} of {stepCount} steps: step {readCount + 1} cannot be read yet.
            </Text>
          ) : null}
          {remarks.length > 0 ? (
            <Disclosure title="What this rests on">
              <List size="sm">
                {remarks.map((remark) => (
                  <List.Item key={remark}>{remark}</List.Item>
                ))}
                {hasChamber ? (
                  <List.Item>
                    The chamber is one well mixed volume with a constant flow and pumping speed, the film one
                    thermal mass with one lag.
                  </List.Item>
                ) : null}
              </List>
            </Disclosure>
          ) : null}
        </Stack>
      ) : error ? null : stepCount > 0 && readCount > 0 ? (
        <Loader size="sm" aria-label="Computing the path" />
      ) : (
        <Text size="lg">The answer stands here once the start and the first step can be read.</Text>
      )}
    </Paper>
  );
}
