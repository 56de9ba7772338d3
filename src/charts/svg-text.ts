// Paints a scene as the text of one SVG. The only place where text is escaped.
import type { Mark, Scene, TextMark } from './scene.ts';
import { areaPath, dotsPath, HALO_PX, linePath, px, symbolPath, textOrigin } from './svg-path.ts';
import { type ColourRole, chartStyleSheet, colourValue, type ThemeName } from './theme.ts';

/** The font shipped for pictures first, then faces of like width. */
const FONT_FAMILY = 'DejaVu Sans, Verdana, sans-serif';

export interface SvgOptions {
  /**
   * fixed colours of one theme; 'page' leaves them to the style sheet around the picture; 'reader' embeds a style sheet
   * that follows the reader's light, dark or paper (needs a browser to show)
   */
  readonly theme: ThemeName | 'page' | 'reader';
  /** begins every id in the picture, so that several can stand in one document */
  readonly idPrefix?: string;
}

const ESCAPES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};
// What XML 1.0 does not allow: control signs, lone surrogates, the two non-characters.
const NOT_XML =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\ufffe\uffff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;

/** Text that stands for itself in XML, in an element and in an attribute. */
export function escapeXml(text: string): string {
  return text.replace(NOT_XML, '\ufffd').replace(/[&<>"']/g, (sign) => ESCAPES[sign]!);
}

type Attributes = Readonly<Record<string, string | number | undefined>>;

function element(name: string, attributes: Attributes, content = ''): string {
  let tag = `<${name}`;
  for (const [key, value] of Object.entries(attributes)) {
    if (value !== undefined) {
      tag += ` ${key}="${typeof value === 'number' ? px(value) : escapeXml(value)}"`;
    }
  }
  return content === '' ? `${tag}/>` : `${tag}>${content}</${name}>`;
}

const titleElement = (text: string): string => element('title', {}, escapeXml(text));

class Painter {
  readonly #theme: ThemeName | 'page';
  readonly #idPrefix: string;
  #clips = 0;

  constructor(theme: ThemeName | 'page', idPrefix: string) {
    this.#theme = theme;
    this.#idPrefix = idPrefix;
  }

  colour(role: ColourRole): string {
    return colourValue(role, this.#theme);
  }

  paint(marks: readonly Mark[]): string {
    return marks.map((mark) => this.#mark(mark)).join('\n');
  }

  #mark(mark: Mark): string {
    switch (mark.kind) {
      case 'group': {
        if (!mark.clip) {
          return element('g', {}, this.paint(mark.marks));
        }
        const id = `${this.#idPrefix}clip${++this.#clips}`;
        const frame = element('path', { d: areaPath([mark.clip]) });
        return `${element('clipPath', { id }, frame)}${element('g', { 'clip-path': `url(#${id})` }, this.paint(mark.marks))}`;
      }
      case 'dots':
        return element('path', {
          d: dotsPath(mark.points),
          fill: 'none',
          stroke: this.colour(mark.fill),
          'stroke-width': 2 * mark.radius,
          'stroke-linecap': 'round',
        });
      case 'text':
        return this.#text(mark);
      case 'line':
        return this.#path(mark, linePath(mark.points));
      case 'area':
        return this.#path(mark, areaPath(mark.rings), { 'fill-rule': 'evenodd' });
      case 'symbol': {
        const d = symbolPath(mark.shape, mark.x, mark.y, mark.radius);
        if (!mark.hasHalo) {
          return this.#path(mark, d);
        }
        const halo = element('path', {
          d,
          fill: mark.fill ? this.colour('background') : 'none',
          stroke: this.colour('background'),
          'stroke-width': (mark.strokeWidth ?? 0) + HALO_PX,
          'stroke-linecap': 'round',
        });
        return halo + this.#path(mark, d);
      }
    }
  }

  #path(mark: Exclude<Mark, { kind: 'group' | 'dots' | 'text' }>, d: string, more: Attributes = {}): string {
    if (d === '') {
      return '';
    }
    const { fill, stroke, strokeWidth, dash, opacity, target } = mark;
    return element(
      'path',
      {
        d,
        fill: fill ? this.colour(fill) : 'none',
        stroke: stroke ? this.colour(stroke) : undefined,
        'stroke-width': stroke ? (strokeWidth ?? 1) : undefined,
        'stroke-dasharray': dash?.map(px).join(' '),
        'stroke-linejoin': mark.kind === 'symbol' || !stroke ? undefined : 'round',
        // not `opacity`: that would make a layer of its own for each mark
        'fill-opacity': fill ? opacity : undefined,
        'stroke-opacity': stroke ? opacity : undefined,
        ...more,
      },
      target ? titleElement(target.label) : '',
    );
  }

  #text(mark: TextMark): string {
    const halo: Attributes = mark.hasHalo
      ? {
          stroke: this.colour('background'),
          'stroke-width': HALO_PX,
          'stroke-linejoin': 'round',
          'paint-order': 'stroke',
        }
      : {};
    return element(
      'text',
      {
        ...textOrigin(mark),
        'font-size': mark.size,
        fill: this.colour(mark.fill),
        'text-anchor': mark.anchor === 'start' ? undefined : mark.anchor,
        'font-weight': mark.isBold ? 'bold' : undefined,
        ...halo,
      },
      (mark.fullText ? titleElement(mark.fullText) : '') + escapeXml(mark.text),
    );
  }
}

/** One SVG, complete in itself: title and description in words, the background, the marks. */
export function svgText(scene: Scene, { theme, idPrefix = '' }: SvgOptions): string {
  const isReader = theme === 'reader';
  const painter = new Painter(isReader ? 'page' : theme, idPrefix);
  const { width, height } = scene;
  const content = [
    element('title', { id: `${idPrefix}title` }, escapeXml(scene.title)),
    element('desc', { id: `${idPrefix}desc` }, escapeXml(scene.description)),
    ...(isReader ? [element('style', {}, chartStyleSheet('svg'))] : []),
    element('rect', { width, height, fill: painter.colour('background') }),
    painter.paint(scene.marks),
  ];
  return `${element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      width,
      height,
      viewBox: `0 0 ${px(width)} ${px(height)}`,
      role: 'img',
      'aria-labelledby': `${idPrefix}title ${idPrefix}desc`,
      'font-family': FONT_FAMILY,
    },
    content.join('\n'),
  )}\n`;
}
