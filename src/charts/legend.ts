// The list of what the marks mean: in rows beside each other, or one under another.
import type { Mark } from './scene.ts';
import { fitText, textWidth } from './text-width.ts';

export interface LegendItem {
  readonly label: string;
  /** the sample, drawn about its middle; it may take 22 px across */
  readonly sample: (x: number, y: number) => readonly Mark[];
}

const SAMPLE_PX = 22;
const GAP_PX = 16;
const ROW_PX = 19;
const LABEL_PX = 12;
const LONGEST_LABEL_PX = 260;

export interface Legend {
  readonly marks: readonly Mark[];
  readonly heightPx: number;
  /** right end of what was drawn */
  readonly rightPx: number;
}

/**
 * Lays a legend out from (left, top) within a width.
 * @param isColumn one item a row; else as many as fit
 */
export function legend(
  items: readonly LegendItem[],
  left: number,
  top: number,
  widthPx: number,
  isColumn = false,
): Legend {
  const marks: Mark[] = [];
  let x = left;
  let row = 0;
  let rightPx = left;
  for (const { label, sample } of items) {
    const room = Math.min(LONGEST_LABEL_PX, widthPx - SAMPLE_PX - 6);
    const fitted = fitText(label, room, LABEL_PX);
    const width = SAMPLE_PX + 6 + textWidth(fitted.text, LABEL_PX);
    if (x > left && (isColumn || x + width > left + widthPx)) {
      x = left;
      row++;
    }
    const y = top + ROW_PX * (row + 0.5);
    marks.push(...sample(x + SAMPLE_PX / 2, y), {
      kind: 'text',
      x: x + SAMPLE_PX + 6,
      y,
      ...fitted,
      size: LABEL_PX,
      fill: 'ink',
      anchor: 'start',
      baseline: 'middle',
    });
    x += width + GAP_PX;
    rightPx = Math.max(rightPx, x - GAP_PX);
  }
  return { marks, heightPx: items.length === 0 ? 0 : (row + 1) * ROW_PX, rightPx };
}
