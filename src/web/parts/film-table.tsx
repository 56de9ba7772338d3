import { Anchor, ScrollArea, Table, Text } from '@mantine/core';
import { Link } from '@tanstack/react-router';
import { FACT_TRADE_UNITS, factText, pressureText, ratioText } from '../../charts/trade-text.ts';
import type { Fact, FactName } from '../../records/criteria.ts';
import type { FilmRow } from '../../records/film-rows.ts';
import { findFact } from '../../science/learning/find-fact.ts';
import { VerdictBadge } from './verdict-badge.tsx';

interface FilmTableProps {
  seriesId: string;
  rows: readonly FilmRow[];
  benchmarkPieceId: string | null;
  controlPieceId: string | null;
  coil: { temperatureK: number; fieldT: number } | null;
}

interface NumberColumn {
  heading: string;
  fact: FactName;
  at?: { temperatureK: number; fieldT?: number };
}

function role(row: FilmRow, benchmarkPieceId: string | null, controlPieceId: string | null): string {
  const ids = row.states.map((state) => state.piece.id);
  if (benchmarkPieceId && ids.includes(benchmarkPieceId)) return 'benchmark';
  return controlPieceId && ids.includes(controlPieceId) ? 'control' : '';
}

function cellText(fact: Fact | undefined): string {
  if (!fact) return '';
  const { unit } = FACT_TRADE_UNITS[fact.name];
  const text = factText(fact);
  return unit ? text.slice(0, text.length - unit.length).trim() : text;
}

/** Every film with its numbers, best first. */
export function FilmTable({ seriesId, rows, benchmarkPieceId, controlPieceId, coil }: FilmTableProps) {
  const columns: NumberColumn[] = [
    { heading: 'Tc midpoint, K', fact: 'tcMidpointK' },
    { heading: 'Width, K', fact: 'transitionWidthK' },
    { heading: 'c axis, Å', fact: 'cAxisAngstrom' },
    { heading: 'Jc 77 K sf, MA/cm²', fact: 'jcAPerM2', at: { temperatureK: 77, fieldT: 0 } },
    ...(coil
      ? [
          {
            heading: `Jc ${coil.temperatureK} K ${coil.fieldT} T, MA/cm²`,
            fact: 'jcAPerM2' as const,
            at: coil,
          },
        ]
      : []),
    { heading: 'Rate, nm/s', fact: 'overallRateNmPerS' },
  ];
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
                <Table.Td style={{ overflowWrap: 'anywhere', maxWidth: '16rem' }}>
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
                    <Text size="xs" c="dimmed">
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
                <Table.Td className="number">{row.cations ? ratioText(row.cations) : ''}</Table.Td>
                <Table.Td>
                  {[
                    row.route,
                    row.temperatureC === null ? '' : `${Math.round(row.temperatureC)} °C`,
                    row.po2Atm === null ? '' : pressureText(row.po2Atm),
                  ]
                    .filter(Boolean)
                    .join(', ')}
                </Table.Td>
                {columns.map(({ heading, fact, at }) => (
                  <Table.Td key={heading} ta="right" className="number" style={{ whiteSpace: 'nowrap' }}>
                    {cellText(findFact(row.best?.numbers ?? [], fact, at)?.fact)}
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
