// What it takes for a file to be there after the power fails: write, fsync, rename, fsync the folder.
import { chmod, mkdir, open, rename, rm } from 'node:fs/promises';
import { dirname } from 'node:path';

const FOLDER_MODE = 0o700;
const FILE_MODE = 0o600;

/** Makes the names in a folder durable. Windows has no way to ask for it; its file system keeps a log of names. */
export async function syncFolder(folder: string): Promise<void> {
  if (process.platform === 'win32') return;
  const handle = await open(folder, 'r');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}

/** Makes a folder for its user alone, and the ones above it, durably; one that is there is left as it is. */
export async function makeFolder(folder: string): Promise<void> {
  const firstMade = await mkdir(folder, { recursive: true, mode: FOLDER_MODE });
  if (firstMade === undefined) return;
  for (let made = folder; ; made = dirname(made)) {
    await chmod(made, FOLDER_MODE); // whatever the process's mask
    await syncFolder(dirname(made));
    if (made === firstMade || dirname(made) === made) return;
  }
}

/**
 * Writes a new file, for its user alone, and syncs it. Its name is not yet durable.
 *
 * @param onChunk sees each chunk before it is written; what it throws ends the writing
 * @returns bytes written; on any error the file is taken away again
 */
export async function writeSynced(
  path: string,
  chunks: AsyncIterable<Uint8Array> | Iterable<Uint8Array>,
  onChunk: (chunk: Uint8Array) => void,
): Promise<number> {
  const handle = await open(path, 'wx', FILE_MODE);
  let bytes = 0;
  try {
    for await (const chunk of chunks) {
      onChunk(chunk);
      for (let written = 0; written < chunk.length; ) {
        written += (await handle.write(chunk, written)).bytesWritten;
      }
      bytes += chunk.length;
    }
    await handle.sync();
  } catch (error) {
    await handle.close().catch(() => {});
    await rm(path, { force: true });
    throw error;
  }
  await handle.close();
  return bytes;
}

/** Moves a file to its name, replacing one that is there, durably. Both are on one disk. */
export async function moveDurably(from: string, to: string): Promise<void> {
  await makeFolder(dirname(to));
  await rename(from, to);
  await syncFolder(dirname(to));
}
