import {
  ActionIcon,
  Button,
  Group,
  List,
  Paper,
  Select,
  Stack,
  Text,
  Textarea,
  TextInput,
  Title,
} from '@mantine/core';
import { useState } from 'react';
import { criterionText, FACT_TRADE_UNITS, pressureText } from '../../charts/trade-text.ts';
import { type Criterion, FACT_UNITS, type FactName } from '../../records/criteria.ts';
import type { Series } from '../../records/kinds.ts';
import type { SeriesView } from '../../records/series-view.ts';
import type { GrowthCondition } from '../reading.ts';
import { reviseRecord, useChange } from '../records.ts';
import { LimitedNumber } from './limited-number.tsx';
import { ProblemNotice } from './problem-notice.tsx';

const FACT_NAMES = Object.keys(FACT_UNITS) as FactName[];

function CriterionForm({ onAdd }: { onAdd: (criterion: Criterion) => void }) {
  const [fact, setFact] = useState<string | null>('tcMidpointK');
  const [comparison, setComparison] = useState<string | null>('at least');
  const [wanted, setWanted] = useState<number | ''>('');
  const [relativeTo, setRelativeTo] = useState<string | null>('nothing');
  const [temperatureK, setTemperatureK] = useState<number | ''>('');
  const [fieldT, setFieldT] = useState<number | ''>('');
  const [phase, setPhase] = useState('');
  const isPhase = fact === 'phase';
  const add = () => {
    if (isPhase) {
      if (phase.trim())
        onAdd({
          kind: 'phase',
          phase: phase.trim(),
          wanted: comparison === 'present' ? 'present' : 'absent',
        });
      return;
    }
    if (typeof wanted !== 'number' || wanted <= 0) return;
    const name = fact as FactName;
    const at = {
      ...(typeof temperatureK === 'number' ? { temperatureK } : {}),
      ...(typeof fieldT === 'number' ? { fieldT } : {}),
    };
    const isRelative = relativeTo === 'benchmark';
    onAdd({
      kind: 'number',
      fact: name,
      ...(Object.keys(at).length > 0 ? { at } : {}),
      comparison: comparison === 'at most' ? 'at most' : 'at least',
      wanted: isRelative ? wanted : wanted / FACT_TRADE_UNITS[name].factor,
      relativeTo: isRelative ? 'benchmark' : 'nothing',
    });
  };
  return (
    <Group align="flex-end" gap="xs">
      <Select
        label="Criterion"
        w={200}
        data={[
          ...FACT_NAMES.map((name) => ({ value: name, label: FACT_TRADE_UNITS[name].label })),
          { value: 'phase', label: 'A phase' },
        ]}
        value={fact}
        allowDeselect={false}
        onChange={(value) => {
          setFact(value);
          setComparison(value === 'phase' ? 'absent' : 'at least');
        }}
      />
      {isPhase ? (
        <TextInput
          label="Phase"
          placeholder="BaCuO2"
          w={140}
          value={phase}
          onChange={(event) => setPhase(event.currentTarget.value)}
        />
      ) : null}
      <Select
        label="Wanted"
        w={120}
        allowDeselect={false}
        data={isPhase ? ['absent', 'present'] : ['at least', 'at most']}
        value={comparison}
        onChange={setComparison}
      />
      {isPhase ? null : (
        <>
          <LimitedNumber
            label={
              relativeTo === 'benchmark'
                ? 'Share of benchmark'
                : `Value, ${FACT_TRADE_UNITS[fact as FactName].unit}`
            }
            w={130}
            limits={{ min: 0 }}
            value={wanted}
            onChange={(value) => setWanted(value ?? '')}
          />
          <Select
            label="Relative to"
            w={130}
            allowDeselect={false}
            data={['nothing', 'benchmark']}
            value={relativeTo}
            onChange={setRelativeTo}
          />
          <LimitedNumber
            label="At, K"
            w={80}
            limits={{ min: 0, unit: 'K' }}
            value={temperatureK}
            onChange={(value) => setTemperatureK(value ?? '')}
          />
          <LimitedNumber
            label="In, T"
            w={80}
            limits={{ min: 0, unit: 'T' }}
            value={fieldT}
            onChange={(value) => setFieldT(value ?? '')}
          />
        </>
      )}
      <Button variant="light" onClick={add}>
        Add criterion
      </Button>
    </Group>
  );
}

/** What the series asks of a film, and what it is compared with. */
export function SeriesAim({ view, condition }: { view: SeriesView; condition: GrowthCondition }) {
  const { series } = view;
  const revise = useChange((change: Partial<Series>) =>
    reviseRecord<'series'>(series, { ...series.body, ...change }),
  );
  const [aim, setAim] = useState(series.body.aim);
  const pieces = view.pieces.map((piece) => ({ value: piece.id, label: piece.body.label }));
  const { criteria, growth, benchmarkPieceId, controlPieceId } = series.body;
  return (
    <Paper withBorder p="md">
      <Stack>
        <Title order={2}>What the series asks of a film</Title>
        <ProblemNotice error={revise.error} />
        <Textarea
          label="Aim"
          autosize
          value={aim}
          maxLength={2000}
          onChange={(event) => setAim(event.currentTarget.value)}
          onBlur={() => aim !== series.body.aim && revise.mutate({ aim })}
        />
        <List listStyleType="none" spacing={4}>
          {criteria.map((criterion, i) => (
            <List.Item key={criterionText(criterion)}>
              <Group gap="xs">
                <Text>{criterionText(criterion)}</Text>
                <ActionIcon
                  variant="subtle"
                  color="gray"
                  aria-label={`Remove criterion: ${criterionText(criterion)}`}
                  onClick={() => revise.mutate({ criteria: criteria.filter((_, j) => j !== i) })}
                >
                  ×
                </ActionIcon>
              </Group>
            </List.Item>
          ))}
        </List>
        {criteria.length === 0 ? (
          <Text c="dimmed">No criterion is set: no film can pass or fall short.</Text>
        ) : null}
        <CriterionForm onAdd={(criterion) => revise.mutate({ criteria: [...criteria, criterion] })} />
        <Group>
          <Select
            label="Benchmark piece"
            data={pieces}
            searchable
            clearable
            value={benchmarkPieceId}
            onChange={(value) => revise.mutate({ benchmarkPieceId: value })}
          />
          <Select
            label="Control piece"
            data={pieces}
            searchable
            clearable
            value={controlPieceId}
            onChange={(value) => revise.mutate({ controlPieceId: value })}
          />
        </Group>
        <Group>
          <Text size="sm">
            The triangle opens at {growth.temperatureC} °C, {pressureText(growth.po2Atm)}, and proposals use
            that.
          </Text>
          <Button
            size="compact-sm"
            variant="light"
            onClick={() =>
              revise.mutate({
                growth: {
                  temperatureC: condition.temperatureC,
                  po2Atm: condition.po2Atm,
                  meltOffsetJPerMol: condition.meltOffsetJPerMol,
                },
              })
            }
          >
            Open at what is shown now
          </Button>
        </Group>
      </Stack>
    </Paper>
  );
}
