// The cells that lines are looked up in: 123 of each rare earth, substrates and buffers, second phases. Pure; angstrom.
import { DIFFRACTION_CELLS } from '../tables/diffraction-cells.ts';
import type { Cell, Miller } from './lattice.ts';
import { cellVolumeCubicAngstrom } from './lattice.ts';

export interface Cell123 extends Cell {
  readonly rareEarth: string;
  readonly uncertaintyAngstrom: number;
}

export interface SubstrateCell {
  readonly id: string;
  readonly kind: 'substrate' | 'tape' | 'buffer';
  readonly aAngstrom: number;
  readonly uncertaintyAngstrom: number;
  readonly lines: readonly Miller[];
  /** an untwinned, unstrained crystal whose line may set the angle scale */
  readonly isAngleStandard: boolean;
}

interface PhaseCell extends Cell {
  readonly formula: string;
  readonly rareEarth: string | null;
  readonly uncertaintyAngstrom: number;
  /** strongest lines of a powder, strongest first as far as known */
  readonly lines: readonly Miller[];
  /** lines that an aligned population shows alone */
  readonly orientedLines: readonly Miller[];
}

/** Rare earths whose 123 cell is known. */
export const RARE_EARTHS_OF_123: readonly string[] = DIFFRACTION_CELLS.cells123.map((cell) => cell.rareEarth);

const SUBSTRATES: readonly (SubstrateCell & { aliases: readonly string[] })[] =
  DIFFRACTION_CELLS.substrates as unknown as readonly (SubstrateCell & { aliases: readonly string[] })[];
const PHASES = DIFFRACTION_CELLS.phases as unknown as readonly PhaseCell[];

/** Cell of RE Ba2Cu3O7; undefined for a rare earth that the table does not hold. */
export function find123Cell(rareEarth: string): Cell123 | undefined {
  const row = DIFFRACTION_CELLS.cells123.find((cell) => cell.rareEarth === rareEarth);
  return row && { ...row, betaDeg: 90, gammaDeg: 90 };
}

/** Every substrate that a lone strong line may be recognised as. */
export const SINGLE_CRYSTALS: readonly SubstrateCell[] = SUBSTRATES.filter((row) => row.kind === 'substrate');

/**
 * Substrates and buffers named in a free text such as 'SrTiO3 (100)' or 'CeO2/YSZ/Ni-W'.
 *
 * @returns those known, and the words that named none
 */
export function substratesNamed(text: string): { known: SubstrateCell[]; unknown: string[] } {
  const known: SubstrateCell[] = [];
  const unknown: string[] = [];
  for (const part of text.split(/[/,;+|]| on /i)) {
    const word = part
      .replace(/\(.*?\)/g, '')
      .replace(/[^A-Za-z0-9]/g, '')
      .toLowerCase();
    if (word === '') continue;
    const found = SUBSTRATES.find((row) => row.aliases.includes(word));
    if (found === undefined) unknown.push(part.trim());
    else if (!known.includes(found)) known.push(found);
  }
  // On a tape every layer is strained, MgO too.
  const isTape = known.some((row) => row.kind !== 'substrate') || unknown.length > 0;
  return { known: isTape ? known.map((row) => ({ ...row, isAngleStandard: false })) : known, unknown };
}

/** A second phase by formula; undefined if the table does not hold it. */
export function findPhaseCell(formula: string): PhaseCell | undefined {
  return PHASES.find((phase) => phase.formula === formula);
}

/** Second phases looked for when none are named, for a 123 of this rare earth. */
export function usualSecondPhases(rareEarth: string): string[] {
  return [`${rareEarth}2O3`, `${rareEarth}2BaCuO5`, 'BaCuO2', 'CuO', 'Cu2O', 'BaCu2O2'];
}

/** Formulas of the table, for messages. */
export const KNOWN_PHASES: readonly string[] = PHASES.map((phase) => phase.formula);

/** Relative standard uncertainty of a cell's spacings. */
export function relativeSpacingUncertainty(cell: Cell & { uncertaintyAngstrom: number }): number {
  return cell.uncertaintyAngstrom / Math.cbrt(cellVolumeCubicAngstrom(cell));
}

/** Lines of holders and contacts that fall among a film's, with their spacings in angstrom. */
export const OTHER_LINES: readonly { label: string; spacingAngstrom: number }[] =
  DIFFRACTION_CELLS.otherLines;
