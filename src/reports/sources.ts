// Where the numbers of a report come from: the entries that made them, the tables those rest on, and which rows of the
// tables stand from memory only.
import { CATALOGUE } from '../computations/catalogue.ts';
import { ATOMIC_WEIGHTS, ATOMIC_WEIGHTS_TABLE } from '../science/tables/atomic-weights.ts';
import { CATION_VALENCES, CATION_VALENCES_TABLE } from '../science/tables/cation-valences.ts';
import { CAUTIONS, CAUTIONS_TABLE } from '../science/tables/cautions.ts';
import { DIFFRACTION_CELLS, DIFFRACTION_CELLS_TABLE } from '../science/tables/diffraction-cells.ts';
import { IONIC_RADII, IONIC_RADII_TABLE } from '../science/tables/ionic-radii.ts';
import { PRECURSORS, PRECURSORS_TABLE } from '../science/tables/precursors.ts';
import { THERMO_LINES, THERMO_LINES_TABLE } from '../science/tables/thermo-lines.ts';
import { THERMO_MELT, THERMO_MELT_TABLE } from '../science/tables/thermo-melt.ts';
import { THERMO_SOLIDS, THERMO_SOLIDS_TABLE } from '../science/tables/thermo-solids.ts';
import { XRAY_LINES, XRAY_LINES_TABLE } from '../science/tables/xray-lines.ts';

const TABLES: readonly (readonly [digest: { readonly table: string }, content: unknown])[] = [
  [ATOMIC_WEIGHTS_TABLE, ATOMIC_WEIGHTS],
  [CATION_VALENCES_TABLE, CATION_VALENCES],
  [CAUTIONS_TABLE, CAUTIONS],
  [DIFFRACTION_CELLS_TABLE, DIFFRACTION_CELLS],
  [IONIC_RADII_TABLE, IONIC_RADII],
  [PRECURSORS_TABLE, PRECURSORS],
  [THERMO_LINES_TABLE, THERMO_LINES],
  [THERMO_MELT_TABLE, THERMO_MELT],
  [THERMO_SOLIDS_TABLE, THERMO_SOLIDS],
  [XRAY_LINES_TABLE, XRAY_LINES],
];

export interface SourceRow {
  readonly table: string;
  readonly source: string;
  readonly tag: string;
  /** rows of the table that name this source with this tag */
  readonly count: number;
  readonly isFromMemory: boolean;
}

interface Sourced {
  readonly source: string;
  readonly tag: string;
}

function* sourcedRows(value: unknown): Generator<Sourced> {
  if (value === null || typeof value !== 'object') return;
  if (!Array.isArray(value)) {
    const { source, tag } = value as Record<string, unknown>;
    if (typeof source === 'string' && typeof tag === 'string') yield { source, tag };
  }
  for (const inner of Object.values(value)) yield* sourcedRows(inner);
}

/** Names of the entries and, through what they use, of all they rest on; in the order of the catalogue. */
function entriesBehind(computations: ReadonlySet<string>): typeof CATALOGUE {
  const wanted = new Set(computations);
  for (const name of wanted) {
    for (const used of CATALOGUE.find((entry) => entry.name === name)?.uses ?? []) wanted.add(used);
  }
  return CATALOGUE.filter(({ name }) => wanted.has(name));
}

/** Each source of the tables behind the entries named, once with the number of rows that name it. */
export function sourcesBehind(computations: ReadonlySet<string>): SourceRow[] {
  const tables = new Set(
    entriesBehind(computations).flatMap((entry) => entry.tables.map(({ table }) => table)),
  );
  return TABLES.filter(([{ table }]) => tables.has(table)).flatMap(([{ table }, content]) => {
    const rows = new Map<string, SourceRow>();
    for (const { source, tag } of sourcedRows(content)) {
      const key = `${source}\0${tag}`;
      const count = (rows.get(key)?.count ?? 0) + 1;
      rows.set(key, { table, source, tag, count, isFromMemory: /\bmemory\b/.test(tag) });
    }
    return [...rows.values()];
  });
}
