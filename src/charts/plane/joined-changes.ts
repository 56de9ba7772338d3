// Where the field of one member changes, column by column, joined into lines. Pure; no pixels.

/** One change of field on warming, in a column of the map. */
export interface FieldChange {
  readonly column: number;
  readonly temperatureC: number;
  readonly below: string;
  readonly above: string;
}

export interface ChangeLine {
  readonly below: string;
  readonly above: string;
  readonly columns: number[];
  readonly temperatureC: number[];
}

/**
 * Changes of neighbouring columns between the same two fields, as lines from left to right. Where a column has several changes
 * of one kind, each goes on with the line that ended nearest to it.
 *
 * @param farthestK a step larger than this between two columns is two lines
 */
export function joinedChanges(changes: readonly FieldChange[], farthestK: number): ChangeLine[] {
  const kinds = Map.groupBy(changes, ({ below, above }) => `${below} | ${above}`);
  return [...kinds.values()].flatMap((alike) => {
    const lines: ChangeLine[] = [];
    for (const { column, temperatureC, below, above } of [...alike].sort((p, q) => p.column - q.column)) {
      const reach = (line: ChangeLine): number => Math.abs(line.temperatureC.at(-1)! - temperatureC);
      const line = lines
        .filter((each) => each.columns.at(-1) === column - 1 && reach(each) <= farthestK)
        .sort((p, q) => reach(p) - reach(q))[0];
      if (line) {
        line.columns.push(column);
        line.temperatureC.push(temperatureC);
      } else lines.push({ below, above, columns: [column], temperatureC: [temperatureC] });
    }
    return lines;
  });
}
