// The browser that the tests drive: Debian's Chromium. Installed when it is missing and the user may install.
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';

const PATHS = ['/usr/bin/chromium', '/usr/bin/chromium-browser'];
const INSTALL = ['install', '-y', '--no-install-recommends', '-o', 'DPkg::Lock::Timeout=300', 'chromium'];

export function browserPath(): string | undefined {
  return PATHS.find(existsSync);
}

/** Installs Chromium if it is missing and this is root on Debian; says in words what a person must do otherwise. */
export function ensureBrowser(): void {
  if (browserPath()) return;
  const isRoot = process.getuid?.() === 0;
  if (!isRoot || !existsSync('/usr/bin/apt-get')) {
    process.stderr.write(
      `Chromium is missing, so the browser tests will fail. Install it as root: apt-get ${INSTALL.join(' ')}\n`,
    );
    return;
  }
  const aptGet = (args: readonly string[]): boolean =>
    spawnSync('apt-get', args, {
      stdio: ['ignore', 2, 2],
      env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
    }).status === 0;
  process.stderr.write('Installing Chromium for the browser tests ...\n');
  for (let attempt = 1; attempt <= 2 && !browserPath(); attempt++) {
    aptGet(['update']);
    aptGet(INSTALL);
  }
  if (!browserPath()) process.stderr.write(`Chromium could not be installed: apt-get ${INSTALL.join(' ')}\n`);
}
