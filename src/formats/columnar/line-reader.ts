// Turns lines into blocks: collects text, tries rows until their grammar is found, then reads rows and refuses damaged ones.
import {
  type FormatCode,
  type ReadFailure,
  type ReadWarning,
  readFailure,
  readWarning,
  shown,
} from '../errors.ts';
import type { ReadResult } from '../reader.ts';
import type { Encoding } from '../text/encoding.ts';
import { finishedBlock, GrowingBlock } from './block.ts';
import { ClockColumn, clockPlaces } from './clock-column.ts';
import { grammarDoubt, hasOnlyGroupedPoints } from './doubts.ts';
import {
  clockSentence,
  delimiterWords,
  doubtFailure,
  headingsWarning,
  numberFailure,
  splitFieldText,
} from './faults.ts';
import { type Candidate, Candidates, type Grammar } from './grammar.ts';
import { Header } from './header.ts';
import { type FoundHeadings, findClockHeadings, findHeadings, type HeaderLine } from './headings.ts';
import { beginning, isBlankLine, isCommentLine, Row } from './row.ts';
import * as bounds from './schema.ts';

const MAX_WARNINGS = 100;

interface KeptLine {
  readonly bytes: Uint8Array;
  readonly line: number;
  readonly isEnded: boolean;
}

export class LineReader {
  lineNumber = 0;
  readonly #options: bounds.ColumnarOptions;
  readonly #warnings: ReadWarning[] = [];
  readonly #blocks: bounds.ColumnarBlock[] = [];
  readonly #header = new Header();
  readonly #candidates: Candidates;
  /** every grammar, tried on lines that the one found does not read */
  readonly #others: Candidates;
  #othersRun: number[] = [];
  #run: KeptLine[] = [];
  /** first rows of numbers too few for a block: read after all if the file holds no other */
  #fewRows: { rows: KeptLine[]; above: HeaderLine[] } | null = null;
  #grammar: Grammar | null = null;
  #block: GrowingBlock | null = null;
  #found: FoundHeadings | null = null;
  #above: string[] = [];
  #textShown: string[] = [];
  #clocks: ClockColumn[] = [];
  /** a row of another number of columns: a new block if the next row has it too, else a damaged row */
  #suspect: KeptLine | null = null;
  #suspectCount = 0;
  #rowsLeftOut = 0;
  #firstLeftOut = 0;
  #hasText = false;
  readonly #row = new Row();

  constructor(options: bounds.ColumnarOptions) {
    this.#options = options;
    this.#candidates = new Candidates(options);
    this.#others = new Candidates(options);
    this.#candidates.reset();
    this.#others.reset();
  }

  /** Takes the next line; a failure ends the reading. */
  read(bytes: Uint8Array, start: number, end: number, isEnded: boolean): ReadFailure | null {
    this.lineNumber++;
    if (this.#block !== null) {
      const answer = this.#inBlock(bytes, start, end, isEnded);
      if (answer !== 'outside') return answer;
    }
    return this.#outside({ bytes: bytes.slice(start, end), line: this.lineNumber, isEnded });
  }

  end(encoding: Encoding): ReadResult<bounds.Columnar> {
    const failure = this.#settleSuspect() ?? this.#endRun();
    if (failure !== null) return failure;
    const closing = this.#closeBlock() ?? this.#readFewRows();
    if (closing !== null) return closing;
    if (this.#blocks.length === 0) {
      return this.#hasText
        ? readFailure(
            'READ_NO_NUMBERS',
            `No rows of numbers in ${this.lineNumber} lines.`,
            this.lineNumber,
            1,
          )
        : readFailure('READ_EMPTY', `The file has ${this.lineNumber} lines, all blank.`, 1, 1);
    }
    if (this.#rowsLeftOut > 0) {
      const many = this.#rowsLeftOut === 1 ? '1 damaged row was' : `${this.#rowsLeftOut} damaged rows were`;
      this.#warn(
        'READ_ROWS_LEFT_OUT',
        `${many} left out, as asked; the first is line ${this.#firstLeftOut}.`,
      );
    }
    const { sawLatin, sawUtf8 } = this.#header.text;
    if (sawLatin && sawUtf8) {
      this.#warn('READ_ENCODING', 'Some lines of text are UTF-8, others are not and were read as Latin-1.');
    }
    const value: bounds.Columnar = {
      blocks: this.#blocks,
      encoding: encoding === 'utf-8' && sawLatin ? 'latin-1' : encoding,
      delimiter: this.#grammar!.delimiter,
      decimalMark: this.#grammar!.isMarkKnown ? this.#grammar!.decimalMark : null,
      comments: this.#header.comments(),
    };
    return { ok: true, value, warnings: this.#warnings };
  }

  #warn(code: FormatCode, sentence: string, line?: number): void {
    if (this.#warnings.length < MAX_WARNINGS) this.#warnings.push(readWarning(code, sentence, line));
  }

  // ---- between blocks ------------------------------------------------------------------------------------------

  #outside(line: KeptLine): ReadFailure | null {
    const { bytes } = line;
    if (isBlankLine(bytes, 0, bytes.length)) {
      this.#resetOthers();
      return this.#endRun() ?? this.#closeBlock();
    }
    this.#hasText = true;
    const mayBeEmptyField = this.#grammar === null || this.#grammar.delimiter === 'semicolon';
    const isComment = isCommentLine(bytes, 0, bytes.length, mayBeEmptyField);
    const mayBeRow = !isComment && hasDigit(bytes);
    if (mayBeRow && this.#candidates.take(bytes, line.line)) return this.#extendRun(line);
    const failure = this.#endRun();
    if (failure !== null) return failure;
    if (this.#block !== null) {
      const answer = this.#inBlock(bytes, 0, bytes.length, line.isEnded, line.line);
      return answer === 'outside' ? this.#outside(line) : answer;
    }
    if (mayBeRow && this.#candidates.take(bytes, line.line)) return this.#extendRun(line);
    if (this.#blocks.length === 0 && this.lineNumber > bounds.MAX_HEADER_LINES) {
      return readFailure(
        'READ_NO_NUMBERS',
        `No rows of numbers in the first ${bounds.MAX_HEADER_LINES} lines.`,
        line.line,
        1,
      );
    }
    this.#header.add(bytes, line.line);
    return mayBeRow ? this.#tryOthers(line) : this.#resetOthers();
  }

  #extendRun(line: KeptLine): ReadFailure | null {
    this.#resetOthers();
    this.#run.push(line);
    return this.#run.length >= bounds.DECISION_ROWS ? this.#endRun() : null;
  }

  #resetOthers(): null {
    this.#othersRun = [];
    return null;
  }

  /** Rows that only another grammar reads are refused: the grammar is never switched. */
  #tryOthers({ bytes, line }: KeptLine): ReadFailure | null {
    if (this.#grammar === null || this.#grammar.delimiter === 'none') return null;
    if (this.#othersRun.length === 0) this.#others.reset();
    if (!this.#others.take(bytes, line)) {
      this.#others.reset();
      this.#othersRun = this.#others.take(bytes, line) ? [line] : [];
      return null;
    }
    this.#othersRun.push(line);
    const best = this.#others.best()!;
    if (best.columns < 2 || best.textColumns.length > 0 || this.#othersRun.length < 4) return null;
    const first = this.#othersRun[0]!;
    return readFailure(
      'READ_DELIMITER_CHANGED',
      `Lines ${first} to ${line} are rows parted by ${delimiterWords(best.grammar)}, earlier ones by ` +
        `${delimiterWords(this.#grammar)}.`,
      first,
      1,
    );
  }

  /** A run of rows ends or is long enough: it opens a block, or its few lines are text after all. */
  #endRun(): ReadFailure | null {
    if (this.#run.length === 0) {
      this.#candidates.reset();
      return null;
    }
    const best = this.#candidates.best()!;
    const rows = this.#run;
    this.#run = [];
    if (best.isEnough(rows.length) || this.#isBlockOfFewRows(best)) return this.#openBlock(best, rows);
    if (best.textColumns.length === 0) {
      const first = rows[0]!.line;
      const where = rows.length === 1 ? `Line ${first} holds` : `Lines ${first} to ${rows.at(-1)!.line} hold`;
      this.#warn('READ_NUMBERS_IN_HEADER', `${where} numbers, but too few rows to be a block.`, first);
      if (this.#fewRows === null && this.#blocks.length === 0 && best.columns + rows.length > 2) {
        this.#fewRows = { rows, above: [...this.#header.lines] };
      }
    }
    for (const { bytes, line } of rows) this.#header.add(bytes, line);
    this.#candidates.reset();
    return null;
  }

  #isBlockOfFewRows(best: Candidate): boolean {
    if (best.textColumns.length > 0 || best.columns < 2) return false;
    if (this.#grammar !== null && this.#blocks.at(-1)?.columns.length === best.columns) return true;
    if (best.grammar.delimiter === 'blanks') return false;
    const { delimiter, decimalMark } = best.grammar;
    const found = findHeadings(this.#header.lines, delimiter, decimalMark, best.columns);
    return found.line !== undefined && found.numbers === 0;
  }

  #readFewRows(): ReadFailure | null {
    if (this.#blocks.length > 0 || this.#fewRows === null) return null;
    const { rows, above } = this.#fewRows;
    this.#candidates.reset();
    for (const { bytes, line } of rows) this.#candidates.take(bytes, line);
    const best = this.#candidates.best()!;
    const damaged = this.#damagedRow(best, rows.at(-1)!.line + 1);
    if (damaged !== null) return damaged;
    this.#header.restore(above);
    const told = this.#warnings.findIndex(
      ({ code, line }) => code === 'READ_NUMBERS_IN_HEADER' && line === rows[0]!.line,
    );
    if (told >= 0) this.#warnings.splice(told, 1);
    return this.#openBlock(best, rows) ?? this.#closeBlock();
  }

  #openBlock(best: Candidate, rows: readonly KeptLine[]): ReadFailure | null {
    const { grammar, columns } = best;
    const first = rows[0]!.line;
    if (columns > bounds.MAX_COLUMNS) {
      const sentence = `Line ${first} has ${columns} columns; at most ${bounds.MAX_COLUMNS} are read.`;
      return readFailure('READ_TOO_MANY_COLUMNS', sentence, first, 1);
    }
    const clocks = clockPlaces(best.clockForms);
    this.#found = findClockHeadings(this.#header.lines, grammar, columns, clocks);
    const isFirstBlock = this.#blocks.length === 0 && this.#options.delimiter === undefined;
    const doubt = grammarDoubt(best, this.#found, first, isFirstBlock);
    if (doubt !== null) return doubt;
    if (hasOnlyGroupedPoints(best)) {
      const sentence = `From line ${first} on, points with three digits after them were read as decimal points.`;
      this.#warn('READ_POINT_AS_DECIMAL', sentence, first);
    }
    const damaged = this.#damagedRow(best, first - 1);
    if (damaged !== null) return damaged;
    if (best.marks > 0) grammar.isMarkKnown = true;
    this.#grammar = grammar;
    this.#candidates.fix(grammar);
    this.#candidates.reset();
    this.#header.dropPairs(this.#found.lines);
    this.#above = this.#header.shown();
    this.#header.clear();
    this.#block = new GrowingBlock(columns, first, best.textColumns);
    this.#textShown = best.textColumns.map((column) => this.#fieldText(rows[0]!.bytes, column));
    this.#clocks = clocks.map((place) => new ClockColumn(place, first, this.#options.dateOrder));
    for (const { bytes, line, isEnded } of rows) {
      const answer = this.#inBlock(bytes, 0, bytes.length, isEnded, line);
      if (answer !== null && answer !== 'outside') return answer;
    }
    return null;
  }

  #fieldText(bytes: Uint8Array, column: number): string {
    const { fields } = this.#candidates;
    fields.split(bytes, 0, bytes.length, this.#grammar!.delimiter);
    return shown(this.#header.text.decode(bytes.subarray(fields.starts[column], fields.ends[column])), 30);
  }

  /** The line of text next to the rows, if it is a row but for a field that cannot be read. */
  #damagedRow(best: Candidate, besideLine: number): ReadFailure | null {
    if (best.textColumns.length > 0 || best.columns < 2) return null;
    const above = this.#header.lines.find(({ line }) => line === besideLine);
    if (above === undefined || above.isComment) return null;
    const { fields, number } = this.#candidates;
    const bytes = new TextEncoder().encode(above.text);
    if (beginning(bytes, 0, bytes.length) !== 'number') return null;
    this.#row.read(bytes, 0, bytes.length, best.grammar, best.columns, new Set(), fields, number);
    const { numbers, texts, firstText, hasAllColumns } = this.#row;
    if (!hasAllColumns || texts === 0 || numbers < texts) return null;
    const at = fields.starts[firstText]!;
    const text = splitFieldText(bytes, at, fields.ends[firstText]!);
    return numberFailure(text, firstText, above.line, this.#columnOf(bytes, 0, at), best.grammar);
  }

  // ---- in a block ----------------------------------------------------------------------------------------------

  /** Reads a line of the open block; `outside` if the block ended before it. */
  #inBlock(
    bytes: Uint8Array,
    start: number,
    end: number,
    isEnded: boolean,
    line = this.lineNumber,
  ): ReadFailure | null | 'outside' {
    const block = this.#block!;
    const grammar = this.#grammar!;
    const row = this.#row;
    const { fields, number } = this.#candidates;
    if (isBlankLine(bytes, start, end)) return this.#settleSuspect() ?? this.#closeBlock();
    if (isCommentLine(bytes, start, end, grammar.delimiter === 'semicolon'))
      return this.#textInBlock(line, 'a comment');
    row.read(bytes, start, end, grammar, block.columnCount, block.textColumns, fields, number);
    if (row.texts === 0 && row.firstDoubt < 0 && row.hasAllColumns) {
      const failure = this.#settleSuspect();
      if (failure === null) {
        for (const clock of this.#clocks) clock.add(bytes, fields, line);
        block.add(row.values, line);
      }
      return failure;
    }
    if (isCommentLine(bytes, start, end, false)) return this.#textInBlock(line, 'a comment');
    const kept = (): KeptLine => ({ bytes: bytes.slice(start, end), line, isEnded });
    if (row.firstDoubt >= 0) {
      const at = fields.starts[row.firstDoubt]!;
      const text = splitFieldText(bytes, at, fields.ends[row.firstDoubt]!);
      return this.#settleSuspect() ?? doubtFailure(text, line, this.#columnOf(bytes, start, at));
    }
    if (row.texts === 0 && row.numbers > 0) return this.#otherCount(kept());
    const begins = beginning(bytes, start, end);
    const isCut = !isEnded && begins === 'number';
    const isMostlyNumbers = row.numbers >= row.texts || (row.numbers === 0 && begins === 'number');
    const isRow = grammar.delimiter === 'blanks' || grammar.delimiter === 'none' ? begins === 'number' : true;
    if (row.hasAllColumns && isRow && isMostlyNumbers) {
      if (isCut && this.#options.wholeRows === true) return this.#leaveOut(line);
      const at = fields.starts[row.firstText]!;
      const text = splitFieldText(bytes, at, fields.ends[row.firstText]!);
      const column = this.#columnOf(bytes, start, at);
      return this.#settleSuspect() ?? numberFailure(text, row.firstText, line, column, grammar);
    }
    const isDamaged =
      grammar.delimiter !== 'blanks' && begins === 'number' && row.numbers >= row.texts && row.numbers > 0;
    if (isCut || isDamaged) {
      if (this.#options.wholeRows === true) return this.#settleSuspect() ?? this.#leaveOut(line);
      return this.#settleSuspect() ?? this.#countFailure(line, row.fieldCount);
    }
    return this.#textInBlock(line, 'text');
  }

  #textInBlock(line: number, what: string): ReadFailure | 'outside' {
    const failure = this.#settleSuspect();
    if (failure !== null) return failure;
    const number = this.#blocks.length + 1;
    this.#warn('READ_TEXT_BETWEEN', `Line ${line} is ${what}: block ${number} ends before it.`, line);
    return this.#closeBlock() ?? 'outside';
  }

  #leaveOut(line: number): null {
    if (this.#rowsLeftOut === 0) this.#firstLeftOut = line;
    this.#rowsLeftOut++;
    return null;
  }

  /** A row of numbers with another number of columns than the block. */
  #otherCount(line: KeptLine): ReadFailure | null {
    const count = this.#row.fieldCount;
    const suspect = this.#suspect;
    if (suspect === null || count !== this.#suspectCount) {
      const failure = this.#settleSuspect();
      this.#suspect = line;
      this.#suspectCount = count;
      return failure;
    }
    this.#suspect = null;
    const closing = this.#closeBlock();
    return closing ?? this.#outside(suspect) ?? this.#outside(line);
  }

  #settleSuspect(): ReadFailure | null {
    const suspect = this.#suspect;
    this.#suspect = null;
    if (suspect === null) return null;
    return this.#options.wholeRows === true
      ? this.#leaveOut(suspect.line)
      : this.#countFailure(suspect.line, this.#suspectCount);
  }

  #countFailure(line: number, count: number): ReadFailure {
    const { firstLine, lastLine, columnCount } = this.#block!;
    const sentence =
      `Line ${line} has ${count} column${count === 1 ? '' : 's'}, lines ${firstLine} to ${lastLine} have ` +
      `${columnCount}. The file may be cut short.`;
    return readFailure('READ_COLUMN_COUNT', sentence, line, 1);
  }

  #columnOf(bytes: Uint8Array, start: number, at: number): number {
    return Array.from(this.#header.text.decode(bytes.subarray(start, at))).length + 1;
  }

  #closeBlock(): ReadFailure | null {
    const block = this.#block;
    const found = this.#found;
    if (block === null || found === null) return null;
    this.#block = null;
    if (this.#blocks.length >= bounds.MAX_BLOCKS) {
      const sentence = `Line ${block.firstLine} begins a block beyond the ${bounds.MAX_BLOCKS} that are read.`;
      return readFailure('READ_TOO_MANY_BLOCKS', sentence, block.firstLine, 1);
    }
    const clocks = this.#clocks.map((clock) => clock.finish());
    this.#clocks = [];
    const finished = finishedBlock(block, found, this.#blocks.at(-1), this.#above, clocks);
    const { headings, hasInheritedHeadings } = finished;
    const odd = hasInheritedHeadings ? undefined : headingsWarning(found, block.firstLine);
    if (odd !== undefined && this.#warnings.length < MAX_WARNINGS) this.#warnings.push(odd);
    const nameOf = (column: number): string => {
      const heading = headings[column] ? ` ("${shown(headings[column])}")` : '';
      return `Column ${column + 1}${heading}`;
    };
    const taken = clocks.filter(({ values }) => values !== null);
    [...block.textColumns].forEach((column, i) => {
      if (taken.some(({ place }) => place.time === column || place.date === column)) return;
      this.#warn(
        'READ_TEXT_COLUMN',
        `${nameOf(column)} holds text ("${this.#textShown[i]}"), not numbers; it was left empty.`,
        block.firstLine,
      );
    });
    for (const clock of taken) this.#warn('READ_CLOCK_COLUMN', clockSentence(clock, nameOf), block.firstLine);
    this.#blocks.push(finished);
    return null;
  }
}

function hasDigit(bytes: Uint8Array): boolean {
  for (let i = 0; i < bytes.length; i++) if (bytes[i]! >= 48 && bytes[i]! <= 57) return true;
  return false;
}
