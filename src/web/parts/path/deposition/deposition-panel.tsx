import { Checkbox, NativeSelect, Stack, Text } from '@mantine/core';
import { useMemo, useState } from 'react';
import { ratioText } from '../../../../charts/trade-text.ts';
import type { CationRatio, Stated } from '../../../../records/common.ts';
import type { SeriesView } from '../../../../records/series-view.ts';
import { useComputation } from '../../../compute.ts';
import { quantityText, timeText } from '../../../drafts/answer-words.ts';
import { depositionAsk, type Origin } from '../../../drafts/deposition-ask.ts';
import {
  type CalibrationGroup,
  calibrationGroups,
  filmTimes,
  groupFor,
  missingForCalibration,
  sourceRates,
} from '../../../drafts/pulse-calibrations.ts';
import type { InputTexts } from '../../../drafts/stated-inputs.ts';
import { Disclosure } from '../../disclosure.tsx';
import { InputFields } from '../consequences/input-fields.tsx';
import { Panel, RestsOn } from '../consequences/panel.tsx';
import { placedRefusal } from '../consequences/placed-refusal.ts';
import { type DepositionAnswer, FilmTimesTable, GroupTable, PlumeAnswer } from './deposition-tables.tsx';

const FORMULAS = [
  'Thickness per pulse b: slope of thickness over pulses through the origin, weighted by 1/u²; scatter beyond what is stated widens its uncertainty [derived: least squares].',
  'Pulses N = h / b; the interval is for one more film, whose own scatter comes on top, with Student’s t [memory: prediction interval of a line].',
  'Plume of a point source: h(r) / h(0) = (1 + r² / d²)^(−(n + 3)/2), averaged over the turn where the substrate turns [derived]. Gas flattens a plume and composition changes with angle: neither is in it.',
];

interface DepositionPanelProps {
  view: SeriesView;
  thicknessNm: Stated | null;
  /** of the film wanted; null: not known yet */
  cations: CationRatio | null;
}

/** What a wanted thickness takes: pulses and time from this series' films, or a rate; and how even it comes out. */
export function DepositionPanel({ view, thicknessNm, cations }: DepositionPanelProps) {
  const [texts, setTexts] = useState<InputTexts>({});
  const [chosen, setChosen] = useState('');
  const [isTurning, setIsTurning] = useState(false);
  const groups = useMemo(() => calibrationGroups(view), [view]);
  const rates = useMemo(() => sourceRates(view), [view]);
  const origin = useMemo(
    () => originOf(chosen || firstChoice(groupFor(view, groups, cations)), groups, rates),
    [chosen, view, groups, rates, cations],
  );
  const distanceMm = origin.kind === 'pulses' ? origin.group.distanceMm : null;
  const ask = useMemo(
    () =>
      depositionAsk({ origin, groups, wantedNm: thicknessNm?.value ?? null, distanceMm, isTurning }, texts),
    [origin, groups, thicknessNm, distanceMm, isTurning, texts],
  );
  const computed = useComputation<DepositionAnswer>('growth.deposition', ask.thickness);
  const plume = useComputation<DepositionAnswer>('growth.deposition', ask.plume);
  const specs = [...ask.specs, ...ask.plumeSpecs];
  const byThickness = placedRefusal(ask.thickness ? computed.error : null, ask.specs, ask.faults);
  const byPlume = placedRefusal(ask.plume ? plume.error : null, ask.plumeSpecs, byThickness.faults);
  const answer = ask.thickness ? computed.response : null;
  const plumeAnswer = ask.plume ? (plume.response?.plume ?? null) : null;
  const times = useMemo(() => filmTimes(view), [view]);
  const fieldProps = { texts, faults: byPlume.faults, onChange: setTexts };
  return (
    <Panel
      question="What does the deposition need?"
      answer={answer && depositionSentence(answer, origin)}
      waiting={waitingFor(view, origin)}
      run={computed}
      error={byThickness.error ?? byPlume.error}
      inputs={
        <Stack gap="xs">
          <NativeSelect
            size="xs"
            label="Thickness comes from"
            maw={420}
            value={choiceOf(origin)}
            data={[
              ...groups.map(({ name, films }) => ({
                value: `pulses ${name}`,
                label: `${name}: ${films.length} measured`,
              })),
              ...rates.map(({ name }) => ({ value: `rate ${name}`, label: `rate of run ${name}` })),
              { value: 'none', label: 'a rate stated below' },
            ]}
            onChange={(event) => setChosen(event.currentTarget.value)}
          />
          <InputFields specs={ask.specs} {...fieldProps} />
          <Text size="sm" fw={500}>
            Plume and substrate
          </Text>
          <InputFields specs={ask.plumeSpecs} {...fieldProps} />
          <Checkbox
            size="xs"
            label="The substrate turns"
            checked={isTurning}
            onChange={(event) => setIsTurning(event.currentTarget.checked)}
          />
        </Stack>
      }
      restsOn={
        <RestsOn
          formulas={FORMULAS}
          flags={[...(answer?.flags ?? []), ...(plumeAnswer ? (plume.response?.flags ?? []) : [])]}
          specs={specs}
        />
      }
    >
      {cations ? (
        <Text size="xs" c="dimmed">
          For a film of {ratioText(cations)}. The yield is taken as the target’s, whatever ratio the film
          comes out with.
        </Text>
      ) : null}
      {origin.kind === 'pulses' && origin.group.distancesMm.length > 0 ? (
        <Text size="sm">
          Films of this group were grown at {origin.group.distancesMm.join(', ')} mm from the target: their
          yields differ for that alone.
        </Text>
      ) : null}
      {answer && answer.groups.length > 0 ? <GroupTable answer={answer} /> : null}
      <PlumeAnswer plume={plumeAnswer} isTurning={isTurning} />
      {times.length > 0 ? (
        <Disclosure title={`Time that ${times.length} recorded films took`}>
          <FilmTimesTable times={times} />
        </Disclosure>
      ) : null}
    </Panel>
  );
}

function originOf(
  chosen: string,
  groups: readonly CalibrationGroup[],
  rates: ReturnType<typeof sourceRates>,
): Origin {
  const group = groups.find(({ name }) => chosen === `pulses ${name}`);
  if (group) return { kind: 'pulses', group };
  const rate = rates.find(({ name }) => chosen === `rate ${name}`) ?? (chosen === '' ? rates[0] : undefined);
  return rate ? { kind: 'rate', rate } : { kind: 'none' };
}

const firstChoice = (group: CalibrationGroup | undefined): string => (group ? `pulses ${group.name}` : '');

function choiceOf(origin: Origin): string {
  if (origin.kind === 'pulses') return firstChoice(origin.group);
  return origin.kind === 'rate' ? `rate ${origin.rate.name}` : 'none';
}

function waitingFor(view: SeriesView, origin: Origin): string {
  if (origin.kind === 'pulses') return 'State the wanted thickness to see the pulses that it needs.';
  if (origin.kind === 'rate') return 'State the wanted thickness to see the time that it needs.';
  return `No calibration yet. ${missingForCalibration(view).join(' ')} Until then, state a rate.`;
}

function depositionSentence(answer: DepositionAnswer, origin: Origin): string | null {
  const { pulses, pulsesInterval, time } = answer;
  if (origin.kind !== 'pulses') return time ? `It takes ${timeText(time)}.` : null;
  const group = answer.groups.find(({ group: name }) => name === origin.group.name);
  if (!pulses) {
    return group?.nmPerPulse
      ? `${quantityText(group.nmPerPulse, 'nm per pulse')}; state the wanted thickness to see the pulses.`
      : null;
  }
  const whole = (value: number): string => String(Math.round(value));
  const interval = pulsesInterval
    ? ` (for one more film ${whole(pulsesInterval.low)} to ${whole(pulsesInterval.high)})`
    : '';
  const rate = group?.growthRateNmPerS ? ` at ${quantityText(group.growthRateNmPerS, 'nm/s')}` : '';
  const lasting = time ? `, ${timeText(time)}${rate}` : '';
  return `It takes ${quantityText(pulses, 'pulses')}${interval}${lasting}.`;
}
