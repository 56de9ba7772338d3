// One measurement in a report: its curve with what was read from it, the numbers, and where they come from.
import { logDeviationSentences } from '../charts/measurement/chamber-log.ts';
import { type ResultRow, resultRows } from '../charts/measurement/results.ts';
import type { StoredView } from '../charts/measurement/stored-curve.ts';
import type { StoryMeasurement } from '../records/film-story.ts';
import { settingsText } from '../records/measurement-settings.ts';
import type { FigureBook } from './figure-book.ts';
import { html, type Markup, table } from './markup.ts';
import { measurementFigures } from './report-figures.ts';

/** Rows of a loop beyond this many stand in its figure and its table only. */
const MOST_RESULT_ROWS = 14;

function resultTable(rows: readonly ResultRow[]): Markup {
  const shown = rows.slice(0, MOST_RESULT_ROWS);
  const more = rows.length - shown.length;
  return html`${table(
    ['Read from it', 'Value ± standard uncertainty'],
    shown.map(({ label, text }) => [label, text]),
    [1],
  )}${more > 0 ? html`<p class="quiet">${more} further numbers are in facts.csv.</p>` : null}`;
}

export function measurementSection(
  { measurement, analysis }: StoryMeasurement,
  curve: StoredView | undefined,
  book: FigureBook,
): Markup {
  const { fileName, fileSha256, fileBytes, reader, mapping, settings, warnings, columns } = measurement.body;
  const figures = curve ? measurementFigures(mapping.kind, curve, fileName) : [];
  const response = curve?.analysis && !curve.analysis.body.failure ? curve.analysis.body.response : null;
  const stated = settingsText(mapping.kind, settings);
  const otherwise: readonly string[] =
    mapping.kind === 'chamber log' && response ? (logDeviationSentences(response) ?? []) : [];
  const notes = [...warnings, ...(analysis?.flags.map(({ message }) => message) ?? [])];
  return html`<h5>${mapping.kind}: ${fileName}</h5>
${figures.map((figure) => book.draw(figure))}
${response ? resultTable(resultRows(mapping.kind, response)) : null}
${otherwise.length > 0 ? html`<ul>${otherwise.map((sentence) => html`<li>${sentence}</li>`)}</ul>` : null}
${analysis?.failure ? html`<p><strong>Not reduced:</strong> ${analysis.failure.message}</p>` : null}
${notes.length > 0 ? html`<ul class="quiet">${notes.map((note) => html`<li>${note}</li>`)}</ul>` : null}
<p class="quiet">File <code>${fileName}</code>, ${fileBytes} bytes, ${columns.rows} rows, SHA-256 <code>${fileSha256}</code>; read by ${reader.name} version ${reader.version}${stated ? `; stated: ${stated}` : ''}. ${
    analysis
      ? html`Reduced by ${analysis.computation} version ${analysis.version} (<code>${analysis.effectiveVersion}</code>)${analysis.isStale ? html`: <strong>old, the science, the film or the piece has changed since</strong>` : null}.`
      : 'Not reduced yet.'
  }</p>`;
}
