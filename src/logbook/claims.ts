// Claims of live imports: a file in the store that no row names yet is kept while the process that put it lives.
// A claim is an empty file whose name says which file, and which process.
import { readFileSync } from 'node:fs';
import { open, readdir, rm, stat } from 'node:fs/promises';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { newId } from './ids.ts';

/** A claim of a process that cannot be looked at (another machine, no process table) is trusted for so long. */
const TRUSTED_MS = 24 * 3600 * 1000;

/** Names a process on a machine: host, process number, time it started. No part holds a dot. */
function processToken(): string {
  return [safeHost(), process.pid, startTime(process.pid) ?? 'unknown'].join('_');
}

function safeHost(): string {
  return hostname().replaceAll(/[^A-Za-z0-9-]/g, '-') || 'host';
}

/**
 * When a process started, in clock ticks since the machine did; undefined where the system does not tell.
 * Field 22 of /proc/PID/stat [looked-up: Linux manual page proc_pid_stat(5)]; the name in field 2 may hold spaces.
 */
function startTime(pid: number): string | undefined {
  try {
    const text = readFileSync(`/proc/${pid}/stat`, 'latin1');
    return text.slice(text.lastIndexOf(')') + 2).split(' ')[22 - 3];
  } catch {
    return undefined;
  }
}

function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM'; // there, but another user's
  }
}

/** A name for a file that belongs to this process, with what it is about in front. */
export function ownedName(about: string): string {
  return `${about}.${processToken()}.${newId()}`;
}

/** What an owned name is about. */
export function aboutOf(name: string): string {
  return name.slice(0, name.indexOf('.'));
}

/** Does the process live that an owned name belongs to? In doubt yes, for a day. */
export async function isOwnerAlive(folder: string, name: string): Promise<boolean> {
  const token = name.split('.')[1] ?? '';
  const [host, pidText = '', started] = token.split('_');
  const pid = Number(pidText);
  if (host === safeHost() && Number.isInteger(pid) && pid > 0) {
    if (!isRunning(pid)) return false;
    const startedNow = startTime(pid);
    if (startedNow !== undefined && started !== 'unknown') return startedNow === started;
  }
  try {
    return Date.now() - (await stat(join(folder, name))).mtimeMs < TRUSTED_MS;
  } catch {
    return false; // taken away meanwhile
  }
}

/** Claims a file; the claim stands until it is taken back or the process ends. */
export async function claimFile(claimFolder: string, sha256: string): Promise<string> {
  const path = join(claimFolder, ownedName(sha256));
  await (await open(path, 'wx', 0o600)).close();
  return path;
}

/** SHA-256 of the files that live processes claim. Claims of dead ones are taken away. */
export async function liveClaims(claimFolder: string): Promise<Set<string>> {
  const claimed = new Set<string>();
  for (const name of await readdir(claimFolder)) {
    if (await isOwnerAlive(claimFolder, name)) claimed.add(aboutOf(name));
    else await rm(join(claimFolder, name), { force: true });
  }
  return claimed;
}
