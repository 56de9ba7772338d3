import { existsSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { CATALOGUE } from '../../src/computations/catalogue.ts';
import { openWorkbench } from '../../src/jobs/open-workbench.ts';
import { putTable } from '../../src/logbook/columns.ts';
import { newId } from '../../src/logbook/ids.ts';
import { runnerHere } from '../../src/runner/run-here.ts';
import { freshFolder, runCli } from './run-cli.ts';

const home = freshFolder();
afterAll(() => rmSync(home, { recursive: true, force: true }));
const PROCESS_MS = 60_000;

describe('peritect compute', () => {
  it.each(CATALOGUE.map((entry) => [entry.name, entry] as const))(
    'answers the example of %s as the runner does, and prints nothing but JSON',
    async (name, entry) => {
      const { code, out, err } = await runCli(['compute', name], {
        home,
        input: JSON.stringify(entry.example),
      });
      expect(err).toBe('');
      expect(code).toBe(0);
      expect(JSON.parse(out)).toEqual(await runnerHere().run(name, entry.example));
    },
    PROCESS_MS,
  );

  it('lists every entry as JSON, one a line', async () => {
    const { code, out } = await runCli(['compute', '--list'], { home });
    expect(code).toBe(0);
    expect((JSON.parse(out) as { name: string }[]).map(({ name }) => name)).toEqual(
      CATALOGUE.map(({ name }) => name),
    );
    expect(out.trimEnd().split('\n')).toHaveLength(CATALOGUE.length + 2);
  });

  it('prints the schemas and an example that works', async () => {
    const { out } = await runCli(['compute', 'matter.formula', '--schema'], { home });
    const described = JSON.parse(out);
    expect(described.request.type).toBe('object');
    const answered = await runCli(['compute', 'matter.formula'], {
      home,
      input: JSON.stringify(described.example),
    });
    expect(answered.code).toBe(0);
  });

  it('names the nearest entries for a mistyped one', async () => {
    const { code, out, err } = await runCli(['compute', 'matter.formla'], { home });
    expect([code, out]).toEqual([2, '']);
    expect(err).toMatch(
      /COMPUTATION_UNKNOWN: No computation is called 'matter\.formla'\. Near it: matter\.formula/,
    );
  });

  it('refuses input that is empty, no JSON, or not what the schema says, in words', async () => {
    const empty = await runCli(['compute', 'matter.formula'], { home });
    expect([empty.code, empty.out]).toEqual([2, '']);
    expect(empty.err).toContain('INPUT_MISSING');
    const broken = await runCli(['compute', 'matter.formula'], { home, input: '{"formula": ' });
    expect([broken.code, broken.out]).toEqual([2, '']);
    expect(broken.err).toContain('INPUT_NOT_JSON');
    const wrong = await runCli(['compute', 'matter.formula', '--json'], { home, input: '{"formula": 5}' });
    expect(wrong.code).toBe(2);
    expect(JSON.parse(wrong.out).problem.code).toBe('REQUEST_INVALID');
    expect(wrong.err).toContain('found 5');
  });

  it('says in words that a column of a stored table is out of reach where there is no store, and makes none', async () => {
    const elsewhere = join(home, 'nothing-here');
    const request = { temperatureK: { blob: 'a'.repeat(64), column: 0 }, resistanceOhm: [1] };
    const { code, err } = await runCli(['compute', 'transition.resistive'], {
      home: elsewhere,
      input: JSON.stringify(request),
    });
    expect(code).toBe(2);
    expect(err).toMatch(/REQUEST_INVALID: .*cannot be reached from here/);
    expect(existsSync(elsewhere)).toBe(false);
  });

  it('takes a column of a stored table for an array written out', async () => {
    const entry = CATALOGUE.find(({ name }) => name === 'transition.resistive')!;
    const example = entry.example as { temperatureK: number[]; resistanceOhm: number[] };
    const folder = freshFolder();
    const bench = await openWorkbench(folder, 1);
    const claim = await putTable(bench.store, [example.temperatureK, example.resistanceOhm]);
    await bench.store.write({ changeId: newId(), what: 'kept a table' }, async (transaction) => {
      await transaction.addFile(claim, { name: 'table', media: 'application/octet-stream' });
    });
    await bench.close();
    const request = {
      temperatureK: { blob: claim.sha256, column: 0 },
      resistanceOhm: { blob: claim.sha256, column: 1 },
    };
    const { out } = await runCli(['compute', entry.name], { home: folder, input: JSON.stringify(request) });
    rmSync(folder, { recursive: true, force: true });
    expect(JSON.parse(out)).toEqual(await runnerHere().run(entry.name, example));
  });
});
