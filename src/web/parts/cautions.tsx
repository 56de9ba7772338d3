import { List, Stack, Text } from '@mantine/core';
import { CAUTIONS } from '../../science/tables/cautions.ts';

/** The usual caution of one matter or kind of work, as the tables and the catalogue give it. */
export interface CautionText {
  matter: string;
  statement: string;
  codes: readonly string[];
  source: string;
}

/** Cautions of kinds of work, by the names the table uses: laser, vacuum, furnace, oxygen. */
export function workCautions(names: readonly string[]): CautionText[] {
  return CAUTIONS.records
    .filter((row) => row.kind === 'work' && row.formulas.some((name) => names.includes(name)))
    .map(({ matter, statement, codes, source, tag }) => ({
      matter,
      statement,
      codes,
      source: `${source} ${tag}`,
    }));
}

/** Said once under the cautions, so that it stands there whichever of them are shown. */
const DEFERENCE =
  'Usual cautions only: local rules and the responsible licensed person decide; the supplier’s safety data sheet prevails.';
/** The same at the end of each row of the table. */
const ROW_DEFERENCE =
  " Local rules and the responsible person decide; the supplier's safety data sheet prevails.";

/** Cautions with their codes and sources. */
export function Cautions({ cautions }: { cautions: readonly CautionText[] }) {
  return (
    <Stack gap={4}>
      <List size="sm" spacing={4}>
        {cautions.map(({ matter, statement, codes, source }) => (
          <List.Item key={matter}>
            <Text span fw={600} size="sm">
              {matter}
            </Text>
            {codes.length > 0 ? ` (${codes.join(', ')})` : ''}: {statement.replace(ROW_DEFERENCE, '')}{' '}
            <Text span size="xs" c="dimmed">
              {source}
            </Text>
          </List.Item>
        ))}
      </List>
      <Text size="sm" fw={600}>
        {DEFERENCE}
      </Text>
    </Stack>
  );
}
