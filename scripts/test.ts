// Runs every test and ends with one plain line, `N passed, N failed`; what was skipped counts as failed. Takes a path or
// a name to run fewer: `npm test -- test/formats`.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { startVitest } from 'vitest/node';
import { ensureBrowser } from './ensure-browser.ts';
import { ROOT } from './run-step.ts';

ensureBrowser();
const home = mkdtempSync(join(tmpdir(), 'peritect-test-'));
process.env.PERITECT_HOME = home; // no test may touch a person's own store
process.env.TZ = 'UTC';
let passed = 0;
let failed = 0;
try {
  const vitest = await startVitest('test', process.argv.slice(2), { root: ROOT, watch: false, run: true });
  for (const module of vitest.state.getTestModules()) {
    if (module.errors().length > 0) failed++;
    for (const test of module.children.allTests()) {
      if (test.result().state === 'passed') passed++;
      else failed++;
    }
  }
  failed += vitest.state.getUnhandledErrors().length;
  await vitest.close();
} finally {
  rmSync(home, { recursive: true, force: true });
}
process.stdout.write(`\n${passed} passed, ${failed} failed\n`);
process.exit(failed === 0 && passed > 0 ? 0 : 1);
