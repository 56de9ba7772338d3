// Which series, piece or treatment a person means by a label or an identifier.
import type { Reader } from '../logbook/reader.ts';
import type { StoredRecord } from '../records/kinds.ts';
import { nearestNames } from '../runner/find-computation.ts';
import { CliError } from './errors.ts';

interface Labelled {
  readonly id: string;
  readonly body: { readonly label: string; readonly isInvented?: boolean };
}

const MOST_LISTED = 10;

const listed = (records: readonly Labelled[]): string => {
  const shown = records
    .slice(0, MOST_LISTED)
    .map(({ id, body }) => `'${body.label}' (${id}${body.isInvented ? ', invented' : ''})`);
  const more = records.length - shown.length;
  return more > 0 ? `${shown.join(', ')} and ${more} more` : shown.join(', ');
};

/**
 * The record of that identifier; else of that label exactly; else of that label in other letter case.
 *
 * @returns undefined if there is none
 * @throws CliError LABEL_SHARED if several have the label
 */
function findLabelled<R extends Labelled>(
  records: readonly R[],
  wanted: string,
  kind: string,
): R | undefined {
  const byId = records.find(({ id }) => id === wanted.toLowerCase());
  if (byId) return byId;
  const exact = records.filter(({ body }) => body.label === wanted);
  const folded = wanted.toLowerCase();
  const matches =
    exact.length > 0 ? exact : records.filter(({ body }) => body.label.toLowerCase() === folded);
  if (matches.length > 1) {
    throw new CliError(
      'LABEL_SHARED',
      `'${wanted}' is the label of ${matches.length} ${kind}: ${listed(matches)}.`,
    );
  }
  return matches[0];
}

function nearWords(records: readonly Labelled[], wanted: string): string {
  const near = nearestNames(
    wanted,
    records.map(({ body }) => body.label),
  );
  return near.length > 0 ? ` Near it: ${near.map((label) => `'${label}'`).join(', ')}.` : '';
}

/**
 * The series named; else the only one, or the only one that is not invented.
 *
 * @throws CliError SERIES_NONE, SERIES_UNKNOWN, SERIES_SEVERAL, LABEL_SHARED
 */
export async function chooseSeries(
  read: Reader,
  wanted: string | undefined,
): Promise<StoredRecord<'series'>> {
  const all = await read.list('series');
  if (all.length === 0) throw new CliError('SERIES_NONE', 'The store holds no series.');
  if (wanted === undefined) {
    const real = all.filter(({ body }) => !body.isInvented);
    const meant = all.length === 1 ? all : real;
    if (meant.length !== 1)
      throw new CliError('SERIES_SEVERAL', `The store holds ${all.length} series: ${listed(all)}.`);
    return meant[0]!;
  }
  const found = findLabelled(all, wanted, 'series');
  if (!found)
    throw new CliError('SERIES_UNKNOWN', `No series is called '${wanted}'.${nearWords(all, wanted)}`);
  return found;
}

/** @throws CliError PIECE_UNKNOWN, LABEL_SHARED */
export function choosePiece(pieces: readonly StoredRecord<'piece'>[], wanted: string): StoredRecord<'piece'> {
  const found = findLabelled(pieces, wanted, 'pieces');
  if (!found) {
    throw new CliError('PIECE_UNKNOWN', `No piece is called '${wanted}'.${nearWords(pieces, wanted)}`);
  }
  return found;
}

/**
 * The treatment named among those of one piece.
 *
 * @throws CliError OPTION_VALUE, LABEL_SHARED
 */
export function chooseTreatment(
  treatments: readonly StoredRecord<'treatment'>[],
  wanted: string,
  pieceLabel: string,
): StoredRecord<'treatment'> {
  const found = findLabelled(treatments, wanted, 'treatments');
  if (!found) {
    const known =
      treatments.length === 0
        ? 'no treatment of it is recorded'
        : `expected 'as grown' or one of ${listed(treatments)}`;
    throw new CliError('OPTION_VALUE', `--state is '${wanted}' for the piece ${pieceLabel}: ${known}.`);
  }
  return found;
}
