// The cation ratio that a row of a table states: as a formula, as a bare ratio, or as an amount of each element. Pure.
import { isCation, isRareEarth } from '../../science/matter/elements.ts';
import { elementAmounts, parseFormula } from '../../science/matter/formula.ts';
import { shown } from '../errors.ts';
import { elementOfAmounts, rareEarthOfRatios } from './heading-elements.ts';
import type { FilmTableColumn } from './schema.ts';
import type { TableCells } from './table-cells.ts';

/** How far shares in per cent, or as fractions, may be from their sum, as a part of it. */
const SUM_TOLERANCE = 0.015;

type Amounts = Record<string, number>;

export class RowCations {
  readonly #cells: TableCells;
  /** that of bare ratios, if neither a column nor a heading names one */
  readonly #usualRareEarth: string | null;
  #saidWhoseRatio = false;

  constructor(cells: TableCells, usualRareEarth: string | null) {
    this.#cells = cells;
    this.#usualRareEarth = usualRareEarth;
  }

  /** Amounts as stated; null where none could be read. */
  cations(row: number): Amounts | null {
    const formula = this.#cells.column('formula');
    const text = this.#cells.text(row, 'formula');
    if (formula !== undefined && text !== null) return this.#cationsOfText(row, formula, text);
    return this.#cationsOfAmounts(row);
  }

  /** Columns of amounts of which one is missing: none is used. */
  doubtIncomplete(): void {
    const columns = (['amountRe', 'amountBa', 'amountCu'] as const).map((field) => this.#cells.column(field));
    const given = columns.find((column) => column !== undefined);
    if (given === undefined || columns.every((column) => column !== undefined)) return;
    const names = ['rare earth', 'Ba', 'Cu'].filter((_, i) => columns[i] === undefined).join(' and ');
    const message = `No column holds the amount of ${names}: the other amounts are not used.`;
    this.#cells.doubtColumn(given, this.#cells.heading(given), 'a column for each of RE, Ba and Cu', message);
  }

  #cationsOfAmounts(row: number): Amounts | null {
    const rareEarths = this.#cells.columnsOf('amountRe');
    const [ba, cu] = [this.#cells.column('amountBa'), this.#cells.column('amountCu')];
    if (rareEarths.length === 0 || ba === undefined || cu === undefined) return null;
    const columns = [...rareEarths, ba, cu];
    const isBlank = (column: FilmTableColumn) => this.#cells.cell(row, column) === '';
    if (columns.every(isBlank)) return null;
    // of several rare earths one may be left blank: there is none of it
    const mayBeBlank = rareEarths.length > 1 && !rareEarths.every(isBlank) ? rareEarths.length : 0;
    const amounts = columns.map((column, i) =>
      i < mayBeBlank && isBlank(column) ? 0 : this.#cells.plainNumber(row, column),
    );
    if (amounts.every((amount) => amount === null)) return null;
    const wrong = amounts.findIndex((amount) => amount === null || amount < 0);
    if (wrong >= 0) {
      const message = 'One amount is missing or negative; no ratio was taken.';
      this.#cells.doubt(row, columns[wrong], 'an amount of each of RE, Ba and Cu', message);
      return null;
    }
    const stated = amounts as number[];
    this.#checkSum(row, columns, stated);
    const [baAmount, cuAmount] = stated.slice(-2) as [number, number];
    const elements = rareEarths.map((column) => elementOfAmounts(this.#cells.heading(column)));
    const isHeaded = elements.every((symbol): symbol is string => symbol !== null && isRareEarth(symbol));
    const own = isHeaded ? amountsAbove0(elements.map((symbol, i) => [symbol, stated[i]!])) : null;
    const reAmount = stated.slice(0, -2).reduce((total, amount) => total + amount, 0);
    return this.#ratio(row, columns[0]!, [reAmount, baAmount, cuAmount], own);
  }

  #checkSum(row: number, columns: readonly FilmTableColumn[], amounts: readonly number[]): void {
    const sum = amounts.reduce((total, amount) => total + amount, 0);
    const said = `RE, Ba and Cu add up to ${sum.toPrecision(4)}`;
    if (columns.every(({ unit }) => unit === '%') && Math.abs(sum - 100) > 100 * SUM_TOLERANCE)
      this.#cells.doubt(row, columns[0], 'amounts that add up to 100 %', `${said} %.`);
    else if (amounts.every((amount) => amount < 1) && Math.abs(sum - 1) > SUM_TOLERANCE)
      this.#cells.doubt(row, columns[0], 'fractions that add up to 1', `${said}.`);
  }

  #cationsOfText(row: number, column: FilmTableColumn, text: string): Amounts | null {
    const parts = text.split(/\s*[:/]\s*/);
    if (parts.length === 3 && parts.every((part) => /^\d{1,6}([.,]\d{1,6})?$/.test(part))) {
      const amounts = parts.map((part) => Number(part.replace(',', '.')));
      const symbol = rareEarthOfRatios(this.#cells.heading(column));
      return this.#ratio(row, column, amounts, symbol === null ? null : { [symbol]: amounts[0]! });
    }
    const amounts = amountsOf(text.replace(/(\d),(\d)/g, '$1.$2'));
    const cations = Object.entries(amounts ?? {}).filter(([symbol]) => isCation(symbol));
    const isOpen = 'RE' in (amounts ?? {});
    const isNamed = this.#cells.column('rareEarth') !== undefined;
    if (amounts === null || cations.length === 0 || (isOpen && !isNamed)) {
      const expected = 'a formula such as YBa2.3Cu3.8 or a ratio such as 1:2.3:3.8';
      this.#cells.doubt(row, column, expected, 'No cations could be read from this.');
      return null;
    }
    if (!isOpen) return Object.fromEntries(cations);
    const rareEarths = this.#rareEarths(row);
    if (rareEarths === null) return null;
    const others = cations.filter(([symbol]) => symbol !== 'RE');
    return { ...scaled(rareEarths, amounts.RE!), ...Object.fromEntries(others) };
  }

  /** Rare earths of a cell, in parts of 1: `Y`, `Y0.5Gd0.5`; null with a question if it names none. */
  #rareEarths(row: number): Amounts | null {
    const column = this.#cells.column('rareEarth');
    const text = this.#cells.text(row, 'rareEarth');
    if (column === undefined || text === null) return null;
    const amounts = amountsOf(text);
    const symbols = Object.keys(amounts ?? {});
    const wrong = symbols.find((symbol) => !isRareEarth(symbol));
    if (amounts === null || symbols.length === 0 || wrong !== undefined) {
      const message = wrong === undefined ? 'This names no rare earth.' : `${shown(wrong)} is no rare earth.`;
      this.#cells.doubt(row, column, 'a rare earth such as Y, Gd or Y0.5Gd0.5', message);
      return null;
    }
    return inParts(amounts);
  }

  /** @param own amounts of the rare earths that the headings name, `re` in all; null if they name none */
  #ratio(
    row: number,
    column: FilmTableColumn,
    [re, ba, cu]: readonly number[],
    own: Amounts | null,
  ): Amounts | null {
    if (re! + ba! + cu! <= 0) {
      this.#cells.doubt(row, column, 'an amount above 0', 'All amounts are zero; no ratio was taken.');
      return null;
    }
    if (own !== null) return this.#isDenied(row, own) ? null : { ...own, Ba: ba!, Cu: cu! };
    const rareEarths = this.#unheadedRareEarths(row, column);
    return rareEarths && { ...scaled(rareEarths, re!), Ba: ba!, Cu: cu! };
  }

  /** Whether the row's own cell names other rare earths than the headings; it is asked. */
  #isDenied(row: number, own: Amounts): boolean {
    const namedIn = (amounts: Amounts) => Object.keys(amounts).sort().join(', ');
    const cell = this.#rareEarths(row);
    if (cell === null || namedIn(cell) === namedIn(own)) return false;
    const message = `The headings of the amounts name ${namedIn(own) || 'none'}, this cell ${namedIn(cell)}; no ratio was taken.`;
    this.#cells.doubt(row, this.#cells.column('rareEarth'), 'the rare earths of the headings', message);
    return true;
  }

  #unheadedRareEarths(row: number, column: FilmTableColumn): Amounts | null {
    if (this.#cells.column('rareEarth') !== undefined) return this.#rareEarths(row);
    const usual = this.#usualRareEarth;
    if (!this.#saidWhoseRatio) {
      this.#saidWhoseRatio = true;
      const message =
        usual === null
          ? 'No column says which rare earth a bare ratio is of; no bare ratio was taken.'
          : `No column says which rare earth a bare ratio is of: taken as ${usual}, that of the series.`;
      this.#cells.doubt(row, column, 'a column of rare earths', message);
    }
    return usual === null ? null : { [usual]: 1 };
  }
}

const amountsAbove0 = (entries: readonly (readonly [string, number])[]): Amounts =>
  Object.fromEntries(entries.filter(([, amount]) => amount > 0));

const scaled = (amounts: Amounts, factor: number): Amounts =>
  Object.fromEntries(Object.entries(amounts).map(([symbol, amount]) => [symbol, amount * factor]));

function inParts(amounts: Amounts): Amounts {
  const sum = Object.values(amounts).reduce((total, amount) => total + amount, 0);
  return Object.fromEntries(Object.entries(amounts).map(([symbol, amount]) => [symbol, amount / sum]));
}

/** Elements of a formula; null if it cannot be read as one. */
function amountsOf(text: string): Amounts | null {
  try {
    return elementAmounts(parseFormula(text));
  } catch {
    return null;
  }
}
