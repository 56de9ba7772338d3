// Finds room for labels beside their points: greedy, in the order given, dropping what finds none.
import { type Box, type Mark, SMALLEST_TEXT_PX } from './scene.ts';
import { textWidth } from './text-width.ts';
import type { ColourRole } from './theme.ts';

const overlaps = (a: Box, b: Box): boolean =>
  a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;

export interface PlacedLabel {
  readonly x: number;
  /** middle of the line of text */
  readonly y: number;
  readonly anchor: 'start' | 'middle' | 'end';
  readonly box: Box;
}

/** Directions tried: right, left, above, below, then the diagonals. */
const DIRECTIONS = [
  [1, 0],
  [-1, 0],
  [0, -1],
  [0, 1],
  [1, -1],
  [-1, -1],
  [1, 1],
  [-1, 1],
] as const;

/** Room that is taken; labels are placed one after another. */
export class LabelRoom {
  readonly #frame: Box;
  readonly #taken: Box[] = [];

  constructor(frame: Box) {
    this.#frame = frame;
  }

  take(box: Box): void {
    this.#taken.push(box);
  }

  /** Keeps a mark's place free of labels. */
  takeAround(x: number, y: number, radius: number): void {
    this.take({ left: x - radius, top: y - radius, right: x + radius, bottom: y + radius });
  }

  /** Keeps level texts that are already placed free of further labels. */
  takeTexts(marks: readonly Mark[]): void {
    for (const mark of marks) {
      if (mark.kind !== 'text' || mark.angleDeg) continue;
      const width = textWidth(mark.text, mark.size, mark.isBold);
      const left =
        mark.anchor === 'start' ? mark.x : mark.anchor === 'end' ? mark.x - width : mark.x - width / 2;
      this.take({
        left,
        right: left + width,
        top: mark.y - mark.size * 0.6,
        bottom: mark.y + mark.size * 0.6,
      });
    }
  }

  isFree(box: Box): boolean {
    const frame = this.#frame;
    const isInside =
      box.left >= frame.left &&
      box.right <= frame.right &&
      box.top >= frame.top &&
      box.bottom <= frame.bottom;
    return isInside && !this.#taken.some((other) => overlaps(box, other));
  }

  /** A place for one line of text at `gapPx` from its point, or null if every side is taken. */
  place(text: string, x: number, y: number, gapPx: number, sizePx: number): PlacedLabel | null {
    const width = textWidth(text, sizePx);
    const height = sizePx * 1.2;
    for (const [right, down] of DIRECTIONS) {
      const reach = right !== 0 && down !== 0 ? gapPx * 0.75 : gapPx;
      const labelX = x + right * reach;
      const labelY = y + down * (reach + height / 2);
      const left = right === 1 ? labelX : right === -1 ? labelX - width : labelX - width / 2;
      const box = { left, right: left + width, top: labelY - height / 2, bottom: labelY + height / 2 };
      if (this.isFree(box)) {
        this.take(box);
        const anchor = right === 1 ? 'start' : right === -1 ? 'end' : 'middle';
        return { x: labelX, y: labelY, anchor, box };
      }
    }
    return null;
  }
}

/** Distances at which a label that must be written looks for room, with a thread to its point, px. */
const FAR_GAPS_PX = [22, 36, 52, 70, 90, 120] as const;

export interface LabelWish {
  readonly text: string;
  readonly x: number;
  readonly y: number;
  readonly gapPx: number;
  readonly fill: ColourRole;
  /** smallest text if left out, px */
  readonly sizePx?: number;
  /** look farther away too, where there is no room beside the point */
  readonly mayStandFar?: boolean;
}

/** A label where there is room: none, the text, or a thread and the text. */
export function labelMarks(room: LabelRoom, wish: LabelWish): Mark[] {
  const { text, x, y, gapPx, fill, sizePx = SMALLEST_TEXT_PX, mayStandFar = false } = wish;
  for (const gap of mayStandFar ? [gapPx, ...FAR_GAPS_PX] : [gapPx]) {
    const place = room.place(text, x, y, gap, sizePx);
    if (place) {
      const written: Mark = {
        kind: 'text',
        x: place.x,
        y: place.y,
        text,
        size: sizePx,
        fill,
        anchor: place.anchor,
        baseline: 'middle',
        hasHalo: true,
      };
      const thread: Mark = {
        kind: 'line',
        points: [x, y, place.x, place.y],
        stroke: fill,
        strokeWidth: 0.75,
      };
      return gap === gapPx ? [written] : [thread, written];
    }
  }
  return [];
}
