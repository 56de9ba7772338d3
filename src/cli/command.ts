// What a command is: how it is called, and what it answers. `main.ts` knows this shape only.
import type { ExitCode } from './errors.ts';

export interface OptionSpec {
  /** flag: stands alone; text: takes a value; texts: may be given several times */
  readonly takes: 'nothing' | 'text' | 'texts';
  /** stands for the value in the help: FOLDER */
  readonly placeholder?: string;
  readonly says: string;
}

export interface CommandCall {
  readonly positionals: readonly string[];
  flag(name: string): boolean;
  text(name: string): string | undefined;
  texts(name: string): readonly string[];
  readonly isJson: boolean;
  /** one line on standard error, where a person waits */
  progress(line: string): void;
}

export interface Answer {
  readonly exitCode: ExitCode;
  /** the one document of --json */
  readonly json: unknown;
  /** what a person reads, without the last line end */
  readonly text: string;
}

export interface Command {
  readonly name: string;
  readonly summary: string;
  /** ways to call it, without the program's name */
  readonly usage: readonly string[];
  readonly options: Readonly<Record<string, OptionSpec>>;
  /** fewest and most arguments that are not options */
  readonly positionals: readonly [min: number, max: number];
  /** further lines of the help */
  readonly notes?: readonly string[];
  run(call: CommandCall): Promise<Answer>;
}

/** Options that several commands share. */
export const SERIES_OPTION: OptionSpec = {
  takes: 'text',
  placeholder: 'LABEL|ID',
  says: 'the series; may be left out where the store holds one, or one beside invented ones',
};
