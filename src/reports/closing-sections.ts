// The end of a report: what next, cautions, and the sources of the numbers.
import { pressureText, ratioText } from '../charts/trade-text.ts';
import type { SeriesView } from '../records/series-view.ts';
import { CAUTIONS } from '../science/tables/cautions.ts';
import { cautionsFor } from '../science/target/cautions.ts';
import { html, type Markup, table } from './markup.ts';
import { proposalsOf } from './report-input.ts';
import { sourcesBehind } from './sources.ts';

export function proposalsSection(view: SeriesView): Markup {
  const { proposals, flags } = proposalsOf(view);
  const made = view.proposals?.body;
  if (!made) return html`<section><h2>Next targets</h2><p>Not asked yet.</p></section>`;
  const { growth } = view.series.body;
  return html`<section><h2>Next targets</h2>
${view.proposalsAreStale ? html`<p><strong>Old:</strong> films or science changed since these were asked.</p>` : null}
<ol>${proposals.map(
    ({ cations, sentence, couldGoWrong }) => html`<li><strong>${ratioText(cations)}</strong>
<p>${sentence}</p><p>What could go wrong: ${couldGoWrong}</p></li>`,
  )}</ol>
${flags.map(({ message }) => html`<p class="quiet">${message}</p>`)}
<p class="quiet">Asked for ${growth.temperatureC} °C and pO₂ ${pressureText(growth.po2Atm)} of ${made.computation} version ${made.version} (<code>${made.effectiveVersion}</code>), with the odds of equilibrium.fields over the triangle.</p>
</section>`;
}

/** Kinds of work that the records of the series tell of, by the names of the table. */
function workOf(view: SeriesView): Set<string> {
  const work = new Set<string>();
  if (view.targets.length > 0) work.add('powder').add('furnace');
  for (const { body } of view.runs) {
    work.add('vacuum');
    if (body.source === 'pulsed laser') work.add('laser').add('high voltage');
  }
  for (const { body } of view.treatments) {
    work.add('furnace');
    if (body.segments.some(({ po2Atm }) => po2Atm >= 1)) work.add('oxygen');
  }
  for (const { body } of view.measurements) {
    if (body.mapping.kind !== 'diffraction scan') work.add('cryogen');
    if (body.mapping.kind === 'magnetisation loop' || (body.settings.fieldT ?? 0) !== 0) work.add('magnet');
  }
  return work;
}

export function cautionsSection(view: SeriesView): Markup {
  const work = workOf(view);
  const compounds = cautionsFor(view.lots.map(({ body }) => body.formula));
  const works = CAUTIONS.records
    .filter((row) => row.kind === 'work' && row.formulas.some((name) => work.has(name)))
    .map(({ matter, statement, codes, source, tag }) => ({
      matter,
      statement,
      codes,
      source: `${source} ${tag}`,
    }));
  const isPowder = view.lots.length > 0;
  const all = [
    ...new Map([...(isPowder ? compounds : []), ...works].map((row) => [row.matter, row])).values(),
  ];
  if (all.length === 0) return html``;
  return html`<section><h2>Cautions</h2>
<p><strong>Usual cautions only: local rules and the responsible licensed person decide; the supplier’s safety data sheet prevails.</strong></p>
<ul>${all.map(
    ({ matter, statement, codes, source }) =>
      html`<li><strong>${matter}</strong>${codes.length > 0 ? ` (${codes.join(', ')})` : ''}: ${statement} <span class="quiet">${source}</span></li>`,
  )}</ul></section>`;
}

/** Entries whose answers stand in the report. */
export function computationsIn(view: SeriesView): Set<string> {
  return new Set([
    'equilibrium.fields',
    ...view.analyses.map(({ computation }) => computation),
    ...view.verdicts.map(({ computation }) => computation),
    ...(view.proposals ? [view.proposals.body.computation] : []),
  ]);
}

export function sourcesSection(view: SeriesView): Markup {
  const computations = computationsIn(view);
  const rows = sourcesBehind(computations);
  const fromMemory = rows.filter(({ isFromMemory }) => isFromMemory);
  const count = (list: typeof rows) => list.reduce((sum, row) => sum + row.count, 0);
  return html`<section><h2>Sources of the numbers</h2>
<p>Measured numbers come from the files named with each measurement. The reductions, verdicts and odds rest on ${[...computations].sort().join(', ')}, whose published numbers are below: ${count(rows)} rows of tables, ${count(fromMemory)} of them wholly or in part from memory, not looked up again.</p>
${table(
  ['Table', 'Rows', 'Source', 'How it is known'],
  rows.map(({ table: name, count: n, source, tag, isFromMemory }) => [
    name,
    n,
    source,
    isFromMemory ? html`<strong>${tag}</strong>` : tag,
  ]),
  [1],
)}
<p class="quiet">Standard uncertainties follow the GUM: propagated from the scatter of the data and the stated uncertainties of lengths. Methods and formulas, each with its source, are described in the documents of Peritect, one page a subject.</p>
</section>`;
}
