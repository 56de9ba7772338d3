import { Fieldset, NativeSelect, SimpleGrid, Stack, Text, Textarea, TextInput } from '@mantine/core';
import { uncertainText } from '../../../charts/number-text.ts';
import { pressureText, ratioText } from '../../../charts/trade-text.ts';
import type { SeriesView } from '../../../records/series-view.ts';
import { PA_PER_ATM } from '../../drafts/pressure-units.ts';
import { type RunDraft, readRun, runDerived } from '../../drafts/run-draft.ts';
import { Cautions, workCautions } from '../cautions.tsx';
import { Disclosure } from '../disclosure.tsx';
import { type FormProps, shownFault, textFields } from './fields.ts';
import { PressureField } from './pressure-field.tsx';

const COLUMNS = { base: 2, sm: 3, lg: 4 };

const SOURCE_CAUTIONS: Record<RunDraft['source'], string[]> = {
  'pulsed laser': ['laser', 'vacuum', 'high voltage'],
  evaporation: ['vacuum', 'high voltage'],
  sputtering: ['vacuum', 'high voltage'],
  other: ['vacuum'],
};

/** What follows from the readings, shown while they are typed. */
function Derived({ children }: { children: string }) {
  return (
    <Text size="sm" className="number" role="status" mt="xs">
      {children}
    </Text>
  );
}

interface RunFormProps extends FormProps<RunDraft> {
  targets: SeriesView['targets'];
  chambers: SeriesView['chambers'];
}

/** A deposition run, in the order in which it is written down. */
export function RunForm(props: RunFormProps) {
  const { draft, onChange, targets, chambers } = props;
  const field = textFields(props);
  const set = (change: Partial<RunDraft>) => onChange({ ...draft, ...change });
  const { fluence, surfaceC, oxygenPa } = runDerived(readRun(draft).run);
  return (
    <Stack gap="sm">
      <Fieldset legend="Run">
        <SimpleGrid cols={COLUMNS} spacing="sm" verticalSpacing="xs">
          <TextInput {...field('label', 'Name of the run')} required maxLength={200} />
          <NativeSelect
            {...field('targetId', 'Target')}
            data={[
              { value: '', label: 'not recorded' },
              ...targets.map(({ id, body }) => ({
                value: id,
                label: `${body.label} (${ratioText(body.cations)})`,
              })),
            ]}
          />
          <TextInput {...field('startedAt', 'Started, local time')} type="datetime-local" />
          <NativeSelect
            label="Route"
            value={draft.route}
            data={['in situ', 'ex situ', 'not stated']}
            onChange={(event) => set({ route: event.currentTarget.value as RunDraft['route'] })}
          />
          <NativeSelect
            label="Source"
            value={draft.source}
            data={['pulsed laser', 'evaporation', 'sputtering', 'other']}
            onChange={(event) => set({ source: event.currentTarget.value as RunDraft['source'] })}
          />
          <NativeSelect
            {...field('chamberId', 'Chamber')}
            data={[
              { value: '', label: 'not recorded' },
              ...chambers.map(({ id, body }) => ({ value: id, label: body.label })),
            ]}
          />
          {draft.source === 'pulsed laser' ? null : (
            <TextInput {...field('rateNmPerS', 'Rate of the source, nm/s')} placeholder="0.5 ± 0.05" />
          )}
          <TextInput {...field('distanceMm', 'Target to substrate, mm')} inputMode="decimal" />
          <TextInput {...field('mounting', 'Mounting')} placeholder="silver paste, clamp" maxLength={200} />
        </SimpleGrid>
      </Fieldset>
      {draft.source === 'pulsed laser' ? (
        <Fieldset legend="Laser (numbers as 60 or 60 ± 2)">
          <SimpleGrid cols={COLUMNS} spacing="sm" verticalSpacing="xs">
            <TextInput {...field('energyAtTargetMj', 'Energy at the target, mJ')} />
            <TextInput {...field('energyBeforeWindowMj', 'Energy before the window, mJ')} />
            <TextInput {...field('energyAfterWindowMj', 'Energy after the window, mJ')} />
            <TextInput {...field('spotAreaMm2', 'Spot area, mm²')} />
            <TextInput {...field('repetitionHz', 'Repetition, Hz')} inputMode="decimal" />
            <TextInput {...field('pulses', 'Pulses')} inputMode="numeric" />
            <TextInput {...field('pulsesSinceResurfacing', 'Pulses since resurfacing')} inputMode="numeric" />
            <TextInput
              {...field('preAblationPulses', 'Pulses on the shuttered target')}
              inputMode="numeric"
            />
            <NativeSelect
              label="Window cleaned before"
              value={draft.isWindowCleaned}
              data={[{ value: '', label: 'not stated' }, 'yes', 'no']}
              onChange={(event) =>
                set({ isWindowCleaned: event.currentTarget.value as RunDraft['isWindowCleaned'] })
              }
            />
          </SimpleGrid>
          <Derived>
            {fluence
              ? `Fluence ${fluenceText(fluence.jPerM2)}, from the ${fluence.from}`
              : 'Fluence: needs an energy at the target or after the window, and the spot area'}
          </Derived>
        </Fieldset>
      ) : null}
      <Fieldset legend="Temperature">
        <SimpleGrid cols={COLUMNS} spacing="sm" verticalSpacing="xs">
          <TextInput {...field('temperatureC', 'Reading, °C')} inputMode="decimal" />
          <NativeSelect
            label="Read at"
            value={draft.temperaturePlace}
            data={['heater block', 'thermocouple on substrate', 'pyrometer', 'surface']}
            onChange={(event) =>
              set({ temperaturePlace: event.currentTarget.value as RunDraft['temperaturePlace'] })
            }
          />
          <TextInput {...field('temperatureOffsetK', 'Surface minus reading, K')} placeholder="-20 ± 8" />
        </SimpleGrid>
        <Derived>
          {surfaceC
            ? `Surface ${uncertainText(surfaceC.value, surfaceC.standardUncertainty)} °C${surfaceC.standardUncertainty === null ? ' (no uncertainty stated)' : ''}`
            : 'Surface temperature: needs a reading'}
        </Derived>
      </Fieldset>
      <Fieldset legend="Gas">
        <SimpleGrid cols={COLUMNS} spacing="sm" verticalSpacing="xs">
          <PressureField
            label="Base pressure"
            value={draft.basePressure}
            unit={draft.basePressureUnit}
            error={shownFault(props, 'basePressure', draft.basePressure)}
            onChange={(basePressure, basePressureUnit) => set({ basePressure, basePressureUnit })}
          />
          <PressureField
            label="Pressure in the run"
            value={draft.pressure}
            unit={draft.pressureUnit}
            error={shownFault(props, 'pressure', draft.pressure)}
            onChange={(pressure, pressureUnit) => set({ pressure, pressureUnit })}
          />
          <NativeSelect
            label="The gauge says"
            value={draft.pressureKind}
            data={[
              { value: 'total', label: 'total pressure' },
              { value: 'oxygen partial', label: 'oxygen alone' },
            ]}
            onChange={(event) => set({ pressureKind: event.currentTarget.value as RunDraft['pressureKind'] })}
          />
          <TextInput {...field('oxygenPercent', 'O₂ in the gas, %')} inputMode="decimal" />
          <TextInput {...field('gauge', 'Gauge')} placeholder="capacitance, Pirani" maxLength={100} />
        </SimpleGrid>
        <Derived>
          {oxygenPa === null
            ? 'Oxygen pressure: needs a pressure'
            : `Oxygen pressure ${pressureText(oxygenPa / PA_PER_ATM)} (${Number(oxygenPa.toPrecision(4))} Pa)`}
        </Derived>
      </Fieldset>
      <Textarea {...field('note', 'Note')} autosize minRows={1} maxLength={20_000} />
      <Disclosure title={`Cautions for this work: ${SOURCE_CAUTIONS[draft.source].join(', ')}`}>
        <Cautions cautions={workCautions(SOURCE_CAUTIONS[draft.source])} />
      </Disclosure>
    </Stack>
  );
}

/** Fluence in the unit of the trade. */
export function fluenceText({
  value,
  standardUncertainty,
}: {
  value: number;
  standardUncertainty: number | null;
}): string {
  const u = standardUncertainty === null ? null : standardUncertainty * 1e-4;
  return `${uncertainText(value * 1e-4, u)} J/cm²${u === null ? ' (no uncertainty stated)' : ''}`;
}
