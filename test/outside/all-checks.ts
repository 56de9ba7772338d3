// Every check against something outside the project, a file a subject.
import { globSync } from 'node:fs';
import { join } from 'node:path';
import type { OutsideCheck } from './outside-check.ts';

interface Subject {
  subject: string;
  checks: readonly OutsideCheck[];
}

const files = globSync('*.checks.ts', { cwd: import.meta.dirname }).sort();

export const ALL_CHECKS: readonly Subject[] = await Promise.all(
  files.map(async (file): Promise<Subject> => {
    const { CHECKS } = (await import(join(import.meta.dirname, file))) as { CHECKS: readonly OutsideCheck[] };
    return { subject: file.replace('.checks.ts', ''), checks: CHECKS };
  }),
);
