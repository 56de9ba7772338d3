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
import { useRef, useState } from 'react';
import { flushSync } from 'react-dom';
import { ratioText } from '../../charts/trade-text.ts';
import { targetBatch } from '../../computations/target/batch.ts';
import type { SeriesView } from '../../records/series-view.ts';
import { useComputation } from '../compute.ts';
import { faultSentences } from '../drafts/field-names.ts';
import { nextName } from '../drafts/names.ts';
import {
  type BatchAsk,
  emptyTarget,
  fieldOfRefusal,
  missingCations,
  precursorFromLibrary,
  precursorFromLot,
  readTarget,
  type TargetDraft,
} from '../drafts/target-draft.ts';
import type { Faults } from '../drafts/typed-numbers.ts';
import { useKeptDraft } from '../kept-draft.ts';
import { type BatchAnswer, BatchSheet } from '../parts/batch-sheet.tsx';
import { InventedNotice } from '../parts/invented-notice.tsx';
import { LoadedSeries } from '../parts/loaded-series.tsx';
import { ProblemNotice } from '../parts/problem-notice.tsx';
import { Question } from '../parts/question.tsx';
import { FaultList } from '../parts/record-forms/fault-list.tsx';
import { textFields } from '../parts/record-forms/fields.ts';
import { PrecursorRows } from '../parts/record-forms/precursor-rows.tsx';
import { TargetList } from '../parts/target-list.tsx';
import { newId, useChange } from '../records.ts';
import { nothingWritten, type RecordToWrite, saveRecords } from '../save-sitting.ts';
import { useSayDone } from '../undo.ts';

interface Refusal extends Error {
  sentence?: string;
  remedy?: string;
}

/** The draft that weighs a kept target again. */
function draftOf({ body }: SeriesView['targets'][number], view: SeriesView): TargetDraft {
  const request = body.sheet?.request as BatchAsk | undefined;
  const rows = request?.precursors.map(({ formula, purity, lossOnDrying }, i) => {
    const lot = view.lots.find(({ id }) => id === body.lotIds[i]);
    return lot
      ? precursorFromLot(newId(), lot)
      : {
          ...precursorFromLibrary(newId(), formula),
          purityPercent: String(Number((purity * 100).toPrecision(8))),
          lossPercent: String(Number((lossOnDrying * 100).toPrecision(8))),
        };
  });
  return {
    ...emptyTarget(ratioText(body.cations)),
    label: nextName(
      body.label,
      view.targets.map((each) => each.body.label),
    ),
    totalMassG: String(body.totalMassG ?? request?.totalMassG ?? ''),
    balanceStepMg: String(request?.balanceStepMg ?? 0.1),
    oxygenPer123: request?.oxygenPer123 === undefined ? '' : String(request.oxygenPer123),
    precursors: rows ?? null,
    sinterGas: body.sinterGas,
  };
}

function TargetBoard({ view, ratio }: { view: SeriesView; ratio: string | undefined }) {
  const seriesId = view.series.id;
  const announce = useSayDone();
  const [kept, setDraft] = useKeptDraft(`target 1 ${seriesId}`, () => emptyTarget(ratio ?? '1:2:3'));
  const [asked, setAsked] = useState<string | null>(null);
  // a ratio that comes with the address is taken once; afterwards the field is the typist's
  const draft = ratio !== undefined && ratio !== asked ? { ...kept, ratio, precursors: null } : kept;
  const change = (next: TargetDraft) => {
    setAsked(ratio ?? null);
    setDraft(next);
  };
  const [openId, setOpenId] = useState<string | null>(null);
  const [attempts, setAttempts] = useState(0);
  const written = useRef(nothingWritten());
  const read = readTarget(draft, view.series.body.rareEarths[0]!, view.lots);
  const { response, error, isRunning } = useComputation<BatchAnswer>('target.batch', read.request);
  const refusal = read.request ? (error as Refusal | null) : null;
  const isKnownRefusal = refusal?.sentence !== undefined;
  const faults: Faults = { ...read.faults };
  if (refusal?.sentence) {
    faults[fieldOfRefusal(refusal.sentence)] = `${refusal.sentence} ${refusal.remedy ?? ''}`.trim();
  }
  const answer = read.request && !refusal ? response : null;
  const isCurrent = answer !== null && !isRunning;
  const label = draft.label.trim();
  const keepFaults: Faults = {
    ...(label === '' ? { label: 'Found nothing; expected the name of the target, such as T12.' } : {}),
    ...(view.targets.some(({ body }) => body.label === label)
      ? { label: `Found ${label}, which is taken; expected a name of its own.` }
      : {}),
    ...faults,
  };
  const form = { draft, onChange: change, faults: keepFaults, isTried: attempts > 0 };
  const field = textFields(form);
  const lotIds = useRef(new Map<string, string>());
  const keep = useChange(async () => {
    const lots: RecordToWrite[] = [];
    const idOf = (row: (typeof read.rows)[number], i: number): string => {
      if (row.lotId !== '') return row.lotId;
      const id = lotIds.current.get(row.key) ?? newId();
      lotIds.current.set(row.key, id);
      const { formula, purity, lossOnDrying } = read.request!.precursors[i]!;
      const lotNumber = row.lotNumber.trim();
      lots.push({
        kind: 'lot',
        id,
        body: {
          label: `${formula} ${lotNumber || `for ${label}`}`,
          formula,
          lotNumber,
          purity,
          assay: null,
          isMetalsBasis: null,
          lossOnDrying,
          dryingC: null,
          note: '',
        },
      });
      return id;
    };
    const ids = read.rows.map(idOf);
    const targetId = lotIds.current.get('target') ?? newId();
    lotIds.current.set('target', targetId);
    const target: RecordToWrite = {
      kind: 'target',
      id: targetId,
      body: {
        label,
        cations: read.cations!,
        totalMassG: read.request!.totalMassG,
        lotIds: ids,
        sheet: {
          computation: targetBatch.name,
          version: targetBatch.version,
          request: read.request,
          response: answer,
        },
        sinterGas: draft.sinterGas.trim(),
        sintering: null,
        note: draft.note,
      },
    };
    await saveRecords([...lots, target], seriesId, written.current);
    announce(`Kept target ${label}.`, written.current.changeIds);
    written.current = nothingWritten();
    lotIds.current = new Map();
    setAttempts(0);
    change({ ...draft, label: '', note: '', precursors: null });
  });
  const printLive = () => {
    flushSync(() => setOpenId(null));
    window.print();
  };
  const sentences = faultSentences('Target', keepFaults, 'powder');
  return (
    <Stack gap="lg">
      <form
        noValidate
        onSubmit={(event) => {
          event.preventDefault();
          setAttempts(attempts + 1);
          if (sentences.length === 0 && isCurrent) keep.mutate(undefined);
        }}
      >
        <Stack gap="md">
          <Fieldset legend="What is wanted" className="no-print">
            <SimpleGrid cols={{ base: 2, sm: 4 }} spacing="sm">
              <TextInput
                {...field('ratio', 'Cation ratio')}
                description={`${view.series.body.rareEarths[0]}:Ba:Cu as 1:2:3, or Y0.5 Gd0.5 Ba2 Cu3`}
                inputWrapperOrder={['label', 'input', 'description', 'error']}
                required
              />
              <TextInput {...field('totalMassG', 'Fired target, g')} inputMode="decimal" required />
              <TextInput {...field('balanceStepMg', 'Balance step, mg')} inputMode="decimal" required />
              <TextInput
                {...field('oxygenPer123', 'Oxygen per REBa₂Cu₃')}
                description="6.93 if left empty"
                inputWrapperOrder={['label', 'input', 'description', 'error']}
                inputMode="decimal"
              />
            </SimpleGrid>
          </Fieldset>
          <Fieldset legend="Powders" className="no-print">
            <PrecursorRows
              rows={read.rows}
              onChange={(precursors) => change({ ...draft, precursors })}
              lots={view.lots}
              faults={faults}
              missing={read.cations ? missingCations(read.cations, read.rows) : []}
            />
          </Fieldset>
          <Paper
            withBorder
            p="md"
            aria-live="polite"
            className={openId === null ? undefined : 'no-print'} // an open kept sheet is what is printed
          >
            {answer && read.request ? (
              <BatchSheet
                title={label === '' ? 'Weighing sheet' : `Target ${label}`}
                request={read.request}
                response={answer}
                lotNumbers={read.rows.map(({ lotNumber }) => lotNumber)}
                version={targetBatch.version}
                note={[draft.sinterGas.trim() ? `Sinter in ${draft.sinterGas.trim()}.` : '', draft.note]
                  .filter(Boolean)
                  .join(' ')}
              />
            ) : (
              <Group gap="xs">
                {isRunning ? <Loader size="xs" /> : null}
                <Text size="sm" c="dimmed">
                  {isRunning
                    ? 'Computing the masses ...'
                    : 'The masses stand here once the fields above can be read.'}
                </Text>
              </Group>
            )}
          </Paper>
          {refusal && !isKnownRefusal ? <ProblemNotice error={refusal} /> : null}
          <Fieldset legend="Keep it" className="no-print">
            <SimpleGrid cols={{ base: 2, sm: 3 }} spacing="sm">
              <TextInput {...field('label', 'Name of the target')} required maxLength={200} />
              <TextInput {...field('sinterGas', 'Sintered in')} maxLength={100} />
              <Textarea {...field('note', 'Note')} autosize minRows={1} maxLength={20_000} />
            </SimpleGrid>
            <Group mt="sm">
              <Button type="submit" loading={keep.isPending}>
                Keep as target
              </Button>
              <Button variant="light" disabled={!answer} onClick={printLive}>
                Print the sheet
              </Button>
            </Group>
          </Fieldset>
          <FaultList sentences={sentences} attempts={attempts} />
          <ProblemNotice error={keep.error} />
        </Stack>
      </form>
      <Stack gap="xs">
        <Title order={2} className="no-print">
          Targets of this series
        </Title>
        <TargetList
          view={view}
          openId={openId}
          onOpen={setOpenId}
          onCopy={(target) => {
            change(draftOf(target, view));
            window.scrollTo({ top: 0 });
          }}
        />
      </Stack>
    </Stack>
  );
}

/** From a wanted cation ratio to powders on the balance. */
export function TargetPage() {
  const { seriesId } = useParams({ from: '/series/$seriesId/target' });
  const { ratio } = useSearch({ from: '/series/$seriesId/target' });
  return (
    <LoadedSeries seriesId={seriesId}>
      {(view) => (
        <Stack gap="md">
          <Question of={view.series.body.label}>What do I weigh for the film I want?</Question>
          <InventedNotice isInvented={view.series.body.isInvented} />
          <TargetBoard key={seriesId} view={view} ratio={ratio} />
        </Stack>
      )}
    </LoadedSeries>
  );
}
