import { Group, RangeSlider, SegmentedControl, Stack, Switch, Text } from '@mantine/core';
import { useMemo, useState } from 'react';
import type { MeasurementView } from '../../api/contract.ts';
import type { AxisKind } from '../../charts/axis.ts';
import { curveScene } from '../../charts/curve-chart.ts';
import type {
  LogAnswer,
  LoopAnswer,
  MagneticAnswer,
  ResistiveAnswer,
  ScanAnswer,
  VoltageAnswer,
} from '../../charts/measurement/answers.ts';
import { logFigures } from '../../charts/measurement/chamber-log.ts';
import { voltageFigure } from '../../charts/measurement/current-voltage.ts';
import { scanFigure } from '../../charts/measurement/diffraction.ts';
import { loopFigures } from '../../charts/measurement/loop.ts';
import { extent, type MeasuredFigure, storedCurve } from '../../charts/measurement/stored-curve.ts';
import { momentFigure, resistanceFigure, type TransitionPart } from '../../charts/measurement/transition.ts';
import { Figure } from './figure.tsx';

interface ViewProps {
  view: MeasurementView;
}

function DrawnFigure({ figure }: { figure: MeasuredFigure | null }) {
  const scene = useMemo(() => (figure ? curveScene(figure.request) : null), [figure]);
  return scene ? <Figure scene={scene} /> : <Text c="dimmed">The file has no columns for this figure.</Text>;
}

const SCALES: { value: AxisKind; label: string }[] = [
  { value: 'log', label: 'logarithm' },
  { value: 'sqrt', label: 'square root' },
  { value: 'linear', label: 'linear' },
];

function ScanFigure({ view }: ViewProps) {
  const curve = useMemo(() => storedCurve<ScanAnswer>(view), [view]);
  const [scale, setScale] = useState<AxisKind>('log');
  const whole = useMemo(
    (): [number, number] => extent(curve.column('twoThetaDeg') ?? []) ?? [0, 180],
    [curve],
  );
  const [windowDeg, setWindowDeg] = useState<[number, number] | null>(null);
  const figure = useMemo(() => scanFigure(curve, { scale, windowDeg }), [curve, scale, windowDeg]);
  const isWhole = (from: number, to: number) => from <= whole[0] && to >= whole[1];
  return (
    <Stack gap="xs">
      <Group gap="md" align="center">
        <SegmentedControl
          size="xs"
          aria-label="Scale of the counts"
          value={scale}
          onChange={(value) => setScale(value as AxisKind)}
          data={SCALES}
        />
        <Group gap="xs" wrap="nowrap" style={{ flex: '1 1 18rem' }}>
          <Text size="xs" c="dimmed" style={{ whiteSpace: 'nowrap' }}>
            {(windowDeg ?? whole).map((degrees) => degrees.toFixed(1)).join(' to ')}°
          </Text>
          <RangeSlider
            style={{ flex: 1 }}
            size="sm"
            label={null}
            min={whole[0]}
            max={whole[1]}
            minRange={1}
            step={0.1}
            value={windowDeg ?? whole}
            onChange={([from, to]) => setWindowDeg(isWhole(from, to) ? null : [from, to])}
            thumbFromLabel="2θ shown from, degrees"
            thumbToLabel="2θ shown to, degrees"
          />
        </Group>
      </Group>
      <DrawnFigure figure={figure} />
    </Stack>
  );
}

const PARTS: TransitionPart[] = ['transition', 'whole curve'];

function TransitionFigure({ view }: ViewProps) {
  const [part, setPart] = useState<TransitionPart>('transition');
  const figure = useMemo(
    () =>
      view.measurement.body.mapping.kind === 'resistance'
        ? resistanceFigure(storedCurve<ResistiveAnswer>(view), part)
        : momentFigure(storedCurve<MagneticAnswer>(view), part),
    [view, part],
  );
  return (
    <Stack gap="xs" align="flex-start">
      <SegmentedControl
        size="xs"
        aria-label="Part of the curve shown"
        value={part}
        onChange={(value) => setPart(value as TransitionPart)}
        data={PARTS}
      />
      <DrawnFigure figure={figure} />
    </Stack>
  );
}

function VoltageFigure({ view }: ViewProps) {
  const [isLog, setLog] = useState(false);
  const figure = useMemo(() => voltageFigure(storedCurve<VoltageAnswer>(view), isLog), [view, isLog]);
  return (
    <Stack gap="xs">
      <Switch
        size="sm"
        label="Both axes in logarithms, offset taken off"
        checked={isLog}
        onChange={(event) => setLog(event.currentTarget.checked)}
      />
      <DrawnFigure figure={figure} />
    </Stack>
  );
}

function LoopFigures({ view }: ViewProps) {
  const figures = useMemo(() => loopFigures(storedCurve<LoopAnswer>(view)), [view]);
  return (
    <Stack gap="xs">
      {figures.map((figure) => (
        <DrawnFigure key={figure.id} figure={figure} />
      ))}
    </Stack>
  );
}

function LogFigures({ view }: ViewProps) {
  const figures = useMemo(() => logFigures(storedCurve<LogAnswer>(view)), [view]);
  return (
    <Stack gap="xs">
      {figures.map((figure) => (
        <DrawnFigure key={figure.id} figure={figure} />
      ))}
    </Stack>
  );
}

/** The measured curve with its reduction drawn on it. */
export function MeasuredFigures({ view }: ViewProps) {
  switch (view.measurement.body.mapping.kind) {
    case 'diffraction scan':
      return <ScanFigure view={view} />;
    case 'resistance':
    case 'magnetic transition':
      return <TransitionFigure view={view} />;
    case 'current-voltage':
      return <VoltageFigure view={view} />;
    case 'magnetisation loop':
      return <LoopFigures view={view} />;
    case 'chamber log':
      return <LogFigures view={view} />;
  }
}
