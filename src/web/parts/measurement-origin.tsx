import { Anchor, Button, Group, List, Paper, Stack, Table, Text, Title } from '@mantine/core';
import { useRef, useState } from 'react';
import type { MeasurementView } from '../../api/contract.ts';
import { mappingText } from '../column-mapping.ts';
import { fileAddress, reduceAgain } from '../imports.ts';
import { momentText } from '../moments.ts';
import { newId, useRefresh } from '../records.ts';
import { useSayDone } from '../undo.ts';
import { ProblemNotice } from './problem-notice.tsx';
import { SettingsFields } from './settings-fields.tsx';

interface MeasurementOriginProps {
  view: MeasurementView;
  /** version of the entry as it runs now; undefined while unknown */
  versionNow: number | undefined;
}

/** Settings of the reduction, with the way to reduce again. */
export function ReductionSettings({ view }: { view: MeasurementView }) {
  const { id, body } = view.measurement;
  const [settings, setSettings] = useState(body.settings);
  const [isRunning, setRunning] = useState(false);
  const [error, setError] = useState<Error | null>(null);
  const stop = useRef<AbortController | null>(null);
  const refresh = useRefresh();
  const sayDone = useSayDone();
  const reduce = async () => {
    const controller = new AbortController();
    stop.current = controller;
    const changeId = newId();
    setRunning(true);
    setError(null);
    try {
      await reduceAgain(id, { changeId, settings }, controller.signal);
      sayDone(`Reduced ${body.fileName} again`, [changeId]);
    } catch (caught) {
      if (!controller.signal.aborted) setError(caught as Error);
    } finally {
      setRunning(false);
      await refresh();
    }
  };
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        void reduce();
      }}
    >
      <Stack gap="xs">
        <Title order={2}>Reduced with</Title>
        <SettingsFields kind={body.mapping.kind} settings={settings} onChange={setSettings} />
        <Group gap="xs">
          <Button type="submit" variant="light" loading={isRunning}>
            Reduce again
          </Button>
          {isRunning ? (
            <Button variant="subtle" color="gray" onClick={() => stop.current?.abort()}>
              Cancel
            </Button>
          ) : null}
        </Group>
        <ProblemNotice error={error} />
      </Stack>
    </form>
  );
}

/** Where the numbers came from: the raw file, how it was read, and what reduced it. */
export function MeasurementOrigin({ view, versionNow }: MeasurementOriginProps) {
  const { body } = view.measurement;
  const analysis = view.analysis?.body;
  const madeWith = analysis ? `${analysis.computation}, version ${analysis.version}` : 'not reduced';
  const isOlder = analysis !== undefined && versionNow !== undefined && versionNow !== analysis.version;
  const rows: [string, React.ReactNode][] = [
    [
      'File',
      <>
        <Anchor key="file" inherit href={fileAddress(body.fileSha256)} download={body.fileName}>
          {body.fileName}
        </Anchor>
        , {body.fileBytes.toLocaleString('en')} bytes
      </>,
    ],
    ['SHA-256', body.fileSha256],
    ['Read by', `${body.reader.name}, version ${body.reader.version}; ${body.columns.rows} rows`],
    ['Columns', mappingText(body.mapping)],
    [
      'Reduced by',
      `${madeWith}${view.isStale ? (isOlder ? `; now version ${versionNow}` : '; what it rests on has changed since') : ''}`,
    ],
    ['Recorded', `${momentText(view.measurement.createdAt)} by ${view.measurement.by}`],
  ];
  return (
    <Paper withBorder p="sm" component="section" aria-label="Where this came from">
      <Title order={2} mb={4}>
        Where this came from
      </Title>
      <Table verticalSpacing={3} layout="fixed">
        <Table.Tbody>
          {rows.map(([label, value]) => (
            <Table.Tr key={label}>
              <Table.Th w="8rem" fw={400}>
                {label}
              </Table.Th>
              <Table.Td style={{ overflowWrap: 'anywhere' }}>{value}</Table.Td>
            </Table.Tr>
          ))}
        </Table.Tbody>
      </Table>
      {body.warnings.length > 0 ? (
        <>
          <Text size="sm" fw={600} mt="xs">
            Said while reading
          </Text>
          <List size="sm">
            {body.warnings.map((warning) => (
              <List.Item key={warning}>{warning}</List.Item>
            ))}
          </List>
        </>
      ) : null}
    </Paper>
  );
}
