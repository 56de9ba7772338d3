// The piece that a line such as `Sample: D07-a` at the head of a file names. Pure.
import type { KnownLabel, PieceFound } from './piece-from-file-name.ts';

/** `Sample: D07-a`, `# sample name = D07-a`, `"Sample ID","D07-a"`. */
const SAMPLE_LINE = /^[\s#;%"'*!-]*sample(?:\s*(?:name|id))?["']?\s*[:=,;\t]\s*(.+)$/i;

const plain = (text: string): string =>
  text
    .normalize('NFKC')
    .replace(/^[\s"',;]+|[\s"',;]+$/g, '')
    .toLowerCase();

/**
 * What the file's name says of its piece, joined with the sample that its head names, where that is the label of one piece
 * exactly. The name of the file goes first; where the two speak of different pieces, that is said.
 *
 * @param found       what the file name says
 * @param headerLines lines before the numbers
 */
export function withSampleHeader(
  found: PieceFound,
  headerLines: readonly string[],
  knownLabels: readonly KnownLabel[],
): PieceFound {
  const samples = headerLines.flatMap((line) => SAMPLE_LINE.exec(line.slice(0, 500))?.[1] ?? []);
  const named = knownLabels.filter(({ label }) => samples.some((sample) => plain(sample) === plain(label)));
  const [only] = named;
  if (named.length !== 1 || !only || only.pieceId === found.pieceId) return found;
  const says = `The file itself names the sample ${only.label}`;
  return found.pieceId === null
    ? { pieceId: only.pieceId, how: `${says}.` }
    : {
        pieceId: found.pieceId,
        how: `${found.how.replace(/\.$/, '')}, but the file itself names the sample ${only.label}: which is it?`,
      };
}
