// The directions of import hold, and a planted fault is found.
import { spawnSync } from 'node:child_process';
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';

const ROOT = join(import.meta.dirname, '..');
const PLANTED = join(ROOT, 'src', 'science', 'planted-for-a-test.ts');
const checkLayers = () =>
  spawnSync(process.execPath, [join(ROOT, 'scripts', 'check-layers.ts')], { cwd: ROOT, encoding: 'utf8' });

describe('the layers', () => {
  afterEach(() => rmSync(PLANTED, { force: true }));

  it('import only what the table of imports allows', () => {
    const { status, stderr } = checkLayers();
    expect(stderr).toBe('');
    expect(status).toBe(0);
  });

  it('are seen to be broken when science reads a file', () => {
    mkdirSync(join(ROOT, 'src', 'science'), { recursive: true });
    writeFileSync(
      PLANTED,
      "import { readFileSync } from 'node:fs';\nexport const bytes = readFileSync('a');\n",
    );
    const { status, stderr } = checkLayers();
    expect(status).toBe(1);
    expect(stderr).toContain('must run in a browser');
  });
});
