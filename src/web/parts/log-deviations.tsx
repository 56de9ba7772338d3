import { List, Stack, Text, Title } from '@mantine/core';
import { logDeviationSentences } from '../../charts/measurement/chamber-log.ts';

/** What a chamber log did otherwise than its treatment says, in sentences. */
export function LogDeviations({ response }: { response: unknown }) {
  const sentences = logDeviationSentences(response);
  return (
    <Stack gap={4}>
      <Title order={2} size="h3">
        What went otherwise than planned?
      </Title>
      {sentences === null ? (
        <Text>No treatment is recorded before this state, so there is no plan to lay the log over.</Text>
      ) : sentences.length === 0 ? (
        <Text fw={600}>Nothing that matters: the log follows the treatment.</Text>
      ) : (
        <List spacing={4}>
          {sentences.map((sentence) => (
            <List.Item key={sentence}>{sentence}</List.Item>
          ))}
        </List>
      )}
    </Stack>
  );
}
