// How wide a text will be drawn, and where to cut one that does not fit. Widths in px at 1x.

/** Thousandths of the type size, ' ' (U+0020) to '~' (U+007E). */
// [looked-up: advance widths (hmtx) of the DejaVu Sans 2.37 font that is shipped for figures]
const ADVANCES = [
  318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337, 636, 636, 636, 636, 636,
  636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531, 1000, 684, 686, 698, 770, 632, 575, 775, 752, 295,
  295, 656, 557, 863, 748, 787, 603, 787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838,
  500, 500, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612, 635, 635, 411, 521,
  392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838,
];
const FURTHER_ADVANCES: Readonly<Record<string, number>> = {
  '°': 500,
  '·': 318,
  '×': 838,
  '±': 838,
  '−': 838,
  '–': 500,
  '…': 1000,
  '→': 838,
  '≤': 838,
  '≥': 838,
  '⁻': 528,
  ₓ: 444,
  µ: 636,
  Ω: 764,
  Δ: 684,
  θ: 612,
};
const RAISED_OR_LOWERED = /[⁰¹²³⁴-⁹₀-₉]/;
const RAISED_ADVANCE = 401;
/** What a sign that is not in the list takes; wide, so that text is cut too early rather than too late. */
const UNKNOWN_ADVANCE = 900;

function advance(sign: string): number {
  const code = sign.codePointAt(0)!;
  if (code >= 32 && code <= 126) {
    return ADVANCES[code - 32]!;
  }
  return FURTHER_ADVANCES[sign] ?? (RAISED_OR_LOWERED.test(sign) ? RAISED_ADVANCE : UNKNOWN_ADVANCE);
}

/** Width of one line of text in the shipped font, px. Bold is about a tenth wider. */
export function textWidth(text: string, sizePx: number, isBold = false): number {
  let thousandths = 0;
  for (const sign of text) {
    thousandths += advance(sign);
  }
  return (thousandths / 1000) * sizePx * (isBold ? 1.1 : 1);
}

export interface FittedText {
  readonly text: string;
  /** present where the text was cut */
  readonly fullText?: string;
}

/** The text if it fits, else as much as fits with an ellipsis, and the whole beside it. */
export function fitText(text: string, widthPx: number, sizePx: number): FittedText {
  if (textWidth(text, sizePx) <= widthPx) {
    return { text };
  }
  const room = widthPx - textWidth('…', sizePx);
  let kept = '';
  let used = 0;
  for (const sign of text) {
    used += textWidth(sign, sizePx);
    if (used > room) {
      break;
    }
    kept += sign;
  }
  return { text: `${kept.trimEnd()}…`, fullText: text };
}

/** A sentence on at most so many lines, cut between words; the last line takes what is left, however long. */
export function wrappedLines(text: string, widthPx: number, sizePx: number, most: number): string[] {
  const lines: string[] = [''];
  for (const word of text.split(' ')) {
    const last = lines[lines.length - 1]!;
    const longer = last === '' ? word : `${last} ${word}`;
    if (last !== '' && lines.length < most && textWidth(longer, sizePx) > widthPx) lines.push(word);
    else lines[lines.length - 1] = longer;
  }
  return lines;
}
