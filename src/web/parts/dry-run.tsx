import { ScrollArea, Table, Text, Title } from '@mantine/core';
import { counted } from '../../charts/number-text.ts';
import type { TableLook } from '../imports.ts';
import { type DryFilm, dryFilmText } from '../table-mapping.ts';

const FILMS_SHOWN = 200;
const DOUBTS_SHOWN = 200;

/** Cells that make no sense, each with where it stands and what was expected. */
export function TableDoubts({ doubts }: Pick<TableLook, 'doubts'>) {
  if (doubts.length === 0) return <Text size="sm">Every cell read makes sense.</Text>;
  return (
    <section aria-label="Doubts">
      <Title order={2} mb={4}>
        {counted(doubts.length, 'doubt')}
      </Title>
      <Text size="sm" c="dimmed">
        Change the meaning or unit of a column above, or mend the cell in the table and drop it again. What
        stands below is what would be recorded as it is.
      </Text>
      <ScrollArea type="auto" viewportProps={{ tabIndex: 0, 'aria-label': 'Doubts about cells' }}>
        <Table verticalSpacing={3} miw={720}>
          <Table.Thead>
            <Table.Tr>
              <Table.Th>Row</Table.Th>
              <Table.Th>Column</Table.Th>
              <Table.Th>Found</Table.Th>
              <Table.Th>Expected</Table.Th>
              <Table.Th>Doubt</Table.Th>
            </Table.Tr>
          </Table.Thead>
          <Table.Tbody>
            {doubts.slice(0, DOUBTS_SHOWN).map(({ row, column, found, expected, message }) => (
              <Table.Tr key={`${row} ${column} ${message}`}>
                <Table.Td className="number">{row === 0 ? 'all' : row}</Table.Td>
                <Table.Td>{column}</Table.Td>
                <Table.Td style={{ overflowWrap: 'anywhere' }}>{found}</Table.Td>
                <Table.Td>{expected}</Table.Td>
                <Table.Td>{message}</Table.Td>
              </Table.Tr>
            ))}
          </Table.Tbody>
        </Table>
      </ScrollArea>
    </section>
  );
}

/** The films that would be recorded, row by row; nothing is recorded yet. */
export function DryRun({ films }: { films: readonly DryFilm[] }) {
  return (
    <section aria-label="Films that would be recorded">
      <Title order={2} mb={4}>
        What would be recorded
      </Title>
      <Table verticalSpacing={3} striped>
        <Table.Thead>
          <Table.Tr>
            <Table.Th w="4rem">Row</Table.Th>
            <Table.Th w="11rem">Film, piece</Table.Th>
            <Table.Th>Typed, no raw file</Table.Th>
          </Table.Tr>
        </Table.Thead>
        <Table.Tbody>
          {films.slice(0, FILMS_SHOWN).map((film) => (
            <Table.Tr key={film.row}>
              <Table.Td className="number">{film.row}</Table.Td>
              <Table.Td style={{ overflowWrap: 'anywhere' }}>
                {film.label}
                {film.pieceLabel ? `, ${film.pieceLabel}` : ''}
              </Table.Td>
              <Table.Td className="number">{dryFilmText(film).join('; ') || 'nothing but its name'}</Table.Td>
            </Table.Tr>
          ))}
        </Table.Tbody>
      </Table>
      {films.length > FILMS_SHOWN ? (
        <Text size="sm" c="dimmed">
          and {films.length - FILMS_SHOWN} more rows
        </Text>
      ) : null}
    </section>
  );
}
