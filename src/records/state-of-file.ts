// Which state of a piece a file was taken in, as far as its name and head say. Pure.
import type { SeriesView } from './series-view.ts';

type PieceTreatment = Pick<SeriesView['treatments'][number], 'id' | 'body' | 'createdAt'>;

/** Treatments of a piece, first to last. */
export function treatmentsOf(view: SeriesView, pieceId: string): SeriesView['treatments'] {
  const at = ({ body, createdAt }: PieceTreatment): string => body.startedAt ?? createdAt;
  return view.treatments
    .filter(({ body }) => body.pieceId === pieceId)
    .sort((one, other) => at(one).localeCompare(at(other)) || one.id.localeCompare(other.id));
}

/**
 * The state that a file was taken in: the treatment whose label the file names, as grown if its name says so, else the
 * last treatment; with how it was found.
 *
 * @param treatments of the piece, first to last
 */
export function stateOf(
  treatments: readonly PieceTreatment[],
  fileName: string,
  headerLines: readonly string[],
): { stateTreatmentId: string | null; stateNote: string } {
  if (treatments.length === 0)
    return { stateTreatmentId: null, stateNote: 'as grown: no treatment is recorded' };
  const says = [fileName, ...headerLines].join('\n').toLowerCase();
  const named = treatments
    .filter(({ body }) => says.includes(body.label.toLowerCase()))
    .sort((one, other) => other.body.label.length - one.body.label.length)[0];
  if (named) return { stateTreatmentId: named.id, stateNote: 'named in the file' };
  if (/as[-_ ]?(grown|deposited)/.test(says))
    return { stateTreatmentId: null, stateNote: 'the file says as grown' };
  return { stateTreatmentId: treatments.at(-1)!.id, stateNote: 'the last treatment; change it if not' };
}
