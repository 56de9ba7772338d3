import { Anchor, Button, Checkbox, Group, List, Loader, Progress, Stack, Table, Text } from '@mantine/core';
import { Link } from '@tanstack/react-router';
import { useState } from 'react';
import { counted } from '../../charts/number-text.ts';
import { settingsText } from '../../records/measurement-settings.ts';
import type { SeriesView } from '../../records/series-view.ts';
import type { FileQueue } from '../file-queue.ts';
import { FILE_ANSWERS } from '../reading-answers.ts';
import { resultText } from '../result-line.ts';
import {
  type KindAnswers,
  mappingOf,
  openQuestions,
  outcomeOf,
  settingsOf,
  type WaitingFile,
} from '../waiting-files.ts';
import { FirstRows } from './first-rows.tsx';
import { PieceAndState } from './piece-and-state.tsx';
import { ReadingAnswerButtons } from './reading-answer-buttons.tsx';
import { SettingsFields } from './settings-fields.tsx';
import { VerdictBadge } from './verdict-badge.tsx';

interface WaitingFileRowProps {
  file: WaitingFile;
  answers: KindAnswers;
  queue: FileQueue;
  view: SeriesView;
  onTakeBack: (changeId: string) => void;
}

type RowParts = Omit<WaitingFileRowProps, 'onTakeBack'>;

function sizeText(bytes: number): string {
  if (bytes < 1000) return counted(bytes, 'byte');
  return bytes < 1_000_000 ? `${Math.round(bytes / 1000)} kB` : `${(bytes / 1_000_000).toFixed(1)} MB`;
}

const MAPPING_WORDS = {
  remembered: 'columns as remembered',
  guessed: 'columns guessed',
  unknown: 'columns unknown',
} as const;

function mappingWord({ file, answers }: Pick<RowParts, 'file' | 'answers'>): string {
  const mapping = mappingOf(file, answers);
  if (!file.look) return '';
  const isAnswered = mapping !== file.look.mapping;
  return `${mapping ? `${mapping.kind}, ` : ''}${isAnswered ? 'columns as answered' : MAPPING_WORDS[file.look.mappingIs]}`;
}

function ReadOutcome({ file, view, onTakeBack }: Pick<WaitingFileRowProps, 'file' | 'view' | 'onTakeBack'>) {
  const { result, look } = file;
  if (!result || !look) return null;
  const seriesId = view.series.id;
  const filmId = view.pieces.find(({ id }) => id === result.pieceId)?.body.filmId;
  const kind = view.measurements.find(({ id }) => id === result.measurementId)?.body.mapping.kind;
  const line = kind ? resultText(kind, result.facts) : 'no number could be given';
  const after = outcomeOf(view, result.pieceId, result.stateTreatmentId);
  return (
    <Stack gap={4}>
      {result.failure ? (
        <Text size="sm">Kept, but no number was read: {result.failure.message}</Text>
      ) : (
        <Text size="sm" className="number">
          Kept: {line}
        </Text>
      )}
      <Group gap="xs">
        {result.before && after && result.before !== after ? (
          <>
            <VerdictBadge outcome={result.before} />
            <Text size="sm" span aria-label="is now">
              →
            </Text>
          </>
        ) : null}
        {after ? <VerdictBadge outcome={after} /> : null}
        {result.flagCount > 0 ? (
          <Text size="sm" c="dimmed">
            {result.flagCount} {result.flagCount === 1 ? 'remark' : 'remarks'}
          </Text>
        ) : null}
        <Anchor
          size="sm"
          renderRoot={(props) => (
            <Link
              to="/series/$seriesId/measurements/$measurementId"
              params={{ seriesId, measurementId: result.measurementId }}
              {...props}
            />
          )}
        >
          Curve
        </Anchor>
        {filmId ? (
          <Anchor
            size="sm"
            renderRoot={(props) => (
              <Link to="/series/$seriesId/films/$filmId" params={{ seriesId, filmId }} {...props} />
            )}
          >
            Film
          </Anchor>
        ) : null}
        <Button
          size="compact-xs"
          variant="subtle"
          color="gray"
          aria-label={`Take back ${file.fileName}`}
          onClick={() => onTakeBack(result.changeId)}
        >
          Take back
        </Button>
      </Group>
    </Stack>
  );
}

function Sending({ file, queue }: Pick<RowParts, 'file' | 'queue'>) {
  return (
    <Group gap="xs" wrap="nowrap">
      <Progress
        value={file.step === 'sending' ? file.sentShare * 100 : 100}
        animated={file.step === 'looking'}
        aria-label={`${file.fileName} sent`}
        style={{ flex: 1 }}
      />
      <Text size="xs" c="dimmed">
        {file.step === 'sending' ? 'sending' : 'looking'}
      </Text>
      <Button
        size="compact-xs"
        variant="subtle"
        color="gray"
        aria-label={`Cancel ${file.fileName}`}
        onClick={() => queue.cancel(file.key)}
      >
        Cancel
      </Button>
    </Group>
  );
}

function TakeOffTheList({ file, queue }: Pick<RowParts, 'file' | 'queue'>) {
  return (
    <Button
      size="compact-xs"
      variant="subtle"
      color="gray"
      aria-label={`Take ${file.fileName} off the list`}
      onClick={() => queue.forget([file.key])}
    >
      Take off the list
    </Button>
  );
}

function Refused({ file, queue }: Pick<RowParts, 'file' | 'queue'>) {
  const { problem } = file;
  return (
    <Stack gap={4}>
      <div role="alert">
        <Text size="sm" c="var(--mantine-color-error)" style={{ overflowWrap: 'anywhere' }}>
          {problem ? problem.sentence : 'Cancelled. Nothing of it was kept.'}
        </Text>
        {problem?.remedy && !problem.sentence.endsWith(problem.remedy) ? (
          <Text size="sm">{problem.remedy}</Text>
        ) : null}
      </div>
      <Group gap="xs">
        <ReadingAnswerButtons
          answers={FILE_ANSWERS[problem?.code ?? '']}
          fileName={file.fileName}
          onAnswer={(reading) => queue.retry(file.key, reading)}
        />
        <Button
          size="compact-xs"
          variant="light"
          aria-label={`Try ${file.fileName} again`}
          onClick={() => queue.retry(file.key)}
        >
          Try again
        </Button>
        <TakeOffTheList file={file} queue={queue} />
      </Group>
    </Stack>
  );
}

function Waiting({ file, answers, queue }: Omit<RowParts, 'view'>) {
  const questions = openQuestions(file, answers);
  return (
    <Stack gap={4}>
      {questions.length === 0 ? (
        <Text size="sm">Ready</Text>
      ) : (
        <List size="sm" listStyleType="none">
          {questions.map(({ about, sentence }) => (
            <List.Item key={sentence}>
              {sentence}
              {about === 'kind' ? ' Answer above, once for its kind.' : ''}
            </List.Item>
          ))}
        </List>
      )}
      {file.readBefore ? (
        <Checkbox
          size="xs"
          label="Read it a second time"
          aria-label={`Read ${file.fileName} a second time`}
          checked={file.isReadAgain}
          onChange={(event) => queue.readTwice(file.key, event.currentTarget.checked)}
        />
      ) : null}
      <Group gap="xs">
        <TakeOffTheList file={file} queue={queue} />
      </Group>
    </Stack>
  );
}

function Outcome(props: WaitingFileRowProps) {
  const { file } = props;
  switch (file.step) {
    case 'sending':
    case 'looking':
      return <Sending {...props} />;
    case 'waiting':
      return <Waiting {...props} />;
    case 'reading':
      return (
        <Group gap="xs">
          <Loader size="xs" /> <Text size="sm">Reading ...</Text>
        </Group>
      );
    case 'read':
      return <ReadOutcome {...props} />;
    case 'failed':
    case 'cancelled':
      return <Refused {...props} />;
  }
}

/** What stands in a file beside its numbers, and what is stated for this file alone. */
function Details({ file, answers, queue }: Omit<RowParts, 'view'>) {
  const { look } = file;
  const mapping = mappingOf(file, answers);
  if (!look) return null;
  return (
    <Stack gap="sm" py="xs">
      {mapping ? (
        <SettingsFields
          kind={mapping.kind}
          settings={file.ownSettings}
          otherwise={settingsOf({ ...file, ownSettings: {} }, answers)}
          onChange={(settings) => queue.stateSettings(file.key, settings)}
        />
      ) : null}
      {look.blocks.map((block, i) => (
        <FirstRows key={block.shape + String(i)} block={block} takenAs={() => ''} />
      ))}
      {look.headerLines.length > 0 ? (
        <Text size="xs" c="dimmed" style={{ whiteSpace: 'pre-wrap', overflowWrap: 'anywhere' }}>
          {look.headerLines.slice(0, 20).join('\n')}
        </Text>
      ) : null}
      {look.warnings.map((warning) => (
        <Text size="sm" key={warning}>
          {warning}
        </Text>
      ))}
    </Stack>
  );
}

/** One dropped file: what it is, of which piece, and what became of it. */
export function WaitingFileRow(props: WaitingFileRowProps) {
  const { file, answers, queue, view } = props;
  const [isOpen, setOpen] = useState(false);
  const mapping = mappingOf(file, answers);
  const stated = mapping ? settingsText(mapping.kind, settingsOf(file, answers)) : '';
  const canChange = file.step === 'waiting';
  return (
    <>
      <Table.Tr>
        <Table.Td style={{ overflowWrap: 'anywhere', verticalAlign: 'top' }}>
          <Text size="sm" fw={600} span>
            {file.fileName}
          </Text>
          {canChange ? (
            <Button
              size="compact-xs"
              variant="subtle"
              aria-expanded={isOpen}
              aria-label={`${isOpen ? 'Close' : 'Look into'} ${file.fileName}`}
              onClick={() => setOpen(!isOpen)}
            >
              {isOpen ? 'Close' : 'Look inside'}
            </Button>
          ) : null}
          <Text size="xs" c="dimmed">
            {[sizeText(file.bytes), mappingWord(props)].filter(Boolean).join(', ')}
            {stated ? `; ${stated}` : ''}
          </Text>
        </Table.Td>
        <Table.Td style={{ verticalAlign: 'top' }}>
          {file.look ? <PieceAndState file={file} view={view} queue={queue} isFixed={!canChange} /> : null}
        </Table.Td>
        <Table.Td style={{ verticalAlign: 'top' }}>
          <Outcome {...props} />
        </Table.Td>
      </Table.Tr>
      {isOpen && canChange ? (
        <Table.Tr>
          <Table.Td colSpan={3}>
            <Details file={file} answers={answers} queue={queue} />
          </Table.Td>
        </Table.Tr>
      ) : null}
    </>
  );
}
