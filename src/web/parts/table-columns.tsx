import { Group, NativeSelect, NumberInput, ScrollArea, Table, Text } from '@mantine/core';
import type { TableLook } from '../imports.ts';
import {
  columnAt,
  JC_FIELD,
  type TableColumn,
  type TableMapping,
  withColumnChange,
  withField,
} from '../table-mapping.ts';

interface TableColumnsProps {
  look: TableLook;
  mapping: TableMapping;
  onChange: (mapping: TableMapping) => void;
}

const ROWS_SHOWN = 3;
const NITROGEN_K = 77;

/** Where a Jc was measured: the table's heading may not say it. */
function JcCondition({ named, onChange }: { named: TableColumn; onChange: (at: TableColumn['at']) => void }) {
  const at = named.at ?? null;
  const set = (part: 'temperatureK' | 'fieldT', value: string | number) => {
    if (typeof value === 'number') onChange({ temperatureK: NITROGEN_K, fieldT: 0, ...at, [part]: value });
    else if (value === '') onChange(null);
  };
  return (
    <Group gap={4} wrap="nowrap" mt={4}>
      <NumberInput
        size="xs"
        w={80}
        hideControls
        label="at, K"
        min={0}
        max={400}
        value={at?.temperatureK ?? ''}
        onChange={(value) => set('temperatureK', value)}
      />
      <NumberInput
        size="xs"
        w={80}
        hideControls
        label="and, T"
        min={0}
        max={100}
        value={at?.fieldT ?? ''}
        onChange={(value) => set('fieldT', value)}
      />
    </Group>
  );
}

/** One row a column of the table: its heading, what it means, its unit, and its first cells. */
export function TableColumns({ look, mapping, onChange }: TableColumnsProps) {
  return (
    <ScrollArea type="auto" viewportProps={{ tabIndex: 0, 'aria-label': 'Columns of the table' }}>
      <Table verticalSpacing={4} miw={720}>
        <Table.Thead>
          <Table.Tr>
            <Table.Th>Column</Table.Th>
            <Table.Th>First cells</Table.Th>
            <Table.Th>Means</Table.Th>
            <Table.Th>In</Table.Th>
          </Table.Tr>
        </Table.Thead>
        <Table.Tbody>
          {look.headings.map((heading, column) => {
            const named = columnAt(mapping, column);
            const unitsOf = (field: string) => look.fields.find((each) => each.field === field)?.units ?? [];
            const name = `${column + 1}: ${heading || 'no heading'}`;
            const units = named ? unitsOf(named.field).filter((unit) => unit !== '') : [];
            return (
              <Table.Tr key={name}>
                <Table.Td style={{ overflowWrap: 'anywhere', maxWidth: '14rem' }}>{name}</Table.Td>
                <Table.Td style={{ overflowWrap: 'anywhere', maxWidth: '16rem' }}>
                  <Text size="sm" c="dimmed" lineClamp={1}>
                    {look.firstRows
                      .slice(0, ROWS_SHOWN)
                      .map((row) => row[column] || '(empty)')
                      .join(' | ')}
                  </Text>
                </Table.Td>
                <Table.Td>
                  <NativeSelect
                    size="xs"
                    aria-label={`Meaning of column ${name}`}
                    value={named?.field ?? ''}
                    onChange={(event) => {
                      const field = event.currentTarget.value;
                      onChange(withField(mapping, column, field, unitsOf(field)));
                    }}
                    data={[
                      { value: '', label: 'not read' },
                      ...look.fields.map(({ field, label }) => ({ value: field, label })),
                    ]}
                  />
                  {named?.field === JC_FIELD ? (
                    <JcCondition
                      named={named}
                      onChange={(at) => onChange(withColumnChange(mapping, column, { at }))}
                    />
                  ) : null}
                </Table.Td>
                <Table.Td>
                  {named && units.length > 0 ? (
                    <NativeSelect
                      size="xs"
                      aria-label={`Unit of column ${name}`}
                      value={named.unit}
                      onChange={(event) =>
                        onChange(withColumnChange(mapping, column, { unit: event.currentTarget.value }))
                      }
                      data={[{ value: '', label: 'choose' }, ...units]}
                    />
                  ) : null}
                </Table.Td>
              </Table.Tr>
            );
          })}
        </Table.Tbody>
      </Table>
    </ScrollArea>
  );
}
