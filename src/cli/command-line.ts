// From the words after a command's name to a call: unknown options are refused with the nearest known one.
import { parseArgs } from 'node:util';
import { nearestNames } from '../runner/find-computation.ts';
import type { Command, CommandCall, OptionSpec } from './command.ts';
import { CliError } from './errors.ts';

export const COMMON_OPTIONS: Readonly<Record<string, OptionSpec>> = {
  json: { takes: 'nothing', says: 'one JSON document on standard output, nothing else' },
  help: { takes: 'nothing', says: 'this text' },
};

const shown = (word: string): string => `'${word.slice(0, 100)}'`;

/**
 * The call that the words make.
 *
 * @throws CliError OPTION_UNKNOWN, OPTION_VALUE, ARGUMENT_COUNT
 */
export function callFrom(
  command: Command,
  words: readonly string[],
  progress: (line: string) => void,
): CommandCall {
  const specs: Record<string, OptionSpec> = { ...command.options, ...COMMON_OPTIONS };
  const { tokens, positionals } = parseArgs({
    args: [...words],
    strict: false,
    allowPositionals: true,
    tokens: true,
    options: Object.fromEntries(
      Object.entries(specs).map(([name, { takes }]) => [
        name,
        { type: takes === 'nothing' ? ('boolean' as const) : ('string' as const), multiple: true },
      ]),
    ),
  });
  const given = new Map<string, string[]>();
  for (const token of tokens) {
    if (token.kind !== 'option') continue;
    const { name, rawName, value, inlineValue } = token;
    const spec = Object.hasOwn(specs, name) ? specs[name] : undefined;
    if (!spec || rawName.length < 3) {
      const near = nearestNames(name, Object.keys(specs), 1)[0]!;
      throw new CliError(
        'OPTION_UNKNOWN',
        `\`${command.name}\` has no option ${shown(rawName)}; the nearest one it has is --${near}.`,
      );
    }
    if (spec.takes === 'nothing') {
      if (value !== undefined) {
        throw new CliError('OPTION_VALUE', `${rawName} stands alone, but was given ${shown(value)}.`);
      }
      given.set(name, ['']);
      continue;
    }
    if (value === undefined || (!inlineValue && /^--?[a-z]/i.test(value))) {
      const found = value === undefined ? 'nothing follows it' : `${shown(value)} follows it`;
      throw new CliError('OPTION_VALUE', `${rawName} takes ${spec.placeholder ?? 'a value'}, but ${found}.`);
    }
    const before = given.get(name) ?? [];
    if (spec.takes === 'text' && before.length > 0) {
      throw new CliError(
        'OPTION_VALUE',
        `${rawName} is given twice: ${shown(before[0]!)} and ${shown(value)}. It takes one value.`,
      );
    }
    given.set(name, [...before, value]);
  }
  const [min, max] = command.positionals;
  if (!given.has('help') && (positionals.length < min || positionals.length > max)) {
    const wanted = min === max ? `${min}` : Number.isFinite(max) ? `${min} to ${max}` : `at least ${min}`;
    const found =
      positionals.length === 0
        ? 'none was given'
        : `${positionals.length} were given: ${positionals.slice(0, 5).map(shown).join(', ')}`;
    throw new CliError(
      'ARGUMENT_COUNT',
      `\`${command.name}\` takes ${wanted} argument${wanted === '1' ? '' : 's'}, but ${found}.`,
    );
  }
  return {
    positionals,
    flag: (name) => given.has(name),
    text: (name) => given.get(name)?.[0],
    texts: (name) => given.get(name) ?? [],
    isJson: given.has('json'),
    progress,
  };
}

/**
 * A whole number that an option gives.
 *
 * @throws CliError OPTION_VALUE
 */
export function wholeNumber(
  call: CommandCall,
  option: string,
  otherwise: number,
  [min, max]: readonly [number, number],
): number {
  const text = call.text(option);
  if (text === undefined) return otherwise;
  const value = Number(text);
  if (text.trim() === '' || !Number.isInteger(value) || value < min || value > max) {
    throw new CliError(
      'OPTION_VALUE',
      `--${option} is ${shown(text)}, expected a whole number from ${min} to ${max}.`,
    );
  }
  return value;
}

const indented = (rows: readonly (readonly [string, string])[]): string[] => {
  const width = Math.max(...rows.map(([left]) => left.length));
  return rows.map(([left, right]) => `  ${left.padEnd(width)}  ${right}`);
};

function optionWords([name, { takes, placeholder }]: [string, OptionSpec]): string {
  return takes === 'nothing' ? `--${name}` : `--${name} ${placeholder ?? 'VALUE'}`;
}

/** The help of one command. */
export function commandHelp(command: Command): string {
  const options = Object.entries({ ...command.options, ...COMMON_OPTIONS });
  return [
    command.summary,
    '',
    ...command.usage.map((usage) => `  peritect ${usage}`),
    '',
    ...indented(
      options.map((option) => [
        optionWords(option),
        option[1].says + (option[1].takes === 'texts' ? ' (may be repeated)' : ''),
      ]),
    ),
    ...(command.notes ? ['', ...command.notes] : []),
  ].join('\n');
}

/** The help of the program. */
export function programHelp(commands: readonly Command[]): string {
  return [
    'Peritect: cuprate films grown with the help of a liquid phase, from a cation ratio to a verdict and the next target.',
    '',
    '  peritect COMMAND [options]',
    '',
    ...indented(commands.map(({ name, summary }) => [name, summary])),
    '',
    'Add --help after a command for its options, --json for one JSON document; --version prints the version.',
    'Records are kept in the folder that PERITECT_HOME names, else in .peritect of your own folder.',
    'Exit codes: 0 passes or done, 1 falls short, 2 bad input, 3 cannot say, 70 a fault in the program.',
  ].join('\n');
}
