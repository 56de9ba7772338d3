import { ScrollArea, Table } from '@mantine/core';
import type { FileLook } from '../../api/contract.ts';

const ROWS_SHOWN = 3;

interface FirstRowsProps {
  block: FileLook['blocks'][number];
  /** what a column was taken as; '' for none */
  takenAs: (column: number) => string;
}

/** Headings, units and first rows of a file, as they were read. */
export function FirstRows({ block, takenAs }: FirstRowsProps) {
  const columns = block.firstRows[0]?.length ?? block.headings.length;
  const indices = Array.from({ length: columns }, (_, column) => column);
  return (
    <ScrollArea type="auto" viewportProps={{ tabIndex: 0, 'aria-label': 'First rows of the file' }}>
      <Table withTableBorder verticalSpacing={2} fz="sm" w="auto" className="number">
        <Table.Thead>
          <Table.Tr>
            {indices.map((column) => (
              <Table.Th key={column}>
                {column + 1}: {block.headings[column] || 'no heading'}
                {block.units[column] ? ` (${block.units[column]})` : ''}
                <br />
                {takenAs(column) || '\u00a0'}
              </Table.Th>
            ))}
          </Table.Tr>
        </Table.Thead>
        <Table.Tbody>
          {block.firstRows.slice(0, ROWS_SHOWN).map((row, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: rows of a file have no other name
            <Table.Tr key={i}>
              {indices.map((column) => (
                <Table.Td key={column} ta="right">
                  {row[column] ?? ''}
                </Table.Td>
              ))}
            </Table.Tr>
          ))}
        </Table.Tbody>
      </Table>
    </ScrollArea>
  );
}
