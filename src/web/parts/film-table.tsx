import { Anchor, ScrollArea, Table, Text } from '@mantine/core';
import { Link } from '@tanstack/react-router';
import { filmCell, filmColumns } from '../../charts/film-columns.ts';
import { pressureText, ratioText } from '../../charts/trade-text.ts';
import type { FilmRow } from '../../records/film-rows.ts';
import { VerdictBadge } from './verdict-badge.tsx';

interface FilmTableProps {
  seriesId: string;
  rows: readonly FilmRow[];
  benchmarkPieceId: string | null;
  controlPieceId: string | null;
  coil: { temperatureK: number; fieldT: number } | null;
}

function role(row: FilmRow, benchmarkPieceId: string | null, controlPieceId: string | null): string {
  const ids = row.states.map((state) => state.piece.id);
  if (benchmarkPieceId && ids.includes(benchmarkPieceId)) return 'benchmark';
  return controlPieceId && ids.includes(controlPieceId) ? 'control' : '';
}

/** Every film with its numbers, best first. */
export function FilmTable({ seriesId, rows, benchmarkPieceId, controlPieceId, coil }: FilmTableProps) {
  const columns = filmColumns(coil);
  if (rows.length === 0) {
    return (
      <Text c="dimmed">
        No film is recorded yet.{' '}
        <Link to="/series/$seriesId/record" params={{ seriesId }}>
          Record a run and its films
        </Link>
        , or{' '}
        <Link to="/series/$seriesId/past-films" params={{ seriesId }}>
          read a table of past films
        </Link>
        .
      </Text>
    );
  }
  return (
    <ScrollArea type="auto" viewportProps={{ tabIndex: 0, 'aria-label': 'Films, best first' }}>
      <Table striped highlightOnHover miw={1000}>
        <Table.Thead>
          <Table.Tr>
            <Table.Th ta="right">Rank</Table.Th>
            <Table.Th>Film</Table.Th>
            <Table.Th>Verdict</Table.Th>
            <Table.Th>Cation ratio</Table.Th>
            <Table.Th>Grown</Table.Th>
            {columns.map(({ heading }) => (
              <Table.Th key={heading} ta="right">
                {heading}
              </Table.Th>
            ))}
          </Table.Tr>
        </Table.Thead>
        <Table.Tbody>
          {rows.map((row) => {
            const said = role(row, benchmarkPieceId, controlPieceId);
            return (
              <Table.Tr key={row.film.id}>
                <Table.Td ta="right" className="number">
                  {row.best?.verdict ? row.rank : ''}
                </Table.Td>
                <Table.Td style={{ overflowWrap: 'anywhere', minWidth: '6rem', maxWidth: '16rem' }}>
                  <Anchor
                    renderRoot={(props) => (
                      <Link
                        to="/series/$seriesId/films/$filmId"
                        params={{ seriesId, filmId: row.film.id }}
                        {...props}
                      />
                    )}
                  >
                    {row.film.body.label}
                  </Anchor>
                  {said ? (
                    <Text size="xs" c="dimmed" style={{ whiteSpace: 'nowrap' }}>
                      {said}
                    </Text>
                  ) : null}
                </Table.Td>
                <Table.Td>
                  {row.best?.verdict ? (
                    <VerdictBadge outcome={row.outcome} isStale={row.best.verdict.isStale} />
                  ) : (
                    <Text size="sm" c="dimmed">
                      not judged
                    </Text>
                  )}
                </Table.Td>
                <Table.Td className="number" style={{ minWidth: '9rem' }}>
                  {row.cations ? ratioText(row.cations) : ''}
                </Table.Td>
                <Table.Td style={{ minWidth: '9rem' }}>
                  {[
                    row.route,
                    row.temperatureC === null ? '' : `${Math.round(row.temperatureC)} °C`,
                    row.po2Atm === null ? '' : pressureText(row.po2Atm),
                  ]
                    .filter(Boolean)
                    .join(', ')}
                </Table.Td>
                {columns.map((column) => (
                  <Table.Td
                    key={column.heading}
                    ta="right"
                    className="number"
                    style={{ whiteSpace: 'nowrap' }}
                  >
                    {filmCell(column, row.best?.numbers ?? [], row.best?.oldMeasurementIds ?? [])}
                  </Table.Td>
                ))}
              </Table.Tr>
            );
          })}
        </Table.Tbody>
      </Table>
    </ScrollArea>
  );
}
