// Where the name of a phase field is written on a map: deep inside it, shortest names that stay clear.

/** `Dy2BaCuO5` as the trade says it: the counts of RE, Ba and Cu, where those name it. */
const NUMBERED: readonly [RegExp, string][] = [
  [/^[A-Z][a-z]?Ba2Cu3O7$/, '123'],
  [/^[A-Z][a-z]?2BaCuO5$/, '211'],
  [/^[A-Z][a-z]?Ba3Cu2O6\.5$/, '132'],
  [/^[A-Z][a-z]?Ba2Cu4O8$/, '124'],
];

/** Name of a phase, short where the trade has a number for it. */
export function shortPhaseName(name: string): string {
  return NUMBERED.find(([pattern]) => pattern.test(name))?.[1] ?? name;
}

/** `DyBa2Cu3O7 + liquid` as `123 + liquid`. */
export function shortFieldName(field: string): string {
  return field.split(' + ').map(shortPhaseName).join(' + ');
}

export interface FieldLabel {
  readonly field: string;
  /** index of the node it stands at */
  readonly node: number;
}

/**
 * One label for each field that holds enough nodes: at its node farthest from every node of another field, largest fields
 * first. Distances are in whatever unit the coordinates are; scale them to pixels beforehand.
 *
 * @param x      of each node, on the picture's scale
 * @param field  index into names, of each node
 * @param fewest nodes that a field must have
 */
export function fieldLabels(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  field: ArrayLike<number>,
  names: readonly string[],
  fewest: number,
): FieldLabel[] {
  const members = names.map((): number[] => []);
  for (let i = 0; i < field.length; i++) members[field[i]!]?.push(i);
  return members
    .map((nodes, f) => ({ nodes, name: names[f]! }))
    .filter(({ nodes }) => nodes.length >= fewest)
    .sort((one, other) => other.nodes.length - one.nodes.length)
    .map(({ nodes, name }) => {
      const f = field[nodes[0]!]!;
      let best = nodes[0]!;
      let bestGap = -1;
      for (const node of nodes) {
        let gap = Number.POSITIVE_INFINITY;
        for (let j = 0; j < field.length && gap > bestGap; j++) {
          if (field[j] === f) continue;
          gap = Math.min(gap, (x[node]! - x[j]!) ** 2 + (y[node]! - y[j]!) ** 2);
        }
        if (gap > bestGap) [best, bestGap] = [node, gap];
      }
      return { field: name, node: best };
    });
}
