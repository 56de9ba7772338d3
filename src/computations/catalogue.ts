// Every capability once. A door reads this list and knows no entry by name; adding one is adding a line here.
import type { Computation } from './computation.ts';
import { matterFormula } from './matter/formula.ts';
import { matterTernary } from './matter/ternary.ts';
import { targetBatch } from './target/batch.ts';

export const CATALOGUE: readonly Computation[] = [matterFormula, matterTernary, targetBatch];
