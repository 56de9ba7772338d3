// Errors of work on records that no other layer names: a file that cannot be read, a setting that makes no sense.
import { FORMAT_CODES, type FormatCode } from '../formats/errors.ts';

export class JobError extends Error {
  readonly code: FormatCode;
  readonly sentence: string;
  readonly remedy: string;

  constructor(code: FormatCode, sentence: string, remedy: string = FORMAT_CODES[code]) {
    super(`${code}: ${sentence} ${remedy}`);
    this.name = 'JobError';
    this.code = code;
    this.sentence = sentence;
    this.remedy = remedy;
  }
}
