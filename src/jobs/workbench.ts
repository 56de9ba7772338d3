// What work on records needs: the store, somewhere to compute, and the files that wait to be imported.
import type { Store } from '../logbook/store.ts';
import type { Runner } from '../runner/runner.ts';
import type { FileTasks } from './file-tasks.ts';
import type { Uploads } from './uploads.ts';

export interface Workbench {
  readonly store: Store;
  readonly runner: Runner;
  readonly files: FileTasks;
  readonly uploads: Uploads;
}
