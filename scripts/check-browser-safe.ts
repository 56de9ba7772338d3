// Builds the layers that must run in a browser for the browser, keeping nothing. A `node:` module, a missing file or a
// cycle that only a bundler sees shows here.
import { globSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build } from 'vite';
import { ROOT } from './run-step.ts';

const LAYERS = ['science', 'formats', 'charts', 'computations', 'records', 'runner', 'api'];

const folder = mkdtempSync(join(tmpdir(), 'peritect-browser-safe-'));
try {
  const files = LAYERS.flatMap((layer) => globSync(`src/${layer}/**/*.{ts,tsx}`, { cwd: ROOT })).filter(
    (file) => !file.endsWith('.d.ts'),
  );
  const entry = join(folder, 'all.ts');
  writeFileSync(
    entry,
    files
      .map((file, i) => `import * as m${i} from ${JSON.stringify(join(ROOT, file))};\nconsole.log(m${i});`)
      .join('\n'),
  );
  await build({
    root: ROOT,
    configFile: false,
    logLevel: 'error',
    build: {
      write: false,
      minify: false,
      lib: { entry, formats: ['es'], fileName: 'all' },
      rollupOptions: {
        onwarn(warning) {
          if (/externalized for browser compatibility|Could not resolve/.test(warning.message))
            throw new Error(warning.message);
        },
      },
    },
  });
  process.stdout.write(`browser-safe: ${files.length} files bundled\n`);
} finally {
  rmSync(folder, { recursive: true, force: true });
}
