// Every capability once. A door reads this list and knows no entry by name; adding one is adding a line here.
import type { Computation } from './computation.ts';

export const CATALOGUE: readonly Computation[] = [];
