import { Alert, Button, Group, Text } from '@mantine/core';
import { useMutation } from '@tanstack/react-query';
import { useEffect, useRef } from 'react';
import type { FieldsAnswer } from '../../charts/ternary/fields-on-triangle.ts';
import { meltLoweringFor } from '../melt-lowering.ts';
import { type GrowthCondition, isEquilibrium } from '../reading.ts';
import { companions, EVEN_ODDS, regionOf } from '../region-words.ts';
import { ProblemNotice } from './problem-notice.tsx';

const percents = ({ low, high }: { low: number; high: number }): string =>
  `${Number((100 * low).toFixed(1))}–${Number((100 * high).toFixed(1))}`;
const MOST_COMPANIONS = 5;

const partText = (part: number): string => `${(100 * part).toFixed(part < 0.1 ? 1 : 0)} %`;

/** Where, how wide, and what stands beside them, in one reading. */
function sentenceOf(answer: FieldsAnswer, rareEarth: string, of: string): string {
  const region = regionOf(answer);
  if (region === null) {
    const best = Math.max(0, ...Array.from(answer.oddsLiquidAnd123));
    return best > 0
      ? `Nowhere in ${of} are the odds of liquid with 123 as high as ${100 * EVEN_ODDS} %; the highest are ${(100 * best).toFixed(0)} %.`
      : `Nowhere in ${of} does any member have liquid with 123.`;
  }
  const others = companions(answer, `${rareEarth}Ba2Cu3O7`)
    .slice(0, MOST_COMPANIONS)
    .map(({ name, part }) => `${name} (${partText(part)} of it)`);
  const beside = others.length > 0 ? ` Beside them in the median member: ${others.join(', ')}.` : '';
  return `Odds of ${100 * EVEN_ODDS} % and more of liquid with 123: ${rareEarth} ${percents(region.re)}, Ba ${percents(region.ba)}, Cu ${percents(region.cu)} at%, ${partText(region.part)} of ${of}.${beside}`;
}

interface RegionAnswerProps {
  answer: FieldsAnswer;
  /** the same at equilibrium, where the answer is not */
  bulk: FieldsAnswer | null;
  rareEarth: string;
  condition: GrowthCondition;
  onCondition: (condition: GrowthCondition) => void;
  /** `the triangle`, `this strip` */
  of: string;
  /** part of the triangle that was asked about, as `equilibrium.fields` takes it */
  region: object;
}

/** Lowers the melt until liquid and 123 are as likely as not somewhere, and says when no lowering does. */
function MeltLowering({
  rareEarth,
  condition,
  onCondition,
  region,
}: Pick<RegionAnswerProps, 'rareEarth' | 'condition' | 'onCondition' | 'region'>) {
  const running = useRef<AbortController | null>(null);
  useEffect(() => () => running.current?.abort(), []);
  const { mutate, isPending, data, error } = useMutation({
    mutationFn: async () => {
      running.current = new AbortController();
      const meltOffsetJPerMol = await meltLoweringFor(rareEarth, condition, region, running.current.signal);
      if (meltOffsetJPerMol !== null) onCondition({ ...condition, meltOffsetJPerMol });
      return meltOffsetJPerMol;
    },
  });
  return (
    <>
      <Button size="compact-sm" variant="light" loading={isPending} onClick={() => mutate()}>
        Lower the melt until they do
      </Button>
      {isPending ? (
        <Button
          size="compact-sm"
          variant="subtle"
          color="gray"
          onClick={() => running.current?.abort(new DOMException('Stopped.', 'AbortError'))}
        >
          Stop
        </Button>
      ) : null}
      {data === null ? (
        <Text size="sm">Not even a melt lower by 20 kJ/mol brings liquid with 123 here.</Text>
      ) : null}
      <ProblemNotice error={error?.name === 'AbortError' ? null : error} />
    </>
  );
}

/** In words: where liquid and 123 live together, how wide that is, what comes with them; and what to read where nothing is. */
export function RegionAnswer(props: RegionAnswerProps) {
  const { answer, bulk, rareEarth, condition, onCondition, of, region } = props;
  return (
    <div role="status" aria-label="The region in words">
      <Text size="sm">{sentenceOf(answer, rareEarth, of)}</Text>
      {bulk ? (
        <Text size="sm" mt={4}>
          <strong>At equilibrium instead:</strong> {sentenceOf(bulk, rareEarth, of)}
        </Text>
      ) : null}
      {regionOf(answer) === null && isEquilibrium(condition) ? (
        <Alert variant="light" mt="xs" title="This is the reading of bulk equilibrium">
          <Text size="sm">
            Films are grown with liquid at conditions where published bulk data have none: a phase that does
            not nucleate leaves its cations to the melt, or the film's melt lies lower than the bulk's.
            Neither is known for your film, so both are yours to set.
          </Text>
          <Group gap="xs" mt="xs">
            <Button
              size="compact-sm"
              variant="light"
              onClick={() =>
                onCondition({ ...condition, heldBack: [`${rareEarth}2BaCuO5`, 'BaCu2O2', 'Cu2O'] })
              }
            >
              Hold back {rareEarth}2BaCuO5, BaCu2O2, Cu2O
            </Button>
            <MeltLowering
              key={`${condition.temperatureC} ${condition.po2Atm} ${of}`}
              rareEarth={rareEarth}
              condition={condition}
              onCondition={onCondition}
              region={region}
            />
          </Group>
        </Alert>
      ) : null}
    </div>
  );
}
