// Reads every import below src/ and lists each that the table does not allow. The table is the one in
// docs/architecture.md; changing it needs a decision there.
import { globSync, readFileSync } from 'node:fs';
import { join, normalize, relative } from 'node:path';
import ts from 'typescript';

const ROOT = join(import.meta.dirname, '..');

/** Which layers a layer may import, besides itself. */
const MAY_IMPORT: Record<string, readonly string[]> = {
  science: [],
  formats: ['science'],
  charts: ['science'],
  computations: ['science', 'formats'],
  records: ['science', 'formats', 'computations'],
  logbook: ['science', 'formats', 'computations', 'records'],
  reports: ['science', 'charts', 'computations', 'logbook', 'records'],
  runner: ['science', 'computations'],
  api: ['science', 'computations', 'records'],
  jobs: ['science', 'formats', 'computations', 'records', 'runner', 'api', 'logbook'],
  server: [
    'science',
    'formats',
    'computations',
    'records',
    'logbook',
    'reports',
    'runner',
    'api',
    'jobs',
    'charts',
  ],
  web: ['science', 'charts', 'computations', 'runner', 'api', 'records'],
  cli: [
    'science',
    'formats',
    'charts',
    'computations',
    'records',
    'logbook',
    'reports',
    'runner',
    'api',
    'jobs',
    'server',
  ],
};
/** Layers that must run in a browser: no `node:` module. */
const BROWSER_SAFE = ['science', 'formats', 'charts', 'computations', 'records', 'runner', 'api', 'web'];
/** Layers that load the invented series of demo/. */
const SHOWS_DEMO = ['server', 'cli'];
/** What pure science may not touch. */
const IMPURE =
  /\b(Date\.now|new Date\(\)|Math\.random|console\.|process\.|document\.|globalThis|localStorage|fetch\()/;

const faults: string[] = [];
const graph = new Map<string, string[]>();

for (const file of globSync('src/**/*.{ts,tsx}', { cwd: ROOT }).sort()) {
  const text = readFileSync(join(ROOT, file), 'utf8');
  const layer = file.split('/')[1]!;
  const allowed = MAY_IMPORT[layer];
  if (!allowed) {
    faults.push(
      `${file}: the folder src/${layer} is no layer. Known: ${Object.keys(MAY_IMPORT).join(', ')}.`,
    );
    continue;
  }
  if (layer === 'science' && !file.includes('/tables/')) {
    const withoutComments = text.replaceAll(/\/\*[\s\S]*?\*\/|\/\/.*$/gm, '');
    const found = IMPURE.exec(withoutComments);
    if (found) faults.push(`${file}: science is pure, but uses ${found[0]}.`);
  }
  if (/^export default/m.test(text)) faults.push(`${file}: has a default export.`);
  const statements = text.split('\n').filter((line) => line.trim() && !line.trim().startsWith('//'));
  if (
    statements.length > 0 &&
    statements.every((line) => /^export (\*|\{.*\}|type \{.*\}) from /.test(line))
  ) {
    faults.push(`${file}: only re-exports.`);
  }
  const edges: string[] = [];
  for (const { fileName: wanted } of ts.preProcessFile(text, true, true).importedFiles) {
    if (wanted.startsWith('node:') && BROWSER_SAFE.includes(layer)) {
      faults.push(`${file}: imports ${wanted}, but src/${layer} must run in a browser.`);
    }
    if (!wanted.startsWith('.')) continue;
    if (!/\.(ts|tsx|css|json|ttf|woff2)$/.test(wanted)) faults.push(`${file}: '${wanted}' lacks its ending.`);
    const path = normalize(join(file, '..', wanted));
    const other = relative('src', path).split('/')[0]!;
    if (path.startsWith('demo/') && SHOWS_DEMO.includes(layer)) continue;
    if (!path.startsWith('src/')) faults.push(`${file}: imports ${wanted}, outside src/.`);
    else if (other !== layer && !allowed.includes(other)) {
      faults.push(`${file}: imports ${wanted}; ${layer} may import ${['itself', ...allowed].join(', ')}.`);
    }
    edges.push(path);
  }
  graph.set(file, edges);
}

const done = new Set<string>();
function findCycle(file: string, trail: string[]): void {
  if (trail.includes(file)) {
    faults.push(`import cycle: ${[...trail.slice(trail.indexOf(file)), file].join(' -> ')}`);
    return;
  }
  if (done.has(file)) return;
  for (const next of graph.get(file) ?? []) findCycle(next, [...trail, file]);
  done.add(file);
}
for (const file of graph.keys()) findCycle(file, []);

for (const fault of faults) process.stderr.write(`${fault}\n`);
process.stdout.write(`layers: ${graph.size} files, ${faults.length} faults\n`);
if (faults.length > 0) process.exitCode = 1;
