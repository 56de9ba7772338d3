// Rows of points over a plane of temperature against oxygen pressure or composition: odds, shares and where fields change.
import { type CationShares, fieldName, medianIndex } from './assemblage.ts';
import { oxygenStateAt } from './oxygen.ts';
import { type Conditions, LIQUID, type Member, phaseSystem, superconductorName } from './phase-system.ts';
import { type PhaseShare, pointEquilibrium } from './point-equilibrium.ts';

/** A place of the plane but its temperature. */
export interface Column {
  readonly po2Atm: number;
  readonly shares: CationShares;
}

export interface WindowRow {
  readonly oddsLiquid: Float64Array;
  readonly oddsLiquidAnd123: Float64Array;
  readonly oddsOnlyThose: Float64Array;
  /** of the member with the median share */
  readonly liquidShare: Float64Array;
  readonly medianFields: readonly string[];
  /** share of liquid over the row, a member */
  readonly liquidSums: Float64Array;
}

const liquidIn = (phases: readonly PhaseShare[]): number =>
  phases.reduce((sum, { name, share }) => sum + (name === LIQUID ? share : 0), 0);

/** One temperature over all columns, each member minimised exactly. */
export function windowRow(
  members: readonly Member[],
  conditions: Omit<Conditions, 'temperatureK' | 'po2Atm'>,
  temperatureK: number,
  columns: readonly Column[],
): WindowRow {
  const n = columns.length;
  const superconductor = superconductorName(conditions.rareEarth);
  const row = {
    oddsLiquid: new Float64Array(n),
    oddsLiquidAnd123: new Float64Array(n),
    oddsOnlyThose: new Float64Array(n),
    liquidShare: new Float64Array(n),
    medianFields: new Array<string>(n),
    liquidSums: new Float64Array(members.length),
  };
  columns.forEach(({ po2Atm, shares }, i) => {
    const oxygen = oxygenStateAt(temperatureK, po2Atm);
    const points = members.map(
      (member) =>
        pointEquilibrium(phaseSystem(member, { ...conditions, temperatureK, po2Atm }, oxygen), shares).phases,
    );
    const liquidShares = points.map(liquidIn);
    points.forEach((phases, m) => {
      const names = new Set(phases.map(({ name }) => name));
      row.liquidSums[m]! += liquidShares[m]!;
      if (!names.has(LIQUID)) return;
      row.oddsLiquid[i]! += 1 / members.length;
      if (!names.has(superconductor)) return;
      row.oddsLiquidAnd123[i]! += 1 / members.length;
      if (names.size === 2) row.oddsOnlyThose[i]! += 1 / members.length;
    });
    const median = medianIndex(liquidShares);
    row.liquidShare[i] = liquidShares[median]!;
    row.medianFields[i] = fieldName(points[median]!);
  });
  return row;
}

/** Where a field gives way to another on warming. */
export interface FieldChange {
  /** index of the column */
  readonly column: number;
  readonly temperatureK: number;
  readonly below: string;
  readonly above: string;
}

const SETTLED_K = 0.05;
const MOST_CHANGES = 6;

/**
 * Temperatures at which the field of one member changes along each column, halved down to 0.05 K between neighbouring rows. Fields
 * that come and go between two rows are not seen.
 */
export function fieldChanges(
  member: Member,
  conditions: Omit<Conditions, 'temperatureK' | 'po2Atm'>,
  temperaturesK: readonly number[],
  columns: readonly Column[],
): FieldChange[] {
  const fieldAt = ({ po2Atm, shares }: Column, temperatureK: number): string =>
    fieldName(pointEquilibrium(phaseSystem(member, { ...conditions, temperatureK, po2Atm }), shares).phases);
  return columns.flatMap((column, i) => {
    const fields = temperaturesK.map((temperatureK) => fieldAt(column, temperatureK));
    const changes: FieldChange[] = [];
    const between = (low: number, high: number, below: string, above: string): void => {
      if (below === above || changes.length > MOST_CHANGES * temperaturesK.length) return;
      if (high - low < SETTLED_K) {
        changes.push({ column: i, temperatureK: (low + high) / 2, below, above });
        return;
      }
      const middle = (low + high) / 2;
      const field = fieldAt(column, middle);
      between(low, middle, below, field);
      between(middle, high, field, above);
    };
    for (let k = 1; k < temperaturesK.length; k++)
      between(temperaturesK[k - 1]!, temperaturesK[k]!, fields[k - 1]!, fields[k]!);
    return changes;
  });
}
