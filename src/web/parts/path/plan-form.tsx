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
import type { Chamber, PathPlan } from '../../../records/kinds.ts';
import { THERMAL_EXPANSION } from '../../../science/tables/thermal-expansion.ts';
import type { PathDraft } from '../../drafts/path-draft.ts';
import { PRESETS, withPreset } from '../../drafts/path-presets.ts';
import type { AnsweredStep } from '../../path/path-request.ts';
import { readingC } from '../../path/path-request.ts';
import { type FormProps, shownFault, textFields } from '../record-forms/fields.ts';
import { PressureField } from '../record-forms/pressure-field.tsx';
import { sayDone } from '../undo-notice.tsx';
import { StepRows } from './step-rows.tsx';

const SUBSTRATES = THERMAL_EXPANSION.records.filter(({ role }) => role === 'substrate').map(({ id }) => id);

/** `PLD 1: the heater block reads 20 K more than the surface, 45 °C at the start.` */
function offsetWords({ label, temperaturePlace, offsetK }: Chamber, startReadingC: number): string {
  const offset = offsetK!.value;
  const start = Number.isFinite(startReadingC) ? `, ${Number(startReadingC.toFixed(1))} °C at the start` : '';
  return `${label}: the ${temperaturePlace} reads ${Math.abs(offset)} K ${offset < 0 ? 'more' : 'less'} than the surface${start}.`;
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
  const startC = Number(draft.startC);
  const reading = draft.startC.trim() === '' ? null : readingC(startC, chamber);
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
      <Fieldset legend="Path, as the surface's temperature" variant="filled">
        <Group align="flex-end" gap="sm" mb="xs">
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
          Every temperature here is the surface's.{' '}
          {reading === null
            ? chamber?.temperaturePlace === 'surface'
              ? `${chamber.label} reads the surface itself.`
              : 'A chamber with an offset says beside each step what its sensor reads.'
            : offsetWords(chamber!, reading)}
        </Text>
        <StepRows {...props} placed={placed} chamber={chamber} />
      </Fieldset>
    </>
  );
}
