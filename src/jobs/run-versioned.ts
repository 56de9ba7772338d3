// Runs an entry and keeps with the answer what was asked and of which version.
import { findComputationOrThrow } from '../runner/find-computation.ts';
import type { Runner, RunOptions } from '../runner/runner.ts';
import { versionNow } from './series-view.ts';

export interface VersionedAnswer {
  computation: string;
  version: number;
  effectiveVersion: string;
  request: unknown;
  response: unknown;
}

export async function runVersioned(
  runner: Runner,
  computation: string,
  request: unknown,
  options?: RunOptions,
): Promise<VersionedAnswer> {
  const { version } = findComputationOrThrow(computation);
  const response = await runner.run(computation, request, options);
  return { computation, version, effectiveVersion: versionNow(computation)!, request, response };
}
