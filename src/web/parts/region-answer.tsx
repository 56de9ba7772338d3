import { Alert, Button, Group, Text } from '@mantine/core';
import type { FieldsAnswer } from '../../charts/ternary/fields-on-triangle.ts';
import { type GrowthCondition, isEquilibrium } from '../reading.ts';
import { companions, EVEN_ODDS, regionOf } from '../region-words.ts';

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
}

/** In words: where liquid and 123 live together, how wide that is, what comes with them; and what to read where nothing is. */
export function RegionAnswer({ answer, bulk, rareEarth, condition, onCondition, of }: RegionAnswerProps) {
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
            <Button
              size="compact-sm"
              variant="light"
              onClick={() => onCondition({ ...condition, meltOffsetJPerMol: -3000 })}
            >
              Set the melt free by 3 kJ/mol
            </Button>
          </Group>
        </Alert>
      ) : null}
    </div>
  );
}
