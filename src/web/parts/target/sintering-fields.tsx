import { Button, Group, NativeSelect, Stack, Text, TextInput } from '@mantine/core';
import { presetSegments, SINTERING_PRESETS, type SinterAnswer } from '../../drafts/sintering-draft.ts';
import type { ReadTarget, TargetDraft } from '../../drafts/target-draft.ts';
import { inWords } from '../../drafts/target-words.ts';
import { newId } from '../../records.ts';
import { PathFigure } from '../path-figure.tsx';
import { type FormProps, textFields } from '../record-forms/fields.ts';
import { SegmentRows } from '../record-forms/segment-rows.tsx';
import { OxygenState } from './oxygen-state.tsx';

interface SinteringFieldsProps extends FormProps<TargetDraft> {
  read: ReadTarget;
  /** what is predicted of these steps; null while nothing is */
  oxygen: SinterAnswer | null;
  /** why nothing can be predicted */
  oxygenError: Error | null;
}

/** Why, in the words of the science; nothing where the reason is not about the firing. */
function reasonOf(error: Error): string {
  const {
    sentence,
    remedy = '',
    code,
  } = error as Error & { sentence?: string; remedy?: string; code?: string };
  if (sentence === undefined || code === 'COMPUTATION_UNKNOWN') return ' here';
  return `: ${inWords(`${sentence} ${remedy}`.trim()).replace(/\.$/, '')}`;
}

/** In which gas, how hot and how long the target is fired, and what that leaves of oxygen. */
export function SinteringFields(props: SinteringFieldsProps) {
  const { draft, onChange, read, oxygen, oxygenError } = props;
  const field = textFields(props);
  const { readable } = read;
  const setRows = (segments: TargetDraft['segments']) => onChange({ ...draft, segments });
  return (
    <Stack gap="xs">
      <Group gap="xs">
        <Text size="sm">Begin with</Text>
        {SINTERING_PRESETS.map((name) => (
          <Button
            key={name}
            size="compact-sm"
            variant="light"
            onClick={() => setRows([...draft.segments, ...presetSegments(name, newId)])}
          >
            {name}
          </Button>
        ))}
        {draft.segments.length > 0 ? (
          <Button size="compact-sm" variant="subtle" color="gray" onClick={() => setRows([])}>
            Clear the steps
          </Button>
        ) : null}
        <Text size="xs" c="dimmed">
          [common practice] for Y; added after the steps that stand here. Set them to your furnace.
        </Text>
      </Group>
      <SegmentRows
        rows={draft.segments}
        onChange={setRows}
        faults={props.faults}
        isTried={props.isTried}
        prefix="step."
      />
      {draft.segments.length > 0 ? (
        <Group gap="sm" align="flex-start">
          <TextInput {...field('grainRadiusUm', 'Grain radius, µm')} placeholder="5" w={130} />
          <NativeSelect
            label="Open pores"
            w={130}
            value={draft.isPorous}
            data={[
              { value: '', label: 'not stated' },
              { value: 'yes', label: 'reach inside' },
              { value: 'no', label: 'none, dense' },
            ]}
            onChange={(event) =>
              onChange({ ...draft, isPorous: event.currentTarget.value as TargetDraft['isPorous'] })
            }
          />
          <TextInput {...field('gasSccmPerG', 'Gas flow, sccm per g')} placeholder="2" w={150} />
          <TextInput {...field('temperatureUK', 'Doubt of temperature, K')} placeholder="10" w={180} />
        </Group>
      ) : (
        <TextInput {...field('sinterGas', 'Sintered in, where no steps are written down')} maxLength={100} />
      )}
      {oxygen ? <OxygenState answer={oxygen} /> : null}
      {oxygenError && !oxygen ? (
        <Text size="sm" role="status">
          The oxygen that this firing leaves is not predicted{reasonOf(oxygenError)}.
        </Text>
      ) : null}
      {readable.length > 0 ? <PathFigure title="Firing of the target" segments={readable} /> : null}
    </Stack>
  );
}
