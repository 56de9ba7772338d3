import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { callFrom, commandHelp } from '../../src/cli/command-line.ts';
import { COMMANDS } from '../../src/cli/commands.ts';
import { freshFolder, runCli } from './run-cli.ts';

const home = freshFolder();
afterAll(() => rmSync(home, { recursive: true, force: true }));

describe('the command line', () => {
  it('prints the help of the program with every command, and its version', async () => {
    const { code, out, err } = await runCli([], { home });
    expect([code, err]).toEqual([0, '']);
    for (const { name } of COMMANDS) expect(out).toContain(`\n  ${name} `);
    expect((await runCli(['--version'], { home })).out).toMatch(/^\d+\.\d+\.\d+\n$/);
  });

  it.each(COMMANDS.map((command) => [command.name, command] as const))(
    'tells of each option of %s in its help',
    (_name, command) => {
      for (const option of Object.keys(command.options))
        expect(commandHelp(command)).toContain(`--${option}`);
      for (const usage of command.usage) expect(commandHelp(command)).toContain(`peritect ${usage}`);
    },
  );

  it('names the nearest command and the nearest option for a mistyped one', async () => {
    const command = await runCli(['juge'], { home });
    expect([command.code, command.out]).toEqual([2, '']);
    expect(command.err).toMatch(/COMMAND_UNKNOWN: There is no command 'juge'\. Near it: judge/);
    const option = await runCli(['films', '--serie', 'x'], { home });
    expect([option.code, option.out]).toEqual([2, '']);
    expect(option.err).toMatch(/OPTION_UNKNOWN: .*'--serie'.*--series/);
    const help = await runCli(['films', '--help'], { home });
    expect([help.code, help.err]).toEqual([0, '']);
    expect(help.out).toContain('--series');
  });

  it.each([
    [['films', '--series'], /OPTION_VALUE: --series takes LABEL\|ID, but nothing follows it/],
    [['films', '--series', '--json'], /OPTION_VALUE: --series takes LABEL\|ID, but '--json' follows it/],
    [['films', '--series=a', '--series=b'], /OPTION_VALUE: --series is given twice: 'a' and 'b'/],
    [['films', '--json=yes'], /OPTION_VALUE: --json stands alone, but was given 'yes'/],
    [['films', 'extra'], /ARGUMENT_COUNT: `films` takes 0 arguments, but 1 were given: 'extra'/],
    [['undo'], /ARGUMENT_COUNT: `undo` takes 1 argument, but none was given/],
    [['next', '--count', 'three'], /OPTION_VALUE: --count is 'three', expected a whole number from 1 to 10/],
    [['demo', '--films', '1'], /OPTION_VALUE: --films is '1', expected a whole number from 2 to 40/],
    [
      ['import', 'x', '--set', 'temperature=77'],
      /OPTION_VALUE: .*'temperature'; expected NAME=VALUE.*temperatureK/,
    ],
    [
      ['import', 'x', '--set', 'temperatureK=cold'],
      /OPTION_VALUE: --set temperatureK=cold: expected a plain number in K, or one with its unit/,
    ],
    [
      ['import', 'x', '--kind', 'magic'],
      /OPTION_VALUE: --kind is 'magic', expected one of: diffraction scan/,
    ],
    [['report'], /OPTION_VALUE: `report` needs --out FOLDER/],
  ])('says what is wrong with `%s`, and what was expected', async (words, said) => {
    const [name, ...rest] = words;
    const command = COMMANDS.find((each) => each.name === name)!;
    const answer = async () => command.run(callFrom(command, rest, () => {}));
    await expect(answer()).rejects.toThrow(said);
  });

  it('refuses to read where there is no store, and leaves none behind', async () => {
    const elsewhere = join(home, 'none');
    const { code, err } = await runCli(['films'], { home: elsewhere });
    expect(code).toBe(2);
    expect(err).toMatch(/STORE_NONE: There is no store in .*none/);
    expect(existsSync(elsewhere)).toBe(false);
  });

  it('gives an error as one JSON document too, where JSON is asked for', async () => {
    const { code, out, err } = await runCli(['films', '--json'], { home });
    expect(code).toBe(2);
    expect(JSON.parse(out).problem).toMatchObject({ code: 'STORE_NONE' });
    expect(err).toContain('STORE_NONE');
  });

  it('ends quietly when its reader stops early', async () => {
    const main = join(import.meta.dirname, '..', '..', 'src', 'cli', 'main.ts');
    const child = spawn(process.execPath, [main, 'compute', 'matter.formula', '--schema']);
    child.stdout.destroy();
    let err = '';
    child.stderr.setEncoding('utf8').on('data', (text) => {
      err += text;
    });
    await once(child, 'close');
    expect(err).toBe('');
  });
});
