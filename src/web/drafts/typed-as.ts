// Temperatures of a plan typed as the surface's or as a chamber reads them; the path stays the same. Pure.
import { type PathDraft, plain } from './path-draft.ts';
import { numberText, readTemperatureC } from './typed-numbers.ts';

/** The same path with its temperatures typed otherwise, offset between surface and reading applied. */
function typedOtherwise(draft: PathDraft, typedAs: PathDraft['typedAs'], addK: number): PathDraft {
  const moved = (text: string): string => {
    const read = readTemperatureC(text);
    return 'value' in read && read.value !== null ? numberText(plain(read.value + addK)) : text;
  };
  return {
    ...draft,
    typedAs,
    startC: moved(draft.startC),
    steps: draft.steps.map((row) => ({ ...row, toC: moved(row.toC) })),
  };
}

/** @param offsetK of the draft's chamber; null: it has none, and temperatures are the surface's */
export function withTypedAs(
  draft: PathDraft,
  typedAs: PathDraft['typedAs'],
  offsetK: number | null,
): PathDraft {
  if (typedAs === draft.typedAs) return draft;
  if (offsetK === null) return { ...draft, typedAs: 'surface' };
  return typedOtherwise(draft, typedAs, typedAs === 'surface' ? offsetK : -offsetK);
}

/** Another chamber for the same path at the surface. */
export function withChamber(
  draft: PathDraft,
  chamberId: string,
  offsetsK: { before: number | null; after: number | null },
): PathDraft {
  const surface = { ...withTypedAs(draft, 'surface', offsetsK.before), chamberId };
  return offsetsK.after === null ? surface : withTypedAs(surface, draft.typedAs, offsetsK.after);
}
