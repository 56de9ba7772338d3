// A doubt about an answer that can be given all the same: a door shows it as a flag.

export interface Doubt {
  readonly code: string;
  /** a sentence for people, with the values it rests on */
  readonly message: string;
}
