// The series a command speaks of, put together from its records.
import { pieceFromFileName } from '../formats/curves/piece-from-file-name.ts';
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

/** The only series in which each of the files names a piece; undefined where there is none, or more than one. */
async function seriesOfFiles(read: Reader, fileNames: readonly string[]): Promise<string | undefined> {
  if (fileNames.length === 0) return undefined;
  const bySeries = Map.groupBy(await read.list('piece'), ({ seriesId }) => seriesId!);
  const fitting = [...bySeries].filter(([, pieces]) => {
    const known = pieces.map(({ id, body }) => ({ pieceId: id, label: body.label }));
    return fileNames.every((name) => pieceFromFileName(name, known).pieceId !== null);
  });
  return fitting.length === 1 ? fitting[0]![0] : undefined;
}

/** The series named; else the one that holds the piece named, or the pieces that all the files name. */
export async function viewOfPiece(
  read: Reader,
  series: string | undefined,
  piece: string | undefined,
  fileNames: readonly string[] = [],
): Promise<SeriesView> {
  if (series !== undefined) return chosenView(read, series);
  if (piece === undefined) return chosenView(read, await seriesOfFiles(read, fileNames));
  const { seriesId } = choosePiece(await read.list('piece'), piece);
  return chosenView(read, seriesId!);
}
