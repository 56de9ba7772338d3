// Building HTML text. Every value put into a template is escaped here, unless it is markup already.
import { escapeXml } from '../charts/svg-text.ts';

/** Text that is HTML already. Only `html` and `trusted` make it. */
export class Markup {
  readonly text: string;

  constructor(text: string) {
    this.text = text;
  }
}

type Part = string | number | Markup | null | undefined | readonly Part[];

function textOf(part: Part): string {
  if (part === null || part === undefined) return '';
  if (part instanceof Markup) return part.text;
  if (Array.isArray(part)) return part.map(textOf).join('');
  return escapeXml(String(part));
}

/** A template whose values are escaped; null leaves nothing, a list is joined. */
export function html(strings: TemplateStringsArray, ...parts: Part[]): Markup {
  return new Markup(strings.map((text, i) => text + textOf(parts[i])).join(''));
}

/** Markup made elsewhere by code of ours: an SVG of a chart, a style sheet. Never text from a record. */
export const trusted = (text: string): Markup => new Markup(text);

/** A table: headings, then rows; the columns named in `numbers` are set to the right. */
export function table(
  headings: readonly string[],
  rows: readonly (readonly Part[])[],
  numbers: readonly number[] = [],
): Markup {
  const kind = (i: number): Markup => (numbers.includes(i) ? html` class="number"` : html``);
  return html`<div class="table"><table>
<thead><tr>${headings.map((heading, i) => html`<th scope="col"${kind(i)}>${heading}</th>`)}</tr></thead>
<tbody>${rows.map((row) => html`<tr>${row.map((cell, i) => html`<td${kind(i)}>${cell}</td>`)}</tr>\n`)}</tbody>
</table></div>`;
}

/** Names and values; a value of null or '' is left out with its name. */
export function particulars(entries: readonly (readonly [string, Part])[]): Markup {
  const stated = entries.filter(([, value]) => value !== null && value !== '' && value !== undefined);
  if (stated.length === 0) return html``;
  return html`<dl>${stated.map(([name, value]) => html`<div><dt>${name}</dt><dd>${value}</dd></div>`)}</dl>`;
}
