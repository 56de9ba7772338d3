// Puts identifiers in the place of labels, as whoever loads the demonstration series must.

/** A UUID of version 7 made from a number, for tests. */
function idOf(number: number): string {
  return `01900000-0000-7000-8000-${number.toString(16).padStart(12, '0')}`;
}

/** Gives each label one identifier, in the order of asking. */
export function identifierBook(): (label: string) => string {
  const known = new Map<string, string>();
  return (label) => {
    const id = known.get(label) ?? idOf(known.size + 1);
    known.set(label, id);
    return id;
  };
}

/** The body that the store takes: `...Label` becomes `...Id`, `...Labels` becomes `...Ids`. */
export function withIdentifiers(record: object, identifierOf: (label: string) => string): object {
  return Object.fromEntries(
    Object.entries(record).map(([field, value]) => {
      if (field.endsWith('Labels')) return [field.replace(/Labels$/, 'Ids'), value.map(identifierOf)];
      if (field.endsWith('Label')) {
        return [field.replace(/Label$/, 'Id'), value === null ? null : identifierOf(value)];
      }
      return [field, value];
    }),
  );
}
