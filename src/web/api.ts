// The typed client as the pages use it: a success is its data, everything else an error in words.
import createClient from 'openapi-fetch';
import type { Problem } from '../api/contract.ts';
import type { paths } from '../api/openapi.gen.ts';

/** What the server refused, in its words. */
export class ProblemError extends Error {
  readonly problem: Problem;

  constructor(problem: Problem) {
    super(`${problem.sentence} ${problem.remedy}`);
    this.name = 'ProblemError';
    this.problem = problem;
  }
}

export const api = createClient<paths>({ baseUrl: '/', headers: { 'x-peritect': '1' } });

interface Answer<Data> {
  data?: Data;
  error?: unknown;
  response: Response;
}

/** The data of an answer; throws a ProblemError otherwise. */
export async function dataOf<Data>(asked: Promise<Answer<Data>>): Promise<Data> {
  let answer: Answer<Data>;
  try {
    answer = await asked;
  } catch (error) {
    if ((error as Error).name === 'AbortError') throw error; // the page cancelled it
    throw new ProblemError({
      code: 'SERVER_GONE',
      sentence: `Peritect does not answer (${(error as Error).message}).`,
      remedy: 'See whether it still runs in its terminal; nothing typed here is lost.',
    });
  }
  if (answer.response.ok && answer.data !== undefined) return answer.data;
  const problem = answer.error as Problem | undefined;
  throw new ProblemError(
    problem?.sentence
      ? problem
      : {
          code: 'FAULT',
          sentence: `The server answered ${answer.response.status}.`,
          remedy: 'Please report it.',
        },
  );
}

/** Sends a file's bytes with progress from 0 to 1; `fetch` cannot tell progress, so this is an XMLHttpRequest. */
export function uploadFile(
  file: Blob,
  fileName: string,
  onProgress: (share: number) => void,
  signal?: AbortSignal,
): Promise<{ sha256: string; bytes: number }> {
  return new Promise((resolve, reject) => {
    const request = new XMLHttpRequest();
    request.open('POST', '/api/files');
    request.setRequestHeader('x-peritect', '1');
    request.setRequestHeader('x-file-name', encodeURIComponent(fileName));
    request.setRequestHeader('content-type', 'application/octet-stream');
    request.responseType = 'json';
    request.upload.onprogress = ({ loaded, total }) => onProgress(total > 0 ? loaded / total : 0);
    request.onload = () => {
      if (request.status < 300) resolve(request.response);
      else reject(new ProblemError(request.response));
    };
    request.onerror = () =>
      reject(
        new ProblemError({
          code: 'SERVER_GONE',
          sentence: 'The upload broke off.',
          remedy: 'Drop the file once more.',
        }),
      );
    request.onabort = () => reject(new DOMException('Cancelled.', 'AbortError'));
    signal?.addEventListener('abort', () => request.abort(), { once: true });
    request.send(file);
  });
}
