import {
  Button,
  Fieldset,
  Group,
  NativeSelect,
  SimpleGrid,
  Stack,
  Text,
  Textarea,
  TextInput,
} from '@mantine/core';
import { useState } from 'react';
import { uncertainText } from '../../../charts/number-text.ts';
import type { Chamber, StoredRecord } from '../../../records/kinds.ts';
import type { SeriesView } from '../../../records/series-view.ts';
import { type ChamberDraft, chamberDraftOf, EMPTY_CHAMBER, readChamber } from '../../drafts/chamber-draft.ts';
import { missingOfChamber } from '../../path/path-request.ts';
import { createRecord, newId, reviseRecord } from '../../records.ts';
import { useSayDone } from '../../undo.ts';
import { RecordActions } from '../record-actions.tsx';
import { type FormProps, textFields } from '../record-forms/fields.ts';
import { RecordEditor } from '../record-forms/record-editor.tsx';

type ChamberRecord = StoredRecord<'chamber'>;

function ChamberForm(props: FormProps<ChamberDraft>) {
  const { draft, onChange } = props;
  const field = textFields(props);
  return (
    <Stack gap="xs">
      <Text size="xs" c="dimmed">
        A number may carry its standard uncertainty: 50 ± 2. What is left empty is not followed.
      </Text>
      <SimpleGrid cols={{ base: 2, sm: 3 }} spacing="sm" verticalSpacing="xs">
        <TextInput {...field('label', 'Name of the chamber')} required maxLength={200} />
        <TextInput {...field('volumeL', 'Volume, L')} placeholder="50 ± 2" />
        <TextInput {...field('oxygenFlowSccm', 'Oxygen flow, sccm')} placeholder="100 ± 1" />
        <TextInput
          {...field('pumpingWhileFillingLPerS', 'Pumping while filling, L/s')}
          placeholder="0: shut"
        />
        <TextInput {...field('pumpingLPerS', 'Pumping oxygen away, L/s')} placeholder="20 ± 5" />
        <TextInput {...field('gasC', 'Gas temperature, °C')} inputMode="decimal" />
        <TextInput {...field('thermalLagS', 'Thermal lag, s')} placeholder="3 ± 1" />
        <NativeSelect
          label="Temperature read at"
          value={draft.temperaturePlace}
          data={['heater block', 'thermocouple on substrate', 'pyrometer', 'surface']}
          onChange={(event) =>
            onChange({
              ...draft,
              temperaturePlace: event.currentTarget.value as ChamberDraft['temperaturePlace'],
            })
          }
        />
        <TextInput {...field('offsetK', 'Surface minus reading, K')} placeholder="-20 ± 8" />
        <NativeSelect
          label="The gauge says"
          value={draft.pressureKind}
          data={[
            { value: 'total', label: 'total pressure' },
            { value: 'oxygen partial', label: 'oxygen alone' },
          ]}
          onChange={(event) =>
            onChange({ ...draft, pressureKind: event.currentTarget.value as ChamberDraft['pressureKind'] })
          }
        />
        <TextInput {...field('gauge', 'Gauge')} placeholder="capacitance, Pirani" maxLength={100} />
        <TextInput {...field('oxygenPercent', 'O₂ in the gas, %')} inputMode="decimal" />
      </SimpleGrid>
      <Textarea {...field('note', 'Note')} autosize minRows={1} maxLength={20_000} />
    </Stack>
  );
}

interface ChamberEditorProps {
  /** null: a new one */
  chamber: ChamberRecord | null;
  all: readonly ChamberRecord[];
  onKept: (id: string) => void;
  onClose: () => void;
}

function ChamberEditor({ chamber, all, onKept, onClose }: ChamberEditorProps) {
  const announce = useSayDone();
  const taken = all.filter(({ id }) => id !== chamber?.id).map(({ body }) => body.label);
  return (
    <RecordEditor
      of={chamber ? `Chamber ${chamber.body.label}` : 'New chamber'}
      initial={chamber ? chamberDraftOf(chamber.body) : EMPTY_CHAMBER}
      {...(chamber ? { revision: chamber.revision } : {})}
      read={(draft) => readChamber(draft, taken)}
      form={(form) => <ChamberForm {...form} />}
      save={async (body) => {
        const changeId = newId();
        const kept = chamber
          ? await reviseRecord(chamber, body, changeId)
          : await createRecord({ kind: 'chamber', seriesId: null, body, changeId }); // shared by all series
        announce(`${chamber ? 'Changed' : 'Added'} chamber ${body.label}.`, [changeId]);
        onKept(kept.id);
      }}
      onClose={onClose}
    />
  );
}

/** What a chamber's record says of following a path. */
function chamberWords(chamber: Chamber): string {
  const { volumeL, oxygenFlowSccm, thermalLagS, temperaturePlace, offsetK } = chamber;
  const missing = missingOfChamber(chamber);
  const parts = [
    missing.gas.length === 0
      ? `${uncertainText(volumeL!.value, volumeL!.standardUncertainty)} L filled by ${uncertainText(oxygenFlowSccm!.value, oxygenFlowSccm!.standardUncertainty)} sccm of oxygen`
      : `its record does not say ${missing.gas.join(', ')}, so the gas is taken to follow the command`,
    missing.lag
      ? 'no thermal lag stated, so the film is taken to follow'
      : `thermal lag ${uncertainText(thermalLagS!.value, thermalLagS!.standardUncertainty)} s`,
    temperaturePlace === 'surface'
      ? 'reads the surface'
      : offsetK
        ? `${temperaturePlace}, surface minus reading ${uncertainText(offsetK.value, offsetK.standardUncertainty)} K`
        : `${temperaturePlace}, offset not stated`,
  ];
  return `${parts.join('; ')}.`;
}

interface ChamberChoiceProps {
  view: SeriesView;
  chamberId: string;
  onChoose: (chamberId: string) => void;
}

/** Which chamber drives the path; chambers are added and changed in place. */
export function ChamberChoice({ view, chamberId, onChoose }: ChamberChoiceProps) {
  const [open, setOpen] = useState<'nothing' | 'new' | 'chosen'>('nothing');
  const chambers = view.chambers as ChamberRecord[];
  const chosen = chambers.find(({ id }) => id === chamberId) ?? null;
  return (
    <Stack gap="xs">
      <Fieldset legend="Chamber" variant="filled">
        <Group align="flex-end" gap="sm">
          <NativeSelect
            aria-label="Chamber"
            style={{ flex: '1 1 14rem' }}
            value={chosen ? chamberId : ''}
            data={[
              { value: '', label: 'none: the film follows the command' },
              ...chambers.map(({ id, body }) => ({ value: id, label: body.label })),
            ]}
            onChange={(event) => {
              setOpen('nothing');
              onChoose(event.currentTarget.value);
            }}
          />
          <Button variant="light" onClick={() => setOpen('new')}>
            Add a chamber
          </Button>
          {chosen ? (
            <RecordActions
              record={chosen}
              name={`chamber ${chosen.body.label}`}
              onEdit={() => setOpen('chosen')}
              onRemoved={() => onChoose('')}
            />
          ) : null}
        </Group>
        {chosen ? (
          <Text size="xs" c="dimmed" mt={4} style={{ overflowWrap: 'anywhere' }}>
            {chosen.body.label}: {chamberWords(chosen.body)}
          </Text>
        ) : null}
      </Fieldset>
      {open === 'nothing' ? null : (
        <ChamberEditor
          key={open === 'new' ? 'new' : chamberId}
          chamber={open === 'new' ? null : chosen}
          all={chambers}
          onKept={onChoose}
          onClose={() => setOpen('nothing')}
        />
      )}
    </Stack>
  );
}
