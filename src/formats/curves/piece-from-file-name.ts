// Finds the piece that a file name speaks of. Pure.

export interface KnownLabel {
  readonly pieceId: string;
  readonly label: string;
}

export interface PieceFound {
  /** null: none found, or more than one */
  readonly pieceId: string | null;
  /** how it was found, or why it was not, in words */
  readonly how: string;
}

interface Token {
  text: string;
  start: number;
  end: number;
}

const MAX_NAME = 500;
const MAX_NAMED = 5;

/** Runs of letters and runs of digits, in small letters: `F012-a` is f, 012, a. */
function tokensOf(text: string): Token[] {
  const plain = text.normalize('NFKC').toLowerCase().slice(0, MAX_NAME);
  return Array.from(plain.matchAll(/\p{L}+|\p{N}+/gu), (match) => ({
    text: match[0],
    start: match.index,
    end: match.index + match[0].length,
  }));
}

/** Places where the label's tokens stand in the name's, whole words at both ends. */
function placesOf(label: readonly Token[], name: readonly Token[]): { start: number; end: number }[] {
  const places: { start: number; end: number }[] = [];
  for (let at = 0; at + label.length <= name.length; at++) {
    if (!label.every((token, i) => token.text === name[at + i]!.text)) continue;
    const last = at + label.length - 1;
    const isWholeAtStart = at === 0 || name[at - 1]!.end < name[at]!.start;
    const isWholeAtEnd = last === name.length - 1 || name[last]!.end < name[last + 1]!.start;
    if (isWholeAtStart && isWholeAtEnd) places.push({ start: name[at]!.start, end: name[last]!.end });
  }
  return places;
}

/**
 * The piece whose label stands in the file name, whatever parts its words there (`F012-a` in `f012_a 77K.dat` or
 * `F012a.txt`). The longest label wins over those inside it; two labels side by side, or two pieces of one label, are
 * left to the person.
 */
export function pieceFromFileName(fileName: string, knownLabels: readonly KnownLabel[]): PieceFound {
  const name = tokensOf(fileName.replace(/^.*[/\\]/, ''));
  const matches = knownLabels.flatMap(({ pieceId, label }) => {
    const tokens = tokensOf(label);
    if (tokens.length === 0) return [];
    return placesOf(tokens, name).map((place) => ({ pieceId, label, ...place }));
  });
  const longest = matches.filter(
    ({ start, end }) =>
      !matches.some(
        (other) => other.start <= start && other.end >= end && other.end - other.start > end - start,
      ),
  );
  const pieces = new Map(longest.map(({ pieceId, label }) => [pieceId, label]));
  if (pieces.size === 0) return { pieceId: null, how: 'No piece of this series is named in the file name.' };
  if (pieces.size > 1) {
    const labels = [...pieces.values()].slice(0, MAX_NAMED).join(', ');
    return { pieceId: null, how: `The file name may speak of ${labels}: which piece is it?` };
  }
  const [[pieceId, label]] = [...pieces] as [[string, string]];
  return { pieceId, how: `The file name holds the label ${label}.` };
}
