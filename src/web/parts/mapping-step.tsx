import { Button, Checkbox, Group, List, NativeSelect, Paper, Stack, Text, Title } from '@mantine/core';
import { useState } from 'react';
import { missingSettings } from '../../records/measurement-settings.ts';
import {
  columnText,
  draftOf,
  type MappingDraft,
  mappingFrom,
  mappingText,
  roleText,
  withColumn,
} from '../column-mapping.ts';
import type { KindRoles } from '../imports.ts';
import { type FileKind, type KindAnswer, mappingOf, settingsOf } from '../waiting-files.ts';
import { Disclosure } from './disclosure.tsx';
import { FirstRows } from './first-rows.tsx';
import { SettingsFields } from './settings-fields.tsx';

interface MappingStepProps {
  fileKind: FileKind;
  roles: readonly KindRoles[];
  answer: KindAnswer | undefined;
  onAnswer: (answer: KindAnswer) => void;
}

const NAMES_SHOWN = 3;

function namesText(names: readonly string[]): string {
  const more = names.length - NAMES_SHOWN;
  return `${names.slice(0, NAMES_SHOWN).join(', ')}${more > 0 ? ` and ${more} more` : ''}`;
}

/** One kind of file: its doubts, which column is what, and what the files do not say. Answered once for all of them. */
export function MappingStep({ fileKind, roles, answer, onAnswer }: MappingStepProps) {
  const { files, doubts } = fileKind;
  const first = files[0]!;
  const look = first.look!;
  const [draft, setDraft] = useState<MappingDraft>(() => draftOf(answer?.mapping ?? mappingOf(first, {})));
  const [settings, setSettings] = useState(answer?.settings ?? {});
  const [isRemembered, setRemembered] = useState(answer?.isRemembered ?? true);
  const [isTried, setTried] = useState(false);
  const choices = roles.find(({ kind }) => kind === draft.kind)?.roles ?? [];
  const block = look.blocks[draft.block] ?? look.blocks[0]!;
  const takenAs = (column: number): string =>
    choices
      .filter(({ role }) => draft.columns[role]?.column === column)
      .map(({ role }) => roleText(role))
      .join(', ');
  const made = mappingFrom(draft, choices);
  const faults = isTried && 'faults' in made ? made.faults : [];
  const submit = () => {
    setTried(true);
    if ('mapping' in made) onAnswer({ mapping: made.mapping, settings, isRemembered });
  };
  const chosenRoles = Object.keys(draft.columns).filter((role) => draft.columns[role]?.column != null);
  // what some of them lack is asked first; the rest of the settings can be changed file by file
  const asked = draft.kind
    ? [...new Set(files.flatMap((file) => missingSettings(draft.kind!, settingsOf(file, {}), chosenRoles)))]
    : [];
  const columnsTitle = (answer ?? look.mapping) ? mappingText((answer?.mapping ?? look.mapping)!) : 'Columns';
  const columns = (
    <Stack gap="sm">
      <FirstRows block={block} takenAs={takenAs} />
      <Group align="flex-end" gap="sm">
        <NativeSelect
          label="Measured"
          value={draft.kind ?? ''}
          onChange={(event) => {
            const kind = roles.find((each) => each.kind === event.currentTarget.value)?.kind ?? null;
            setDraft((before) => ({ ...before, kind }));
          }}
          data={[{ value: '', label: 'choose' }, ...roles.map(({ kind }) => kind)]}
        />
        {look.blocks.length > 1 ? (
          <NativeSelect
            label="Table of the file"
            value={String(draft.block)}
            onChange={(event) => {
              const chosen = Number(event.currentTarget.value);
              setDraft((before) => ({ ...before, block: chosen }));
            }}
            data={look.blocks.map(({ rows }, i) => ({
              value: String(i),
              label: `${i + 1} (${rows} rows)`,
            }))}
          />
        ) : null}
      </Group>
      <Group align="flex-end" gap="md">
        {choices.map((choice) => (
          <Group key={choice.role} gap={4} align="flex-end" wrap="nowrap">
            <NativeSelect
              label={`${roleText(choice.role)}${choice.isRequired ? '' : ' (if there)'}`}
              value={String(draft.columns[choice.role]?.column ?? '')}
              onChange={(event) => {
                const { value } = event.currentTarget;
                const column = value === '' ? null : Number(value);
                const stated = column === null ? '' : (block.units[column] ?? '');
                setDraft((before) => withColumn(before, choice, column, stated));
              }}
              data={[
                { value: '', label: choice.isRequired ? 'choose' : 'not in this file' },
                ...block.headings.map((_, column) => ({
                  value: String(column),
                  label: columnText(block, column),
                })),
              ]}
            />
            {draft.columns[choice.role]?.column == null ? null : (
              <NativeSelect
                label="in"
                aria-label={`Unit of ${roleText(choice.role)}`}
                value={draft.columns[choice.role]?.unit ?? ''}
                onChange={(event) => {
                  const unit = event.currentTarget.value;
                  setDraft((before) => ({
                    ...before,
                    columns: {
                      ...before.columns,
                      [choice.role]: { column: before.columns[choice.role]!.column, unit },
                    },
                  }));
                }}
                data={[{ value: '', label: 'choose' }, ...choice.units.filter((unit) => unit !== '')]}
              />
            )}
          </Group>
        ))}
      </Group>
    </Stack>
  );
  return (
    <Paper withBorder p="sm" component="section" aria-label={`Files of one kind: ${first.fileName}`}>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          submit();
        }}
      >
        <Stack gap="sm">
          <div>
            <Title order={2} size="h3">
              {files.length === 1 ? 'One file' : `${files.length} files of one kind`}
              {draft.kind ? `: ${draft.kind}` : ''}
            </Title>
            <Text size="sm" c="dimmed" style={{ overflowWrap: 'anywhere' }}>
              {namesText(files.map(({ fileName }) => fileName))}
            </Text>
          </div>
          {doubts.length > 0 ? (
            <List size="sm" aria-label="Questions">
              {doubts.map(({ sentence, count }) => (
                <List.Item key={sentence}>
                  {sentence}
                  {count < files.length ? ` (${count} of ${files.length} files)` : ''}
                </List.Item>
              ))}
            </List>
          ) : null}
          {fileKind.asksColumns ? columns : <Disclosure title={columnsTitle}>{columns}</Disclosure>}
          {draft.kind ? (
            <div>
              <Text size="sm" c="dimmed" mb={4}>
                Where a file does not say it itself:
              </Text>
              <SettingsFields
                kind={draft.kind}
                settings={settings}
                onChange={setSettings}
                {...(asked.length > 0 ? { only: asked } : {})}
              />
            </div>
          ) : null}
          {faults.length > 0 ? (
            <List size="sm" c="red" role="alert">
              {faults.map((fault) => (
                <List.Item key={fault}>{fault}</List.Item>
              ))}
            </List>
          ) : null}
          <Group justify="space-between">
            <Checkbox
              label="Use this mapping for the next file of the same shape"
              checked={isRemembered}
              onChange={(event) => setRemembered(event.currentTarget.checked)}
            />
            <Button type="submit">
              {files.length === 1 ? 'Use for this file' : `Use for all ${files.length} files`}
            </Button>
          </Group>
        </Stack>
      </form>
    </Paper>
  );
}
