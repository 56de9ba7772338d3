import {
  Autocomplete,
  Button,
  Fieldset,
  Group,
  Menu,
  NativeSelect,
  SimpleGrid,
  Text,
  TextInput,
} from '@mantine/core';
import type { ReactNode } from 'react';
import { uncertainText } from '../../../charts/number-text.ts';
import type { Chamber, PathPlan } from '../../../records/kinds.ts';
import { THERMAL_EXPANSION } from '../../../science/tables/thermal-expansion.ts';
import type { PathDraft } from '../../drafts/path-draft.ts';
import { PRESETS, withPreset } from '../../drafts/path-presets.ts';
import { withTypedAs } from '../../drafts/typed-as.ts';
import type { AnsweredStep } from '../../path/path-request.ts';
import { sensorOffsetK } from '../../path/path-request.ts';
import { type FormProps, shownFault, textFields } from '../record-forms/fields.ts';
import { PressureField } from '../record-forms/pressure-field.tsx';
import { sayDone } from '../undo-notice.tsx';
import { StepRows } from './step-rows.tsx';

const SUBSTRATES = THERMAL_EXPANSION.records.filter(({ role }) => role === 'substrate').map(({ id }) => id);

/** What the temperatures of the form are, and what the chamber adds. */
function offsetWords(chamber: Chamber | null, offsetK: number | null, isReading: boolean): string {
  if (!chamber || offsetK === null)
    return chamber?.temperaturePlace === 'surface'
      ? `Every temperature here is the surface's, which ${chamber.label} reads itself.`
      : "Every temperature here is the surface's; a chamber with an offset says beside each step what its sensor reads.";
  const u = chamber.offsetK?.standardUncertainty ?? null;
  return isReading
    ? `Typed as the ${chamber.temperaturePlace} of ${chamber.label} reads; ${uncertainText(offsetK, u)} K are added for the surface, which stands beside each step.`
    : `Every temperature here is the surface's; the ${chamber.temperaturePlace} of ${chamber.label} reads ${Math.abs(offsetK)} K ${offsetK < 0 ? 'more' : 'less'}, as beside each step.`;
}

interface PlanFormProps extends FormProps<PathDraft> {
  placed: readonly AnsweredStep[];
  chamber: Chamber | null;
  rareEarth: string;
  /** choice of the chamber */
  children: ReactNode;
}

/** The film that is meant, the chamber, and the path step by step. */
export function PlanForm(props: PlanFormProps) {
  const { draft, onChange, placed, chamber, rareEarth, children } = props;
  const field = textFields(props);
  const offsetK = sensorOffsetK(chamber);
  const isReading = draft.typedAs === 'reading' && offsetK !== null;
  return (
    <>
      <Fieldset legend="Film and route" variant="filled">
        <SimpleGrid cols={{ base: 2, sm: 4 }} spacing="sm" verticalSpacing="xs">
          <TextInput {...field('ratio', 'Cation ratio')} placeholder={`${rareEarth}:Ba:Cu as 1:2:3`} />
          <TextInput {...field('thicknessNm', 'Thickness, nm')} placeholder="500 ± 20" />
          <Autocomplete
            label="Substrate"
            value={draft.substrate}
            maxLength={200}
            data={SUBSTRATES}
            onChange={(substrate) => onChange({ ...draft, substrate })}
          />
          <NativeSelect
            label="Route"
            value={draft.route}
            data={['in situ', 'ex situ', 'not stated']}
            onChange={(event) =>
              onChange({ ...draft, route: event.currentTarget.value as PathPlan['route'] })
            }
          />
        </SimpleGrid>
      </Fieldset>
      {children}
      <Fieldset
        legend={isReading ? 'Path, as the sensor reads it' : "Path, as the surface's temperature"}
        variant="filled"
      >
        <Group align="flex-end" gap="sm" mb="xs">
          {chamber && offsetK !== null ? (
            <NativeSelect
              label="Temperatures typed as"
              w={190}
              value={isReading ? 'reading' : 'surface'}
              data={[
                { value: 'surface', label: "the surface's" },
                { value: 'reading', label: `reading of ${chamber.label}` },
              ]}
              onChange={(event) =>
                onChange(withTypedAs(draft, event.currentTarget.value as PathDraft['typedAs'], offsetK))
              }
            />
          ) : null}
          <TextInput {...field('startC', 'Starts at, °C')} w={120} inputMode="decimal" required />
          <div style={{ width: 190 }}>
            <PressureField
              label="in oxygen of"
              value={draft.startPo2}
              unit={draft.startPo2Unit}
              error={shownFault(props, 'startPo2', draft.startPo2)}
              onChange={(startPo2, startPo2Unit) => onChange({ ...draft, startPo2, startPo2Unit })}
            />
          </div>
          <Menu position="bottom-start">
            <Menu.Target>
              <Button variant="light">Begin from common practice</Button>
            </Menu.Target>
            <Menu.Dropdown>
              {PRESETS.map((preset) => (
                <Menu.Item
                  key={preset.id}
                  onClick={() => {
                    const before = draft;
                    onChange(withPreset(draft, preset));
                    sayDone({
                      message: `Began from common practice, ${preset.label}. Change every number to yours.`,
                      undo: async () => onChange(before),
                      refresh: () => undefined,
                    });
                  }}
                >
                  {preset.label}
                </Menu.Item>
              ))}
            </Menu.Dropdown>
          </Menu>
        </Group>
        <Text size="xs" c="dimmed" mb="xs">
          {offsetWords(chamber, offsetK, isReading)}
        </Text>
        <StepRows {...props} placed={placed} chamber={chamber} />
      </Fieldset>
    </>
  );
}
