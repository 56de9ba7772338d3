// The queue of dropped files of each series, kept while the program is open in the browser.
import { uploadFile } from './api.ts';
import { FileQueue } from './file-queue.ts';
import { importFile, lookAtFile } from './imports.ts';
import { newId } from './records.ts';

const queues = new Map<string, FileQueue>();

export function queueOf(seriesId: string): FileQueue {
  let queue = queues.get(seriesId);
  if (!queue) {
    queue = new FileQueue(seriesId, {
      upload: uploadFile,
      look: (sha256, fileName, reading, signal) =>
        lookAtFile({ seriesId, sha256, fileName, ...(reading ? { reading } : {}) }, signal),
      importFile,
      newId,
    });
    queues.set(seriesId, queue);
  }
  return queue;
}
