// A quick catalogue entry answered on the spot, where what follows on the page needs its answer at once. Pure.
import { z } from 'zod';
import type { ShortComputation } from '../../computations/computation.ts';
import { issueSentences } from '../../computations/schema-issues.ts';
import { DomainError } from '../../science/errors.ts';
import { inWords } from './target-words.ts';

type AnswerNow<Response> =
  | { readonly response: Response }
  | { readonly refusal: string; readonly sentence: string };

/** Runs an entry; a refusal comes back in the words of the page, with the sentence as the science gave it. */
export function answerNow<Request, Response>(
  entry: ShortComputation<Request, Response>,
  request: unknown,
): AnswerNow<Response> {
  try {
    return { response: entry.run(entry.request.parse(request)) };
  } catch (error) {
    if (error instanceof z.ZodError) {
      const refusal = `This cannot be computed: ${issueSentences(error, request)[0]}.`;
      return { refusal, sentence: refusal };
    }
    if (!(error instanceof DomainError)) throw error;
    return { refusal: inWords(`${error.sentence} ${error.remedy}`.trim()), sentence: error.sentence };
  }
}
