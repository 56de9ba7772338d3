// A series as one self-contained document, with its tables and figures beside it. Pure: no clock, no file.
import { filmCell, filmColumns } from '../charts/film-columns.ts';
import { criterionText, pressureText, ratioText } from '../charts/trade-text.ts';
import { type FilmRow, filmRows } from '../records/film-rows.ts';
import { cautionsSection, proposalsSection, sourcesSection } from './closing-sections.ts';
import { FigureBook } from './figure-book.ts';
import { filmSection } from './film-section.ts';
import { html, type Markup, table, trusted } from './markup.ts';
import { criterionFigure, triangleFigure } from './report-figures.ts';
import type { ReportFile, ReportInput } from './report-input.ts';
import { REPORT_STYLE } from './report-style.ts';
import { factsCsv, filmsCsv } from './report-tables.ts';

const INVENTED =
  'INVENTED DATA: this series is a demonstration. No film in it was ever grown or measured; take no number from it.';

function aimSection({ view }: ReportInput): Markup {
  const { aim, criteria, coil, growth, rareEarths, note } = view.series.body;
  const labelOf = (id: string | null) => view.pieces.find((piece) => piece.id === id)?.body.label;
  const benchmark = labelOf(view.series.body.benchmarkPieceId);
  const control = labelOf(view.series.body.controlPieceId);
  return html`<section><h2>What the series asks of a film</h2>
${aim ? html`<p>${aim}</p>` : null}
${criteria.length > 0 ? html`<ul>${criteria.map((criterion) => html`<li>${criterionText(criterion)}</li>`)}</ul>` : html`<p>No criterion is set: no film can pass or fall short.</p>`}
<p>Rare earth: ${rareEarths.join(', ')}. Growth looked at: ${growth.temperatureC} °C, pO₂ ${pressureText(growth.po2Atm)}.${coil ? ` Coil: ${coil.temperatureK} K, ${coil.fieldT} T.` : ''}${benchmark ? ` Benchmark: ${benchmark}.` : ''}${control ? ` Control: ${control}.` : ''}</p>
${note ? html`<p class="quiet">${note}</p>` : null}</section>`;
}

function triangleSection(input: ReportInput, rows: readonly FilmRow[], book: FigureBook): Markup {
  const flags = input.fields?.flags ?? [];
  return html`<section><h2>Where liquid and 123 live together, and what was tried there</h2>
${book.draw(triangleFigure(input, rows))}
${input.fields ? null : html`<p class="quiet">The odds could not be computed for this rare earth and condition; films and proposals stand alone.</p>`}
${flags.length > 0 ? html`<ul class="quiet">${flags.map(({ message }) => html`<li>${message}</li>`)}</ul>` : null}
</section>`;
}

function rankedSection({ view }: ReportInput, rows: readonly FilmRow[]): Markup {
  const { coil, benchmarkPieceId, controlPieceId } = view.series.body;
  const columns = filmColumns(coil);
  const roleOf = (row: FilmRow): string => {
    const has = (id: string | null) => row.states.some(({ piece }) => piece.id === id);
    return has(benchmarkPieceId) ? ' (benchmark)' : has(controlPieceId) ? ' (control)' : '';
  };
  if (rows.length === 0) return html`<section><h2>Films</h2><p>No film is recorded yet.</p></section>`;
  return html`<section><h2>Films, best first</h2>
${table(
  ['Rank', 'Film', 'Verdict', 'Cation ratio', 'Grown', ...columns.map(({ heading }) => heading)],
  rows.map((row) => [
    row.best?.verdict ? row.rank : '',
    `${row.film.body.label}${roleOf(row)}`,
    row.best?.verdict ? row.outcome : 'not judged',
    row.cations ? ratioText(row.cations) : '',
    [
      row.route,
      row.temperatureC === null ? '' : `${Math.round(row.temperatureC)} °C`,
      row.po2Atm === null ? '' : pressureText(row.po2Atm),
    ]
      .filter(Boolean)
      .join(', '),
    ...columns.map((column) => filmCell(column, row.best?.numbers ?? [], row.best?.oldMeasurementIds ?? [])),
  ]),
  [0, ...columns.map((_, i) => 5 + i)],
)}
<p class="quiet">Order: passes, cannot say, falls short; inside each by Jc at the coil's condition, then at 77 K. What stands behind ± is the standard uncertainty of the measurement, not the scatter between runs.</p></section>`;
}

function criteriaSection({ view }: ReportInput, rows: readonly FilmRow[], book: FigureBook): Markup | null {
  const { criteria, benchmarkPieceId } = view.series.body;
  const figures = criteria.flatMap((criterion, i) => {
    const figure = criterionFigure(criterion, i + 1, criterionText(criterion), rows, benchmarkPieceId);
    return figure ? [figure] : [];
  });
  if (figures.length === 0 || rows.length === 0) return null;
  return html`<section><h2>Each criterion over the films</h2>${figures.map((figure) => book.draw(figure))}</section>`;
}

/** When the newest thing in the report was written: the report's own date, the same for the same store. */
function newestAt({ view }: ReportInput): string {
  const { series, films, pieces, measurements, analyses, verdicts, proposals } = view;
  const times = [series, ...films, ...pieces, ...measurements, ...(proposals ? [proposals] : [])].map(
    ({ updatedAt }) => updatedAt,
  );
  return [...times, ...analyses.map(({ madeAt }) => madeAt), ...verdicts.map(({ madeAt }) => madeAt)]
    .sort()
    .at(-1)!;
}

/**
 * The report of a series: `report.html` first, then `films.csv`, `facts.csv` and the figures as SVG and CSV. Pictures as
 * PNG are drawn from the SVG by whoever writes the files.
 */
export function seriesReport(input: ReportInput): ReportFile[] {
  const { view } = input;
  const { label, isInvented } = view.series.body;
  const rows = filmRows(view);
  const book = new FigureBook();
  const passing = rows.filter(({ outcome }) => outcome === 'passes').map(({ film }) => film.body.label);
  const body = html`${isInvented ? html`<p class="invented">${INVENTED}</p>` : null}
<h1>${label}</h1>
<p>${passing.length} of ${rows.length} films ${passing.length === 1 ? 'passes' : 'pass'}${passing.length > 0 ? `: ${passing.join(', ')}` : ''}.</p>
<p class="quiet">State of the records at ${newestAt(input).slice(0, 16).replace('T', ' ')} UTC. Beside this document stand films.csv, facts.csv and, under the name written below each, every figure as .svg, .png and .csv.</p>
${aimSection(input)}
${triangleSection(input, rows, book)}
${rankedSection(input, rows)}
${criteriaSection(input, rows, book)}
${proposalsSection(view)}
${rows.map((row) => filmSection(input, row, book))}
${cautionsSection(view)}
${sourcesSection(view)}`;
  const page = html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${isInvented ? 'Invented: ' : ''}${label}</title>
<style>${trusted(REPORT_STYLE)}</style>
</head>
<body>
${body}
</body>
</html>
`;
  return [
    { path: 'report.html', text: page.text },
    { path: 'films.csv', text: filmsCsv(view, rows) },
    { path: 'facts.csv', text: factsCsv(view, rows) },
    ...book.files,
  ];
}
