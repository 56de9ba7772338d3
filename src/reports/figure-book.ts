// The figures of a report as they are drawn: inside the document, and each as a picture and a table beside it.
import { csvText } from '../charts/csv.ts';
import { svgText } from '../charts/svg-text.ts';
import { html, type Markup, trusted } from './markup.ts';
import type { ReportFigure } from './report-figures.ts';
import type { ReportFile } from './report-input.ts';

/** In a document of HTML an SVG needs no name space. */
const XMLNS = ' xmlns="http://www.w3.org/2000/svg"';

export class FigureBook {
  readonly #files: ReportFile[] = [];
  readonly #taken = new Set<string>();

  /** The figure as markup of the document; it joins the files. */
  draw({ name, scene }: ReportFigure): Markup {
    let own = name;
    for (let i = 2; this.#taken.has(own.toLowerCase()); i++) own = `${name}-${i}`;
    this.#taken.add(own.toLowerCase());
    const path = `figures/${own}`;
    this.#files.push(
      { path: `${path}.svg`, text: svgText(scene, { theme: 'light' }) },
      { path: `${path}.csv`, text: csvText(scene.table) },
    );
    const inline = svgText(scene, { theme: 'page', idPrefix: `${own}-` }).replace(XMLNS, '');
    return html`<figure>${trusted(inline)}<figcaption>${scene.title} <code>${path}</code></figcaption></figure>`;
  }

  get files(): readonly ReportFile[] {
    return this.#files;
  }
}
