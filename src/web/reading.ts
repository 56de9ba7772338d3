// Which diagram is read: equilibrium, or one in which the grower sets phases or the melt free. Pure.
import { pressureText } from '../charts/trade-text.ts';
import { phaseName, type RareEarth, solidsOf } from '../science/equilibrium/solids.ts';
import { RARE_EARTHS } from '../science/matter/elements.ts';

/** What a grower may move in the published diagram. */
export interface Reading {
  /** added to the melt's energy, J per mole of its cations; negative makes it form sooner */
  meltOffsetJPerMol: number;
  /** phases that do not nucleate */
  heldBack: string[];
}

/** Surface temperature, oxygen, and the reading. */
export interface GrowthCondition extends Reading {
  temperatureC: number;
  po2Atm: number;
}

export const EQUILIBRIUM: Reading = { meltOffsetJPerMol: 0, heldBack: [] };

export const isEquilibrium = ({ meltOffsetJPerMol, heldBack }: Reading): boolean =>
  meltOffsetJPerMol === 0 && heldBack.length === 0;

/** The reading as the equilibrium entries are asked for it. */
export const readingFields = ({ meltOffsetJPerMol, heldBack }: Reading) => ({
  offsetsJPerMol: meltOffsetJPerMol === 0 ? {} : { liquid: meltOffsetJPerMol },
  heldBack,
});

/** The reading in words, as a page must say it wherever it shows a number from it. */
export function readingText(reading: Reading): string {
  const { meltOffsetJPerMol, heldBack } = reading;
  if (isEquilibrium(reading)) return 'equilibrium';
  const size = Math.abs(meltOffsetJPerMol) / 1000;
  const parts = [
    meltOffsetJPerMol === 0
      ? ''
      : `melt ${meltOffsetJPerMol < 0 ? 'set free' : 'held off'} by ${size} kJ/mol`,
    heldBack.length === 0 ? '' : `${heldBack.join(', ')} held back`,
  ];
  return `not equilibrium: ${parts.filter(Boolean).join(', ')}`;
}

export const conditionText = ({ temperatureC, po2Atm }: GrowthCondition): string =>
  `${Number(temperatureC.toFixed(1))} °C, pO₂ ${pressureText(po2Atm)}`;

const SIMPLE_OXIDES = ['BaO', 'RE2O3'];

/** Phases that a grower may hold back: every solid but 123 and the simple oxides that the corners need. */
export function heldBackChoices(rareEarth: string): string[] {
  return solidsOf(rareEarth as RareEarth)
    .map((record) => phaseName(record, rareEarth as RareEarth))
    .filter(
      (name) => name !== `${rareEarth}Ba2Cu3O7` && !SIMPLE_OXIDES.includes(name.replace(rareEarth, 'RE')),
    );
}

/** The same phases of another rare earth; those that it does not form are left out. */
export function heldBackFor(heldBack: readonly string[], from: string, to: string): string[] {
  const choices = heldBackChoices(to);
  return heldBack.map((name) => name.replace(from, to)).filter((name) => choices.includes(name));
}

/** Cations with every rare earth in them replaced by one. */
export function cationsWith(cations: Readonly<Record<string, number>>, rareEarth: string) {
  const found: Record<string, number> = {};
  for (const [symbol, amount] of Object.entries(cations)) {
    const name = (RARE_EARTHS as readonly string[]).includes(symbol) ? rareEarth : symbol;
    found[name] = (found[name] ?? 0) + amount;
  }
  return found;
}
