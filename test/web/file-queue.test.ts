import { describe, expect, it } from 'vitest';
import type { FileLook } from '../../src/api/contract.ts';
import { FileQueue, type QueueDoors } from '../../src/web/file-queue.ts';

const LOOK: FileLook = {
  blocks: [{ headings: ['T', 'R'], units: ['K', 'ohm'], rows: 9, shape: 'two', firstRows: [] }],
  headerLines: [],
  mapping: { kind: 'resistance', block: 0, columns: [{ role: 'temperatureK', column: 0, unit: 'K' }] },
  mappingIs: 'guessed',
  settings: {},
  doubts: [],
  warnings: [],
  pieceId: 'piece',
  pieceNote: 'named in the file name',
};

class Refused extends Error {
  problem = {
    code: 'READ_NUMBER',
    sentence: 'line 4, column 2: found x, expected a number.',
    remedy: 'Mend it.',
  };
}

function doors(changes: Partial<QueueDoors> = {}) {
  let next = 0;
  const asked: { imports: string[]; remembered: boolean[] } = { imports: [], remembered: [] };
  const all: QueueDoors = {
    upload: async (_file, fileName) => ({ sha256: fileName }),
    look: async () => LOOK,
    importFile: async (request) => {
      asked.imports.push(request.fileName);
      asked.remembered.push(request.isRemembered);
      return {
        measurement: { id: request.id },
        analysis: { body: { response: { flags: [1] }, failure: null, facts: { numbers: [], phases: [] } } },
      } as never;
    },
    newId: () => `id-${next++}`,
    ...changes,
  };
  return { all, asked };
}

const files = (...names: string[]) => names.map((name) => new File(['1 2'], name));
async function until(queue: FileQueue, isSo: (queue: FileQueue) => boolean): Promise<void> {
  for (let turn = 0; turn < 200 && !isSo(queue); turn++)
    await new Promise((resolve) => setTimeout(resolve, 1));
  expect(isSo(queue)).toBe(true);
}
const steps = (queue: FileQueue) => queue.snapshot().files.map(({ step }) => step);

describe('FileQueue', () => {
  it('lists what was dropped last on top, in the order of the drop', async () => {
    const { all } = doors();
    const queue = new FileQueue('series', all);
    queue.add(files('old'), null);
    queue.add(files('new', 'newer'), null);
    expect(queue.snapshot().files.map(({ fileName }) => fileName)).toEqual(['new', 'newer', 'old']);
    await until(queue, (each) => steps(each).every((step) => step === 'waiting'));
  });

  it('reads every file but the one that cannot be read, and keeps the reason with it', async () => {
    const { all, asked } = doors({
      look: async (sha256) => {
        if (sha256 === 'bad') throw new Refused();
        return LOOK;
      },
    });
    const queue = new FileQueue('series', all);
    queue.add(files('a', 'bad', 'c'), null);
    await until(queue, (each) => steps(each).join() === 'waiting,failed,waiting');
    const read = await queue.readReady();
    expect(steps(queue)).toEqual(['read', 'failed', 'read']);
    expect(queue.snapshot().files[1]!.problem?.sentence).toContain('line 4, column 2');
    expect(read).toHaveLength(2);
    expect(asked.imports).toEqual(['a', 'c']);
    expect(queue.snapshot().files[0]!.result).toMatchObject({ before: null, flagCount: 1 });
  });

  it('repeats a reading that broke off under the same identifiers, so that nothing is read twice', async () => {
    const ids: string[] = [];
    let isBroken = true;
    const { all } = doors({
      importFile: async ({ id, changeId }) => {
        ids.push(`${id} ${changeId}`);
        if (isBroken) throw new Error('gone');
        return {
          measurement: { id },
          analysis: { body: { response: null, failure: null, facts: { numbers: [], phases: [] } } },
        } as never;
      },
    });
    const queue = new FileQueue('series', all);
    queue.add(files('a'), null);
    await until(queue, (each) => steps(each)[0] === 'waiting');
    await queue.readReady();
    expect(steps(queue)).toEqual(['failed']);
    isBroken = false;
    queue.retry(queue.snapshot().files[0]!.key);
    await queue.readReady();
    expect(steps(queue)).toEqual(['read']);
    expect(ids[1]).toBe(ids[0]);
  });

  it('stops sending a file that is cancelled, and lets the others come', async () => {
    const { all } = doors({
      upload: (_file, fileName, _progress, signal) =>
        fileName === 'slow'
          ? new Promise((_resolve, reject) => signal.addEventListener('abort', () => reject(signal.reason)))
          : Promise.resolve({ sha256: fileName }),
    });
    const queue = new FileQueue('series', all);
    queue.add(files('slow', 'b'), null);
    await until(queue, (each) => steps(each)[1] === 'waiting');
    queue.cancel(queue.snapshot().files[0]!.key);
    await until(queue, (each) => steps(each)[0] === 'cancelled');
  });

  it('lets a file wait again once its measurement is taken back, and not while the view is merely old', async () => {
    const queue = new FileQueue('series', doors().all);
    const view = (ids: string[]) =>
      ({ measurements: ids.map((id) => ({ id, body: {} })), verdicts: [], treatments: [] }) as never;
    queue.add(files('a', 'b'), null);
    await until(queue, (each) => steps(each).join() === 'waiting,waiting');
    const [first, second] = await queue.readReady();
    queue.setView(view([]));
    expect(steps(queue)).toEqual(['read', 'read']);
    queue.setView(view([first!.measurementId, second!.measurementId]));
    queue.setView(view([second!.measurementId]));
    expect(steps(queue)).toEqual(['waiting', 'read']);
    const [again] = await queue.readReady();
    expect(again!.measurementId).not.toBe(first!.measurementId);
  });

  it('asks to remember the mapping of a kind once, with its first file', async () => {
    const { all, asked } = doors();
    const queue = new FileQueue('series', all);
    queue.add(files('a', 'b', 'c'), null);
    await until(queue, (each) => steps(each).join() === 'waiting,waiting,waiting');
    await queue.readReady();
    expect(asked.remembered).toEqual([true, false, false]);
  });

  it('asks before the same bytes are read a second time', async () => {
    const { all, asked } = doors({ upload: async () => ({ sha256: 'same' }) });
    const queue = new FileQueue('series', all);
    queue.add(files('a', 'copy of a'), null);
    await until(queue, (each) => steps(each).join() === 'waiting,waiting');
    await queue.readReady();
    expect(asked.imports).toHaveLength(1);
  });

  it('refuses a file above the limit without sending it', async () => {
    const queue = new FileQueue('series', doors().all);
    const large = new File(['x'], 'large.txt');
    Object.defineProperty(large, 'size', { value: 21 * 1024 * 1024 });
    queue.add([large], null);
    expect(queue.snapshot().files[0]).toMatchObject({ step: 'failed', problem: { code: 'FILE_TOO_LARGE' } });
  });
});
