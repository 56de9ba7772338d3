// A cell that states its own unit: `150 mTorr`, `1108 K`, `0,3 um`. Pure.
import { findUnit, type Unit } from '../units.ts';

/** A longer cell is a remark. */
const MAX_LENGTH = 60;

export interface CellWithUnit {
  /** the number as it is written */
  readonly number: string;
  readonly unit: Unit;
}

/** The number and the unit of a cell; null if it ends in no known unit. */
export function cellWithUnit(cell: string): CellWithUnit | null {
  if (cell.length > MAX_LENGTH) return null;
  const [, number, text] = /^(.*\d)\s*([^\d\s.,+-]\S*)$/.exec(cell) ?? [];
  const unit = text === undefined ? undefined : findUnit(text);
  return unit === undefined ? null : { number: number!, unit };
}
