// The series a command speaks of, put together from its records.
import { seriesViewFrom } from '../jobs/series-view.ts';
import type { Reader } from '../logbook/reader.ts';
import type { SeriesView } from '../records/series-view.ts';
import { choosePiece, chooseSeries } from './choose.ts';

export const INVENTED = 'INVENTED DATA: a demonstration series, not measured on any film.';

/** @throws CliError as `chooseSeries` */
export async function chosenView(read: Reader, wanted: string | undefined): Promise<SeriesView> {
  const series = await chooseSeries(read, wanted);
  return seriesViewFrom(await read.seriesRecords(series.id));
}

/** A text with what must be said before it. */
export function withNotice(view: SeriesView, text: string): string {
  return view.series.body.isInvented ? `${INVENTED}\n\n${text}` : text;
}

/** The series named, or the one that holds the piece named. */
export async function viewOfPiece(
  read: Reader,
  series: string | undefined,
  piece: string | undefined,
): Promise<SeriesView> {
  if (series !== undefined || piece === undefined) return chosenView(read, series);
  const { seriesId } = choosePiece(await read.list('piece'), piece);
  return chosenView(read, seriesId!);
}
