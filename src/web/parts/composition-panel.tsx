import { Button, Group, Paper, Stack, Text, TextInput, Title } from '@mantine/core';
import { Link } from '@tanstack/react-router';
import { useEffect, useState } from 'react';
import { ratioText } from '../../charts/trade-text.ts';
import type { CationRatio } from '../../records/common.ts';
import type { Sink } from '../../science/equilibrium/film-composition.ts';
import { placeInTriangle } from '../../science/matter/cation-ratios.ts';
import { ratioParameter, readRatio } from '../compositions.ts';
import { conditionText, type GrowthCondition } from '../reading.ts';
import { useReadings } from '../readings.ts';
import { AssemblageAnswer } from './assemblage-answer.tsx';
import { ProblemNotice } from './problem-notice.tsx';
import { SinkFields } from './sink-fields.tsx';

interface CompositionPanelProps {
  seriesId: string;
  rareEarth: string;
  selected: CationRatio | null;
  onSelect: (cations: CationRatio) => void;
  condition: GrowthCondition;
}

/** What stands at the composition clicked or typed, how sure that is, and the way to its target. */
export function CompositionPanel({
  seriesId,
  rareEarth,
  selected,
  onSelect,
  condition,
}: CompositionPanelProps) {
  const [text, setText] = useState('');
  const [fault, setFault] = useState<string | null>(null);
  useEffect(() => {
    if (!selected) return;
    setText(ratioText(selected));
    setFault(null);
  }, [selected]);
  const [sink, setSink] = useState<Sink | null>(null);
  const { readings, superconductor, error } = useReadings(selected, condition, sink);
  const shares = placeInTriangle(selected);
  const take = () => {
    const read = readRatio(text, rareEarth);
    if ('fault' in read) setFault(read.fault);
    else {
      setFault(null);
      onSelect(read.cations);
    }
  };
  return (
    <Paper withBorder p="sm">
      <Stack gap="xs">
        <Title order={2}>At one composition</Title>
        <form
          onSubmit={(event) => {
            event.preventDefault();
            take();
          }}
        >
          <Group align="flex-end" wrap="nowrap">
            <TextInput
              label="Cation ratio"
              description={`${rareEarth}:Ba:Cu such as 1:2:3, or click in the triangle`}
              value={text}
              error={fault}
              onChange={(event) => {
                setText(event.currentTarget.value);
                setFault(null);
              }}
              style={{ flex: 1 }}
            />
            <Button type="submit" variant="light">
              Look
            </Button>
          </Group>
        </form>
        <ProblemNotice error={error} />
        {selected && shares && readings && !fault ? (
          <>
            <Text size="sm">
              At {ratioText(selected)}, {conditionText(condition)}
            </Text>
            <AssemblageAnswer readings={readings} superconductor={superconductor} />
            <SinkFields sink={sink} onChange={setSink} />
            <Button
              renderRoot={(props) => (
                <Link
                  to="/series/$seriesId/target"
                  params={{ seriesId }}
                  search={{ ratio: ratioParameter(selected, rareEarth) }}
                  {...props}
                />
              )}
            >
              Weigh a target of this
            </Button>
            <Button
              variant="light"
              renderRoot={(props) => (
                <Link
                  to="/series/$seriesId/temperature-oxygen"
                  params={{ seriesId }}
                  search={{ ratio: ratioParameter(selected, rareEarth) }}
                  {...props}
                />
              )}
            >
              Over temperature and oxygen
            </Button>
            <Button
              variant="light"
              renderRoot={(props) => (
                <Link
                  to="/series/$seriesId/path"
                  params={{ seriesId }}
                  search={{ ratio: ratioParameter(selected, rareEarth) }}
                  {...props}
                />
              )}
            >
              Plan a heat path
            </Button>
          </>
        ) : (
          <Text size="sm" c="dimmed">
            Click in the triangle, or type a ratio.
          </Text>
        )}
      </Stack>
    </Paper>
  );
}
