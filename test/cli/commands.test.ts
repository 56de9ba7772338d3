// Every command on the invented series, end to end: each in a process of its own, on one store.
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { DEMO_SEED, generateDemo } from '../../demo/generate.ts';
import { freshFolder, type Ran, runCli } from './run-cli.ts';

const FILMS = 3;
const folder = freshFolder();
const out = join(folder, 'demo');
const home = join(out, 'store');
const demo = generateDemo(DEMO_SEED, FILMS);
let made: Ran;
const json = (ran: Ran) => JSON.parse(ran.out);

beforeAll(async () => {
  made = await runCli(['demo', '--out', out, '--films', String(FILMS)], { home: join(folder, 'other') });
}, 180_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('peritect demo', () => {
  it('loads the invented films, tells how far it is on standard error only, and leaves the user’s own store alone', () => {
    expect(made.err).toContain(`${demo.files.length} of ${demo.files.length} files read in`);
    expect(made.code).toBe(0);
    expect(made.out).toMatch(/^INVENTED DATA/);
    expect(existsSync(join(folder, 'other'))).toBe(false);
  });

  it('writes a report that holds every film and needs nothing from outside', () => {
    const report = readFileSync(join(out, 'report.html'), 'utf8');
    expect(report).toContain('INVENTED DATA');
    for (const { label } of demo.films) expect(report).toContain(`Film ${label}`);
    for (const { name } of demo.files) expect(report).toContain(name);
    expect(report).not.toMatch(/<script|<link|<img|<iframe|@import|url\((?!#)|https?:/i);
    const figures = readdirSync(join(out, 'figures'));
    const names = (end: string) =>
      figures
        .filter((name) => name.endsWith(end))
        .map((name) => name.slice(0, -end.length))
        .sort();
    expect(names('.png')).toEqual(names('.svg'));
    expect(names('.csv')).toEqual(names('.svg'));
    expect(names('.svg').length).toBeGreaterThan(demo.files.length);
  });

  it('goes on with its own folder and writes the same report, but refuses a folder of someone else', async () => {
    const before = readFileSync(join(out, 'report.html'), 'utf8');
    const again = await runCli(['demo', '--out', out, '--films', String(FILMS)], { home });
    expect(again.code).toBe(0);
    expect(readFileSync(join(out, 'report.html'), 'utf8')).toBe(before);
    const other = await runCli(['demo', '--out', out, '--films', '4'], { home });
    expect([other.code, other.out]).toEqual([2, '']);
    expect(other.err).toMatch(/FOLDER_TAKEN: .*3 invented films/);
    const strange = join(folder, 'strange');
    mkdirSync(strange);
    writeFileSync(join(strange, 'thesis.txt'), 'mine');
    const refused = await runCli(['demo', '--out', strange], { home });
    expect([refused.code, refused.out]).toEqual([2, '']);
    expect(refused.err).toMatch(/FOLDER_TAKEN: .*thesis\.txt/);
    expect(readdirSync(strange)).toEqual(['thesis.txt']);
  }, 120_000);
});

describe('the commands on a store', () => {
  it('list the series and its films, best first, as text and as JSON', async () => {
    const [series] = json(await runCli(['series', '--json'], { home }));
    expect(series).toMatchObject({ label: demo.series.label, films: FILMS, isInvented: true });
    const films = json(await runCli(['films', '--json'], { home })) as { rank: number; label: string }[];
    expect(films.map(({ rank }) => rank)).toEqual([1, 2, 3]);
    const text = await runCli(['films', '--series', demo.series.label.toUpperCase()], { home });
    expect(text.code).toBe(0);
    for (const { label } of films) expect(text.out).toContain(label);
    const wrong = await runCli(['films', '--series', 'Dy124'], { home });
    expect(wrong.code).toBe(2);
    expect(wrong.err).toMatch(/SERIES_UNKNOWN: No series is called 'Dy124'\. Near it: /);
  });

  it('judge a piece with the exit code of its verdict, and all with that of the worst', async () => {
    const exits = { passes: 0, 'falls short': 1, 'cannot say': 3 } as const;
    for (const { label } of demo.pieces) {
      const ran = await runCli(['judge', '--piece', label, '--json'], { home });
      const last = json(ran).at(-1) as { piece: string; response: { outcome: keyof typeof exits } };
      expect(last.piece).toBe(label);
      expect(ran.code).toBe(exits[last.response.outcome]);
    }
    const all = await runCli(['judge'], { home });
    expect(all.code).toBe(1); // the control is slow to carry, and falls short by design
    expect(all.out).toMatch(/falls short {2}\S/);
  }, 60_000);

  it('propose as many targets as asked', async () => {
    const ran = await runCli(['next', '--count', '2', '--json'], { home });
    expect(ran.code).toBe(0);
    expect(json(ran).response.proposals).toHaveLength(2);
  });

  it('show the history, and take a change back once', async () => {
    const [change] = json(await runCli(['history', '--count', '1', '--json'], { home }));
    expect(change.what).toContain('asked for the next 2 targets');
    const undone = await runCli(['undo', change.id, '--json'], { home });
    expect(json(undone).undid).toBe(change.id);
    const twice = await runCli(['undo', change.id], { home });
    expect([twice.code, twice.out]).toEqual([2, '']);
    expect(twice.err).toContain('CHANGE_NOT_UNDOABLE');
  });

  it('write a report of the same store twice alike, byte for byte', async () => {
    const reports: Buffer[] = [];
    for (const name of ['one', 'two']) {
      const to = join(folder, name);
      expect((await runCli(['report', '--out', to], { home })).code).toBe(0);
      reports.push(readFileSync(join(to, 'report.html')));
    }
    expect(reports[0]!.equals(reports[1]!)).toBe(true);
  }, 120_000);
});

describe('peritect import', () => {
  const curve = demo.files.find(({ name }) => /RT/.test(name))!;
  const text = () => new TextDecoder('latin1').decode(curve.bytes);
  const write = (name: string, content: string | Uint8Array): string => {
    const path = join(folder, name);
    writeFileSync(path, content);
    return path;
  };

  it('reads a file in for the piece its name holds, prints what it gives, and undo takes it back', async () => {
    const path = write(`${demo.pieces[0]!.label} again RT.csv`, `${text()}\n`);
    const ran = await runCli(['import', path, '--json'], { home });
    expect(ran.err).toBe('');
    const [kept] = json(ran);
    expect(kept).toMatchObject({ outcome: 'kept', piece: demo.pieces[0]!.label, failure: null });
    const names = (kept.facts.numbers as { name: string }[]).map(({ name }) => name);
    expect(names).toContain('tcMidpointK');
    expect((await runCli(['undo', kept.changeId], { home })).code).toBe(0);
  });

  it('asks which piece, keeps nothing of that file, and keeps the other', async () => {
    const nameless = write('curve of last week.csv', `${text()}\n\n`);
    const named = write(`${demo.pieces[1]!.label} once more RT.csv`, `${text()}\n\n\n`);
    const ran = await runCli(['import', nameless, named, '--json'], { home });
    expect(ran.code).toBe(2);
    const [asked, kept] = json(ran);
    expect(asked).toMatchObject({
      outcome: 'asked',
      questions: [{ about: 'piece', answer: '--piece LABEL' }],
    });
    expect(kept.outcome).toBe('kept');
    const answered = await runCli(
      ['import', nameless, '--piece', demo.pieces[0]!.label, '--state', 'as grown', '--json'],
      { home },
    );
    expect(answered.code).toBe(0);
    expect(json(answered)[0]).toMatchObject({ outcome: 'kept', state: 'as grown' });
  });

  it('asks before bytes are read in twice, and for what a kind needs but the file does not state', async () => {
    const again = write(curve.name, curve.bytes);
    const twice = await runCli(['import', again], { home });
    expect([twice.code, twice.out]).toEqual([2, '']);
    expect(twice.err).toMatch(/read in before[\s\S]*Add --again/);
    const sweep = write(`${demo.pieces[0]!.label}.csv`, 'Current (A),Voltage (V)\n0,0\n1,1e-7\n2,2e-6\n');
    const bare = await runCli(['import', sweep, '--json'], { home });
    const answers = (json(bare)[0].questions as { answer: string }[]).map(({ answer }) => answer);
    expect(answers).toContain('--set temperatureK=VALUE');
    expect(answers).toContain('--set tapDistanceM=VALUE');
  });

  it('refuses a file that is none, is not there, or is damaged, in words', async () => {
    const damaged = write(`${demo.pieces[0]!.label} bad.csv`, 'T (K),R (ohm)\n90,1\n91,1O\n92,3\n');
    const ran = await runCli(['import', join(folder, 'absent.csv'), folder, damaged], { home });
    expect([ran.code, ran.out]).toEqual([2, '']);
    expect(ran.err).toMatch(/FILE_UNREADABLE: .*absent\.csv cannot be read/);
    expect(ran.err).toMatch(/it is no file/);
    expect(ran.err).toMatch(/READ_\w+: .*bad\.csv, line 3/);
  });
});
