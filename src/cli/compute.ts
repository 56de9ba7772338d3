// `compute`: any entry of the catalogue from standard input to standard output. Only JSON is printed.
import { z } from 'zod';
import { CATALOGUE } from '../computations/catalogue.ts';
import { homeFolder } from '../jobs/open-workbench.ts';
import { workerThreadRunner } from '../jobs/worker-threads.ts';
import { openStore, type Store } from '../logbook/store.ts';
import { readStored } from '../logbook/stored-blobs.ts';
import { effectiveVersion } from '../runner/effective-version.ts';
import { findComputationOrThrow } from '../runner/find-computation.ts';
import { nothingStored, type StoredResolver } from '../runner/prepare.ts';
import { isLong, runnerHere } from '../runner/run-here.ts';
import type { Answer, Command, CommandCall } from './command.ts';
import { CliError, EXIT } from './errors.ts';
import { holdsStore, threadCount } from './home.ts';

const MAX_INPUT_BYTES = 256 * 1024 * 1024;

const answer = (json: unknown, text = JSON.stringify(json)): Answer => ({
  exitCode: EXIT.passes,
  json,
  text,
});

function catalogueList(): Answer {
  const list = CATALOGUE.map((entry) => ({
    name: entry.name,
    version: entry.version,
    effectiveVersion: effectiveVersion(entry),
    cost: entry.cost,
    summary: entry.summary,
  }));
  return answer(list, `[\n${list.map((entry) => `  ${JSON.stringify(entry)}`).join(',\n')}\n]`);
}

function schemaOf(name: string): Answer {
  const entry = findComputationOrThrow(name);
  const options = { io: 'input', unrepresentable: 'any' } as const;
  const described = {
    name: entry.name,
    version: entry.version,
    summary: entry.summary,
    cost: entry.cost,
    request: z.toJSONSchema(entry.request, options),
    response: z.toJSONSchema(entry.response, options),
    example: entry.example,
  };
  return answer(described, JSON.stringify(described, null, 2));
}

async function requestFromInput(): Promise<unknown> {
  if (process.stdin.isTTY) {
    throw new CliError(
      'INPUT_MISSING',
      'Standard input is a keyboard; expected a JSON request from a file or pipe.',
    );
  }
  const chunks: Buffer[] = [];
  let bytes = 0;
  for await (const chunk of process.stdin) {
    bytes += (chunk as Buffer).length;
    if (bytes > MAX_INPUT_BYTES) {
      throw new CliError(
        'INPUT_TOO_LARGE',
        `The request is longer than ${MAX_INPUT_BYTES / 1024 / 1024} MiB.`,
      );
    }
    chunks.push(chunk as Buffer);
  }
  const text = new TextDecoder('utf-8').decode(Buffer.concat(chunks)); // takes a byte order mark away
  if (text.trim() === '') {
    throw new CliError('INPUT_MISSING', 'Standard input is empty; expected a JSON request.');
  }
  try {
    return JSON.parse(text);
  } catch (error) {
    throw new CliError(
      'INPUT_NOT_JSON',
      `Standard input is no JSON: ${(error as SyntaxError).message.replaceAll(/\s+/g, ' ')}.`,
    );
  }
}

/** Stored tables and documents are fetched from the store of the home folder, which is opened when the first is asked for. */
function storedBlobs(): { resolve: StoredResolver; close(): Promise<void> } {
  let opening: Promise<Store> | undefined;
  return {
    async resolve(reference) {
      const folder = homeFolder();
      if (!holdsStore(folder)) return nothingStored(reference);
      opening ??= openStore({ folder });
      return readStored(await opening, reference);
    },
    async close() {
      await (await opening)?.close();
    },
  };
}

async function compute(name: string, call: CommandCall): Promise<Answer> {
  const entry = findComputationOrThrow(name);
  const request = await requestFromInput();
  const columns = storedBlobs();
  try {
    if (!isLong(entry)) return answer(await runnerHere(columns.resolve).run(name, request));
    const runner = workerThreadRunner(threadCount(), columns.resolve);
    try {
      const onProgress = (done: number, total: number): void => {
        if (process.stderr.isTTY) call.progress(`${name}: part ${done} of ${total}`);
      };
      return answer(await runner.run(name, request, { onProgress }));
    } finally {
      await runner.close();
    }
  } finally {
    await columns.close();
  }
}

export const COMPUTE: Command = {
  name: 'compute',
  summary: 'Ask one entry of the catalogue: a JSON request in, its JSON response out.',
  usage: ['compute --list', 'compute NAME --schema', 'compute NAME < request.json'],
  options: {
    list: { takes: 'nothing', says: 'every entry, with its version, its cost and what it answers' },
    schema: { takes: 'nothing', says: 'JSON schemas of request and response, and an example request' },
  },
  positionals: [0, 1],
  notes: [
    'A long array may be named as a column of a stored table, {"blob": SHA-256, "column": 0}; it is then read from the',
    'store in PERITECT_HOME. Nothing is stored.',
  ],
  async run(call) {
    const [name] = call.positionals;
    if (call.flag('list')) return catalogueList();
    if (name === undefined) {
      throw new CliError(
        'ARGUMENT_COUNT',
        '`compute` takes the name of an entry, but none was given.',
        '`peritect compute --list` prints them.',
      );
    }
    return call.flag('schema') ? schemaOf(name) : compute(name, call);
  },
};
