import { Button, Group, Paper, Stack } from '@mantine/core';
import { type ReactNode, useState } from 'react';
import { draftDifferences, type FieldWords } from '../../drafts/differences.ts';
import { faultSentences } from '../../drafts/field-names.ts';
import type { Faults } from '../../drafts/typed-numbers.ts';
import { useChange, useRefresh } from '../../records.ts';
import { ProblemNotice } from '../problem-notice.tsx';
import { FaultList } from './fault-list.tsx';
import type { FormProps } from './fields.ts';
import { OtherChange } from './other-change.tsx';

interface RecordEditorProps<Draft extends object, Body> {
  /** `film D07` */
  of: string;
  initial: Draft;
  /** of the record as it stands; left out for a new one */
  revision?: number;
  words?: FieldWords;
  read: (draft: Draft) => { body: Body; faults: Faults };
  form: (props: FormProps<Draft>) => ReactNode;
  /** writes the record; what it throws is shown and the form stays as typed */
  save: (body: Body) => Promise<unknown>;
  onClose: () => void;
}

/** Whether a write was refused because somebody else has changed the record meanwhile. */
function isOld(error: unknown): boolean {
  return (error as { problem?: { code?: string } } | null)?.problem?.code === 'REVISION_IS_OLD';
}

/** A record's form in its place on the page, with its way to the store and its way out. */
export function RecordEditor<Draft extends object, Body>(props: RecordEditorProps<Draft, Body>) {
  const { of, initial, revision, words, read, form, save, onClose } = props;
  const [draft, setDraft] = useState(initial);
  // once the record has moved on, `initial` is what it says now
  const [openedAt] = useState(revision);
  const isOvertaken = revision !== openedAt;
  const [attempts, setAttempts] = useState(0);
  const { body, faults } = read(draft);
  const sentences = faultSentences(of, faults);
  const refresh = useRefresh();
  const write = useChange(async () => {
    try {
      await save(body);
    } catch (error) {
      if (isOld(error)) await refresh(); // the next attempt then names the revision that stands
      throw error;
    }
    onClose();
  });
  return (
    <Paper withBorder p="sm">
      <form
        noValidate
        aria-label={of}
        onSubmit={(event) => {
          event.preventDefault();
          setAttempts(attempts + 1);
          if (sentences.length === 0) write.mutate(undefined);
        }}
      >
        <Stack gap="sm">
          {form({ draft, onChange: setDraft, faults, isTried: attempts > 0 })}
          <FaultList sentences={sentences} attempts={attempts} />
          {isOvertaken ? (
            <OtherChange
              differences={draftDifferences(initial, draft, words)}
              onTake={(field) => setDraft({ ...draft, [field]: initial[field as keyof Draft] })}
            />
          ) : null}
          {isOvertaken && isOld(write.error) ? null : <ProblemNotice error={write.error} />}
          <Group gap="xs">
            <Button size="compact-md" type="submit" loading={write.isPending}>
              {isOvertaken ? 'Keep mine' : 'Keep'}
            </Button>
            <Button size="compact-md" variant="subtle" color="gray" onClick={onClose}>
              Leave as it was
            </Button>
          </Group>
        </Stack>
      </form>
    </Paper>
  );
}
