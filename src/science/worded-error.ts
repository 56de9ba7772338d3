// The one shape of an error in words: a code for machines, a sentence made from data, and what to do next. Each layer
// has its own class over it, with its own list of codes.

export abstract class WordedError<Code extends string = string> extends Error {
  readonly code: Code;
  readonly sentence: string;
  readonly remedy: string;

  constructor(code: Code, sentence: string, remedy: string, options?: ErrorOptions) {
    super(`${code}: ${sentence} ${remedy}`, options);
    this.name = new.target.name;
    this.code = code;
    this.sentence = sentence;
    this.remedy = remedy;
  }
}
