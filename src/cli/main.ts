// `peritect COMMAND ...`: finds the command, runs it, prints its answer or what is wrong, and leaves its exit code.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { nearestNames } from '../runner/find-computation.ts';
import type { Answer, Command } from './command.ts';
import { callFrom, commandHelp, programHelp } from './command-line.ts';
import { COMMANDS } from './commands.ts';
import { CliError, EXIT, type ExitCode, problemOf } from './errors.ts';

/** A reader that stops early, as `head` does, is no fault. */
function ignoreClosedPipe(error: NodeJS.ErrnoException): void {
  if (error.code === 'EPIPE') process.exit();
  throw error;
}

const write = (stream: NodeJS.WriteStream, text: string): Promise<void> =>
  new Promise((resolve) => {
    stream.write(text, () => resolve());
  });

function versionText(): string {
  const file = readFileSync(join(import.meta.dirname, '..', '..', 'package.json'), 'utf8');
  return (JSON.parse(file) as { version: string }).version;
}

function findCommandOrThrow(name: string): Command {
  const found = COMMANDS.find((command) => command.name === name);
  if (found) return found;
  const near = nearestNames(
    name,
    COMMANDS.map((command) => command.name),
    2,
  );
  throw new CliError(
    'COMMAND_UNKNOWN',
    `There is no command '${name.slice(0, 100)}'. Near it: ${near.join(', ')}.`,
  );
}

async function answerTo(words: readonly string[]): Promise<Answer> {
  const [name, ...rest] = words;
  const said = (text: string, json: unknown, exitCode: ExitCode = EXIT.passes): Answer => ({
    exitCode,
    json,
    text,
  });
  if (name === '--version') return said(versionText(), { version: versionText() });
  const help = programHelp(COMMANDS);
  if (name === undefined || name === '--help' || name === 'help') return said(help, { help });
  if (name.startsWith('-')) {
    throw new CliError(
      'COMMAND_UNKNOWN',
      `'${name.slice(0, 100)}' stands where the name of a command is expected.`,
    );
  }
  const command = findCommandOrThrow(name);
  const call = callFrom(command, rest, (line) => process.stderr.write(`${line}\n`));
  if (call.flag('help')) return said(commandHelp(command), { help: commandHelp(command) });
  return command.run(call);
}

async function main(): Promise<void> {
  process.stdout.on('error', ignoreClosedPipe);
  process.stderr.on('error', ignoreClosedPipe);
  const words = process.argv.slice(2);
  const end = words.indexOf('--');
  const isJson = (end < 0 ? words : words.slice(0, end)).includes('--json');
  try {
    const { exitCode, json, text } = await answerTo(words);
    process.exitCode = exitCode;
    const shown = isJson ? JSON.stringify(json) : text;
    if (shown !== '') await write(process.stdout, `${shown}\n`);
  } catch (error) {
    const { code, sentence, remedy, exitCode } = problemOf(error);
    process.exitCode = exitCode;
    if (code === 'FAULT' && error instanceof Error) await write(process.stderr, `${error.stack}\n`);
    await write(process.stderr, `peritect: ${code}: ${sentence}\n  ${remedy}\n`);
    if (isJson) await write(process.stdout, `${JSON.stringify({ problem: { code, sentence, remedy } })}\n`);
  }
}

await main();
