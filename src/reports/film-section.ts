// One film in a report: how it was made, its pieces, what was done to them, what is known, and whether it passes.
import { methodRemarks } from '../charts/method-remarks.ts';
import { uncertainText } from '../charts/number-text.ts';
import { conditionText, FACT_TRADE_UNITS, factText, pressureText, ratioText } from '../charts/trade-text.ts';
import type { Stated } from '../records/common.ts';
import type { FilmRow } from '../records/film-rows.ts';
import { filmStory, type StoryFact, type StoryPhase, type StoryState } from '../records/film-story.ts';
import type { Piece, Run } from '../records/kinds.ts';
import type { VerdictSummary } from '../records/series-view.ts';
import type { FigureBook } from './figure-book.ts';
import { html, type Markup, particulars, table } from './markup.ts';
import { measurementSection } from './measurement-section.ts';
import { pathFigure } from './report-figures.ts';
import type { ReportInput, VerdictAnswer } from './report-input.ts';

const PA_PER_ATM = 101_325;
/** A loop gives a number for every field: above this many of one kind the rest stands in facts.csv. */
const MOST_FACTS_OF_A_NAME = 3;

const stated = (number: Stated | null, unit: string): string | null =>
  number &&
  `${uncertainText(number.value, number.standardUncertainty)} ${unit}${number.standardUncertainty === null ? ', u not stated' : ''}`;
const plain = (number: number | null, unit: string): string | null =>
  number === null ? null : `${Number(number.toPrecision(6))} ${unit}`;

function runParticulars(run: Run): Markup {
  const { temperature, pressure } = run;
  return particulars([
    ['Started (UTC)', run.startedAt?.slice(0, 16).replace('T', ' ')],
    ['Route', `${run.route}, ${run.source}`],
    [
      'Temperature read',
      temperature &&
        `${temperature.valueC} °C, ${temperature.place}; ${temperature.offsetK ? `surface differs by ${stated(temperature.offsetK, 'K')}` : 'no offset known'}`,
    ],
    [
      'Pressure read',
      pressure &&
        `${pressureText(pressure.valuePa / PA_PER_ATM)} ${pressure.kind === 'total' ? `in all, ${Number((pressure.oxygenShare * 100).toPrecision(4))} % O₂` : 'of oxygen'}${pressure.gauge ? `, ${pressure.gauge} gauge` : ''}`,
    ],
    ['Energy at the target', stated(run.energyAtTargetMj, 'mJ')],
    ['Before the window', stated(run.energyBeforeWindowMj, 'mJ')],
    ['After the window', stated(run.energyAfterWindowMj, 'mJ')],
    ['Spot', stated(run.spotAreaMm2, 'mm²')],
    ['Distance', plain(run.distanceMm, 'mm')],
    ['Repetition', plain(run.repetitionHz, 'Hz')],
    ['Pulses', run.pulses],
    ['Pulses since resurfacing', run.pulsesSinceResurfacing],
    ['Base pressure', plain(run.basePressurePa, 'Pa')],
    ['Mounting', run.mounting],
    ['Window cleaned', run.isWindowCleaned === null ? null : run.isWindowCleaned ? 'yes' : 'no'],
    ['Note', run.note],
  ]);
}

function factsTable(facts: readonly StoryFact[], phases: readonly StoryPhase[]): Markup | null {
  const counts = new Map<string, number>();
  const shown = facts.filter(({ fact }) => {
    counts.set(fact.name, (counts.get(fact.name) ?? 0) + 1);
    return counts.get(fact.name)! <= MOST_FACTS_OF_A_NAME;
  });
  if (shown.length + phases.length === 0) return null;
  const from = ({ measurement, typed }: Pick<StoryFact, 'measurement' | 'typed'>) =>
    measurement?.body.fileName ?? `typed, no raw file${typed?.body.source ? ` (${typed.body.source})` : ''}`;
  const more = facts.length - shown.length;
  return html`${table(
    ['Fact', 'Value ± standard uncertainty', 'At', 'Method', 'From'],
    [
      ...shown.map(({ fact, ...origin }) => [
        FACT_TRADE_UNITS[fact.name].label,
        `${factText(fact)}${fact.standardUncertainty === null && !fact.bound ? ' (u not stated)' : ''}`,
        conditionText(fact.at),
        fact.method,
        from(origin),
      ]),
      ...phases.map(({ fact, ...origin }) => [fact.phase, fact.answer, '', 'phase', from(origin)]),
    ],
    [1],
  )}${more > 0 ? html`<p class="quiet">${more} further numbers of the same kinds are in facts.csv.</p>` : null}`;
}

/** Odds to two places; what rounds to certain is not called certain. */
function oddsText(odds: number | null): string {
  if (odds === null) return '';
  if (odds < 0.01) return '< 0.01';
  return odds > 0.99 ? '> 0.99' : odds.toFixed(2);
}

function verdictMarkup(verdict: VerdictSummary): Markup {
  const { reasons, flags } = verdict.response as VerdictAnswer;
  return html`<p class="verdict">Verdict: ${verdict.outcome}${verdict.isStale ? ' (old: something it rests on has changed since)' : ''}</p>
${table(
  ['', 'Reason', 'Odds', 'What would decide'],
  reasons.map(({ outcome, sentence, odds, wouldDecide }) => [outcome, sentence, oddsText(odds), wouldDecide]),
  [2],
)}
${flags.map(({ message }) => html`<p class="quiet">${message}</p>`)}
<p class="quiet">Judged by ${verdict.computation} version ${verdict.version} (<code>${verdict.effectiveVersion}</code>).</p>`;
}

function stateSection(input: ReportInput, state: StoryState, book: FigureBook): Markup | null {
  const { treatment, measurements, phases, verdict } = state;
  // what is written down for the whole film stands with the film
  const facts = state.facts.filter(({ measurement, typed }) => measurement !== null || typed !== null);
  if (!treatment && measurements.length + facts.length + phases.length === 0) return null;
  return html`<h4>${treatment ? `After ${treatment.body.label}` : 'As grown'}</h4>
${treatment ? html`${book.draw(pathFigure(treatment.body))}${treatment.body.note ? html`<p class="quiet">${treatment.body.note}</p>` : null}` : null}
${factsTable(facts, phases)}
${methodRemarks(facts.map(({ fact }) => fact)).map((remark) => html`<p class="quiet">${remark}</p>`)}
${verdict ? verdictMarkup(verdict) : html`<p class="quiet">Not judged in this state.</p>`}
${measurements.map((measured) => measurementSection(measured, input.curves.get(measured.measurement.id), book))}`;
}

function pieceSize({ lengthMm, widthMm }: Piece): string {
  const size = [lengthMm, widthMm].filter((side) => side !== null).map((side) => `${side} mm`);
  return size.length > 0 ? `, ${size.join(' × ')}` : '';
}

export function filmSection(input: ReportInput, row: FilmRow, book: FigureBook): Markup {
  const { film, pieces, run, target } = filmStory(input.view, row.film.id)!;
  const { body } = film;
  const of = body.cations ? 'of the film itself' : 'of its target';
  const verdict = row.best?.verdict ? `${row.outcome}, rank ${row.rank}` : 'not judged';
  return html`<section>
<h2>Film ${body.label}: ${verdict}</h2>
${particulars([
  ['Composition', row.cations ? `${ratioText(row.cations)}, ${of}` : 'not recorded'],
  ['Target', target?.body.label],
  ['Substrate', `${body.substrate}${body.substrateLot ? `, ${body.substrateLot}` : ''}`],
  ['Position', body.position],
  ['Thickness', stated(body.thicknessNm, 'nm')],
  ['Deposition rate', stated(body.depositionRateNmPerS, 'nm/s')],
  ['Conversion rate', stated(body.conversionRateNmPerS, 'nm/s')],
  ['Overall rate', stated(body.overallRateNmPerS, 'nm/s')],
  ['Note', body.note],
])}
<h3>${run ? `Run ${run.body.label}` : 'Received from elsewhere'}</h3>
${run ? runParticulars(run.body) : null}
${pieces.map(
  ({ piece, states }) => html`<h3>Piece ${piece.body.label}${pieceSize(piece.body)}</h3>
${piece.body.note ? html`<p class="quiet">${piece.body.note}</p>` : null}
${states.map((state) => stateSection(input, state, book))}`,
)}
</section>`;
}
