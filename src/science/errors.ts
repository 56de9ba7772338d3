// Errors of the pure layers: what is wrong, in a sentence made from data, and what to do next.

/** Every code of `science/`, `formats/` and `computations/`, with its remedy. docs/errors.md is made from this list. */
export const SCIENCE_CODES = {
  REQUEST_INVALID:
    'Give every field the schema names, in its range: `peritect compute NAME --schema` prints it.',
  COMPUTATION_UNKNOWN: 'Take one of the names that `peritect compute --list` prints.',
  NOT_FINITE: 'A fault in Peritect: please report the request that led to it.',
} as const satisfies Record<string, string>;

export type ScienceCode = keyof typeof SCIENCE_CODES;

/** A request that physics or its range does not allow. The message is the sentence and the remedy together. */
export class DomainError extends Error {
  readonly code: ScienceCode;
  readonly sentence: string;
  readonly remedy: string;

  /**
   * @param code     machine-readable name of the fault
   * @param sentence what is wrong, with the value found and where
   * @param remedy   what to do next; the code's general remedy if left out
   */
  constructor(code: ScienceCode, sentence: string, remedy: string = SCIENCE_CODES[code]) {
    super(`${code}: ${sentence} ${remedy}`);
    this.name = 'DomainError';
    this.code = code;
    this.sentence = sentence;
    this.remedy = remedy;
  }
}
