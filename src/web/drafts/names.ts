// Names that follow from others: the next run, the pieces of a film. Pure; what is there already is never named again.

/** `a` to `z`, then `aa`. */
function letters(i: number): string {
  const last = String.fromCharCode(97 + (i % 26));
  return i < 26 ? last : letters(Math.floor(i / 26) - 1) + last;
}

/**
 * Names for pieces cut from a film: `D07-a`, `D07-b` and so on.
 *
 * @param taken names that exist already
 */
export function pieceNames(filmLabel: string, count: number, taken: readonly string[] = []): string[] {
  const names: string[] = [];
  for (let i = 0; names.length < count; i++) {
    const name = `${filmLabel}-${letters(i)}`;
    if (!taken.includes(name)) names.push(name);
  }
  return names;
}

/**
 * The name after a name: its last number one up, width kept (`D07` to `D08`, `run 9` to `run 10`); without a number
 * `-2` is added.
 *
 * @param taken names that exist already
 */
export function nextName(label: string, taken: readonly string[] = []): string {
  const match = /^(.*?)(\d+)(\D*)$/.exec(label);
  const named = (number: number): string =>
    match ? `${match[1]}${String(number).padStart(match[2]!.length, '0')}${match[3]}` : `${label}-${number}`;
  let number = match ? Number(match[2]) + 1 : 2;
  while (taken.includes(named(number))) number++;
  return named(number);
}
