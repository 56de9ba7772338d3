// Errors of work on records that no other layer names: a file that cannot be read, a setting that makes no sense.

import { FORMAT_CODES, type FormatCode } from '../formats/errors.ts';
import { WordedError } from '../science/worded-error.ts';

export class JobError extends WordedError<FormatCode> {
  constructor(code: FormatCode, sentence: string, remedy: string = FORMAT_CODES[code]) {
    super(code, sentence, remedy);
  }
}
