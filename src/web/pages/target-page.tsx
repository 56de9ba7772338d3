import {
  Button,
  Fieldset,
  Group,
  Loader,
  Paper,
  SimpleGrid,
  Stack,
  Text,
  Textarea,
  TextInput,
  Title,
} from '@mantine/core';
import { useParams, useSearch } from '@tanstack/react-router';
import { useMemo, useState } from 'react';
import { flushSync } from 'react-dom';
import { targetBatch } from '../../computations/target/batch.ts';
import type { SeriesView } from '../../records/series-view.ts';
import { useAddressedDraft } from '../addressed-draft.ts';
import { useComputation } from '../compute.ts';
import { faultSentences } from '../drafts/field-names.ts';
import { filmKnowledge } from '../drafts/film-aim.ts';
import { targetDraftOf } from '../drafts/kept-target.ts';
import { lossTexts } from '../drafts/loss-address.ts';
import { missingCations } from '../drafts/powder-rows.ts';
import { gasesOf, type SinterAnswer } from '../drafts/sintering-draft.ts';
import { type BatchAsk, emptyTarget, readTarget, type TargetDraft } from '../drafts/target-draft.ts';
import { fieldOfRefusal, inWords } from '../drafts/target-words.ts';
import type { Faults } from '../drafts/typed-numbers.ts';
import { useKeepTarget } from '../keep-target.ts';
import { InventedNotice } from '../parts/invented-notice.tsx';
import { LoadedSeries } from '../parts/loaded-series.tsx';
import { ProblemNotice } from '../parts/problem-notice.tsx';
import { Question } from '../parts/question.tsx';
import { FaultList } from '../parts/record-forms/fault-list.tsx';
import { textFields } from '../parts/record-forms/fields.ts';
import { AmountFields } from '../parts/target/amount-fields.tsx';
import type { BatchAnswer } from '../parts/target/batch-answer.ts';
import { BatchSheet } from '../parts/target/batch-sheet.tsx';
import { PowderLibrary } from '../parts/target/powder-library.tsx';
import { PowderTable } from '../parts/target/powder-table.tsx';
import { SinteringFields } from '../parts/target/sintering-fields.tsx';
import { TargetList } from '../parts/target/target-list.tsx';
import { TransferPanel } from '../parts/target/transfer-panel.tsx';
import { WantedFields } from '../parts/target/wanted-fields.tsx';
import { newId } from '../records.ts';

interface Refusal extends Error {
  sentence?: string;
  remedy?: string;
}

/** Whether an answer is that of a request, and not of one before it. */
const isAnswerOf = (answered: unknown, request: unknown): boolean =>
  request !== null && JSON.stringify(answered) === JSON.stringify(request);

/** What the batch says of the draft: its answer, or its refusal at the field that it is about. */
function useBatch(draft: TargetDraft, request: BatchAsk | null) {
  const { response, answered, error, isRunning } = useComputation<BatchAnswer>('target.batch', request);
  const refusal = request ? (error as Refusal | null) : null;
  const faults: Faults = {};
  if (refusal?.sentence) {
    const field = fieldOfRefusal(refusal.sentence);
    const own = draft.wantedAs === 'formula' ? 'formula' : draft.wantedAs === 'additions' ? 'base' : 'ratio';
    faults[field === 'ratio' ? own : field] = inWords(`${refusal.sentence} ${refusal.remedy ?? ''}`.trim());
  }
  return {
    /** the newest answer, with what it was asked */
    shown: request && !refusal && response ? { response, request: answered as BatchAsk } : null,
    isCurrent: !refusal && response !== null && isAnswerOf(answered, request),
    isRunning,
    faults,
    unknownError: refusal && refusal.sentence === undefined ? refusal : null,
  };
}

interface TargetAddress {
  ratio?: string;
  losses?: string;
}

/** The draft that an address fills: a clicked ratio is the target's, one with losses is wanted in the film after heating. */
function filled(kept: TargetDraft, { ratio, losses }: TargetAddress): TargetDraft {
  const lost = lossTexts(losses ?? '');
  return {
    ...kept,
    ...(ratio === undefined ? {} : { wantedAs: 'ratio', ratio, precursors: null }),
    ...(Object.keys(lost).length === 0
      ? {}
      : { wantedIn: 'film', losses: lost, lossesFrom: 'from the path page, fitted to your measured films' }),
  };
}

function TargetBoard({ view, address }: { view: SeriesView; address: TargetAddress }) {
  const seriesId = view.series.id;
  const rareEarth = view.series.body.rareEarths[0]!;
  const [draft, change] = useAddressedDraft(
    `target 3 ${seriesId}`,
    () => emptyTarget('1:2:3', rareEarth),
    address,
    filled,
  );
  const [openId, setOpenId] = useState<string | null>(null);
  const [attempts, setAttempts] = useState(0);
  const known = useMemo(() => filmKnowledge(view), [view]);
  const read = readTarget(draft, rareEarth, view.lots, known);
  const batch = useBatch(draft, read.request);
  const sinter = useComputation<SinterAnswer>('target.sinter', read.sinter);
  const oxygen = sinter.error === null && isAnswerOf(sinter.answered, read.sinter) ? sinter.response : null;
  const label = draft.label.trim();
  const faults: Faults = { ...read.faults, ...batch.faults };
  const keepFaults: Faults = {
    ...(label === '' ? { label: 'Found nothing; expected the name of the target, such as T12.' } : {}),
    ...(view.targets.some(({ body }) => body.label === label)
      ? { label: `Found ${label}, which is taken; expected a name of its own.` }
      : {}),
    ...faults,
  };
  const form = { draft, onChange: change, faults: keepFaults, isTried: attempts > 0 };
  const field = textFields(form);
  const keep = useKeepTarget(seriesId, () => {
    setAttempts(0);
    change({ ...draft, label: '', note: '', precursors: null });
  });
  const sentences = faultSentences('Target', keepFaults, 'powder');
  const printLive = () => {
    flushSync(() => setOpenId(null));
    window.print();
  };
  return (
    <Stack gap="lg">
      <div className="target-board">
        <Stack gap="md" className="no-print">
          <Fieldset legend="What is wanted">
            <Stack gap="sm">
              <WantedFields {...form} read={read} rareEarth={rareEarth} />
              <TransferPanel {...form} read={read} known={known} />
              <AmountFields {...form} />
            </Stack>
          </Fieldset>
          <Fieldset legend="Powders">
            <PowderTable
              rows={read.rows}
              onChange={(precursors) => change({ ...draft, precursors })}
              lots={view.lots}
              powders={view.powders}
              faults={faults}
              missing={read.wantedCations ? missingCations(read.wantedCations, read.rows) : []}
            />
          </Fieldset>
          <Fieldset legend="Firing: in which gas, how hot, how long">
            <SinteringFields
              {...form}
              read={read}
              oxygen={oxygen}
              oxygenError={read.sinter ? sinter.error : null}
            />
          </Fieldset>
        </Stack>
        <Stack gap="md">
          <Paper
            withBorder
            p="md"
            aria-live="polite"
            className={openId === null ? 'sheet-paper' : 'no-print'} // an open kept sheet is what is printed
          >
            {batch.shown ? (
              <BatchSheet
                title={label === '' ? 'Weighing sheet' : `Target ${label}`}
                request={batch.shown.request}
                response={batch.shown.response}
                film={read.aim && read.wanted ? { wanted: read.wanted, aim: read.aim } : null}
                lotNumbers={read.rows.map(({ lotNumber }) => lotNumber)}
                dryingC={read.rows.map(({ dryingC }) => (dryingC.trim() === '' ? null : Number(dryingC)))}
                powders={view.powders}
                segments={read.readable}
                sinterGas={read.readable.length > 0 ? gasesOf(read.readable) : draft.sinterGas.trim()}
                version={targetBatch.version}
                note={draft.note}
              />
            ) : (
              <Group gap="xs">
                {batch.isRunning ? <Loader size="xs" /> : null}
                <Text size="sm" c="dimmed">
                  {batch.isRunning
                    ? 'Computing the masses ...'
                    : 'The masses stand here once the fields can be read.'}
                </Text>
              </Group>
            )}
          </Paper>
          <ProblemNotice error={batch.unknownError} />
          <form
            noValidate
            className="no-print"
            onSubmit={(event) => {
              event.preventDefault();
              setAttempts(attempts + 1);
              if (sentences.length === 0 && batch.isCurrent)
                keep.mutate({ draft, read, batch: batch.shown!.response, oxygen });
            }}
          >
            <Fieldset legend="Keep it">
              <SimpleGrid cols={{ base: 1, sm: 2 }} spacing="sm">
                <TextInput {...field('label', 'Name of the target')} required maxLength={200} />
                <Textarea {...field('note', 'Note')} autosize minRows={1} maxLength={20_000} />
              </SimpleGrid>
              <Group mt="sm">
                <Button type="submit" loading={keep.isPending}>
                  Keep as target
                </Button>
                <Button variant="light" disabled={!batch.shown} onClick={printLive}>
                  Print the sheet
                </Button>
              </Group>
            </Fieldset>
          </form>
          <FaultList sentences={sentences} attempts={attempts} />
          <ProblemNotice error={keep.error} />
        </Stack>
      </div>
      <Stack gap="xs">
        <Title order={2} className="no-print">
          Targets of this series
        </Title>
        <TargetList
          view={view}
          openId={openId}
          onOpen={setOpenId}
          onCopy={(target) => {
            change(targetDraftOf(target, view, newId));
            window.scrollTo({ top: 0 });
          }}
        />
      </Stack>
      <PowderLibrary powders={view.powders} />
    </Stack>
  );
}

/** From a wanted cation ratio to powders on the balance. */
export function TargetPage() {
  const { seriesId } = useParams({ from: '/series/$seriesId/target' });
  const address = useSearch({ from: '/series/$seriesId/target' });
  return (
    <LoadedSeries seriesId={seriesId}>
      {(view) => (
        <Stack gap="md">
          <Question of={view.series.body.label}>What do I weigh for the film I want?</Question>
          <InventedNotice isInvented={view.series.body.isInvented} />
          <TargetBoard key={seriesId} view={view} address={address} />
        </Stack>
      )}
    </LoadedSeries>
  );
}
