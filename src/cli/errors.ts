// Errors that only the command line knows, and the exit code of every error.
import { WordedError } from '../science/worded-error.ts';

/** Every code of `cli/`, with what to do next. docs/errors.md is made from this list. */
export const CLI_CODES = {
  COMMAND_UNKNOWN: '`peritect --help` lists the commands.',
  OPTION_UNKNOWN: 'Add --help after the command to see its options.',
  OPTION_VALUE: 'Add --help after the command to see what each option takes.',
  ARGUMENT_COUNT: 'Add --help after the command to see how it is called.',
  INPUT_MISSING: 'Send the request to standard input: peritect compute NAME < request.json',
  INPUT_NOT_JSON: 'Write one JSON value; `peritect compute NAME --schema` prints an example.',
  INPUT_TOO_LARGE: 'Name long arrays as columns of a stored table instead of writing them out.',
  STORE_NONE:
    'Set PERITECT_HOME to a folder that holds a store, or make one: `peritect demo` or `npm start` does.',
  SERIES_NONE:
    'Make a series on the pages that `npm start` serves, or load the invented one: `peritect demo`.',
  SERIES_UNKNOWN: 'Take a label or an identifier that `peritect series` prints.',
  SERIES_SEVERAL: 'Say which one: --series LABEL or --series ID.',
  PIECE_UNKNOWN: 'Take a label or an identifier of a piece of this series.',
  LABEL_SHARED: 'Give the identifier instead of the label.',
  FILE_UNREADABLE: 'Check the path, and that this account may read the file.',
  FOLDER_TAKEN: 'Name a folder that is empty, that is not there yet, or that this command made before.',
  FOLDER_UNWRITABLE: 'Check the path, the free space, and that this account may write there.',
  NOT_MEASURED: 'Read measurement files in first: `peritect import`.',
  FAULT: 'A fault in Peritect: please report it with the lines above.',
} as const satisfies Record<string, string>;

export type CliCode = keyof typeof CLI_CODES;

/** Something asked on the command line that cannot be done as asked. */
export class CliError extends WordedError<CliCode> {
  /**
   * @param sentence what is wrong with the value shown, where, and what was expected
   * @param remedy   what to do next; the code's general remedy if left out
   */
  constructor(code: CliCode, sentence: string, remedy: string = CLI_CODES[code]) {
    super(code, sentence, remedy);
  }
}

/** What a command says to the shell. */
export const EXIT = { passes: 0, fallsShort: 1, badInput: 2, cannotSay: 3, fault: 70 } as const;
export type ExitCode = (typeof EXIT)[keyof typeof EXIT];

/** Codes that mean a fault of the program or of the disk, not of what was asked. */
const FAULT_CODES = new Set(['FAULT', 'STORE_FAULT', 'WRITE_NESTED', 'WRITE_OVER', 'WRITE_JSON']);

/** Any error as code, sentence and remedy, with its exit code; what no layer names is a fault. */
export function problemOf(error: unknown): {
  code: string;
  sentence: string;
  remedy: string;
  exitCode: ExitCode;
} {
  if (error instanceof WordedError) {
    const { code, sentence, remedy } = error;
    return { code, sentence, remedy, exitCode: FAULT_CODES.has(code) ? EXIT.fault : EXIT.badInput };
  }
  const sentence = `${error instanceof Error ? error.message : String(error)}.`.replace(/\.\.$/, '.');
  return { code: 'FAULT', sentence, remedy: CLI_CODES.FAULT, exitCode: EXIT.fault };
}
