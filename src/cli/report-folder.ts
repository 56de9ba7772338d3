// Writes a report into a folder of its own, with the pictures drawn from its figures.
import { existsSync } from 'node:fs';
import { mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import type { FieldsAnswer } from '../charts/ternary/fields-on-triangle.ts';
import { seriesEvidence } from '../jobs/series-evidence.ts';
import type { Workbench } from '../jobs/workbench.ts';
import { figurePng } from '../reports/figure-png.ts';
import type { ReportFile } from '../reports/report-input.ts';
import { seriesReport } from '../reports/series-report.ts';
import { CliError } from './errors.ts';

/** Says in a folder that it is ours, and of what. */
const MARK = 'made-by-peritect.txt';

/**
 * Makes the folder, or takes it if it is empty or was made by such a call before.
 *
 * @param holds what the folder is to hold, in words; kept in it
 * @returns its whole path
 * @throws CliError FOLDER_TAKEN if it holds something else, FOLDER_UNWRITABLE
 */
export async function claimFolder(folder: string, holds: string): Promise<string> {
  const path = resolve(folder);
  try {
    await mkdir(path, { recursive: true });
    const found = await readdir(path);
    if (found.length > 0 && !found.includes(MARK)) {
      throw new CliError(
        'FOLDER_TAKEN',
        `${path} holds ${found.slice(0, 3).join(', ')}${found.length > 3 ? ` and ${found.length - 3} more` : ''}, which this command did not make.`,
      );
    }
    const mark = join(path, MARK);
    if (!found.includes(MARK)) await writeFile(mark, `${holds}\n`);
    const said = (await readFile(mark, 'utf8')).trim();
    if (said !== holds) {
      throw new CliError('FOLDER_TAKEN', `${path} holds something else of ours: ${said.slice(0, 200)}`);
    }
  } catch (error) {
    if (error instanceof CliError) throw error;
    throw new CliError('FOLDER_UNWRITABLE', `${path} cannot be written: ${(error as Error).message}.`);
  }
  return path;
}

async function writeFiles(
  folder: string,
  files: readonly ReportFile[],
  onFile: (done: number) => void,
): Promise<void> {
  await rm(join(folder, 'figures'), { recursive: true, force: true }); // those of films that are gone
  for (const [i, { path, text }] of files.entries()) {
    const target = join(folder, path);
    if (!existsSync(dirname(target))) await mkdir(dirname(target), { recursive: true });
    await writeFile(target, text);
    if (path.endsWith('.svg')) await writeFile(target.replace(/\.svg$/, '.png'), figurePng(text));
    onFile(i + 1);
  }
}

export interface WrittenReport {
  readonly folder: string;
  readonly report: string;
  readonly files: number;
  readonly figures: number;
}

/**
 * Writes the report of a series.
 *
 * @param folder   claimed already
 * @param progress told now and then, in words
 */
export async function writeReport(
  bench: Workbench,
  seriesId: string,
  folder: string,
  progress: (line: string) => void,
): Promise<WrittenReport> {
  progress('Gathering records and curves ...');
  const { view, fields, curves } = await seriesEvidence(bench, seriesId);
  const files = seriesReport({ view, fields: fields as FieldsAnswer | null, curves });
  const figures = files.filter(({ path }) => path.endsWith('.svg')).length;
  progress(`Writing the report and ${figures} figures ...`);
  try {
    await writeFiles(folder, files, (done) => {
      if (done % 50 === 0) progress(`  ${done} of ${files.length} files`);
    });
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    if (code === undefined) throw error;
    throw new CliError('FOLDER_UNWRITABLE', `${folder} cannot be written: ${message}.`);
  }
  return { folder, report: join(folder, 'report.html'), files: files.length + figures, figures };
}
