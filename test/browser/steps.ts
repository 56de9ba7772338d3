// What a person does more than once on the pages, and how a test reads what they say.
import type { Locator, Page } from 'playwright-core';
import type { SimulatedFile } from '../simulate/instrument-files.ts';

/** Waits until the odds stand in the triangle for the condition shown. */
export async function oddsAreDrawn(page: Page): Promise<void> {
  await page.locator('section[aria-label="Triangle of compositions"][aria-busy="false"]').waitFor();
}

/** The row of a table that holds exactly this text in a cell of its own. */
export function rowOf(table: Locator, cell: string): Locator {
  return table.getByRole('row').filter({ has: table.page().getByText(cell, { exact: true }) });
}

/** Drops files on the page's place for files, as a drag from a folder does. */
export async function dropFiles(page: Page, files: readonly SimulatedFile[]): Promise<void> {
  const transfer = await page.evaluateHandle((dropped) => {
    const data = new DataTransfer();
    for (const { name, text } of dropped) data.items.add(new File([text], name, { type: 'text/plain' }));
    return data;
  }, files);
  const place = page.getByText(/text files of any instrument/);
  for (const event of ['dragenter', 'dragover', 'drop'])
    await place.dispatchEvent(event, { dataTransfer: transfer });
}

/** Chooses files with the page's button and the system's file window. */
export async function chooseFiles(page: Page, files: readonly SimulatedFile[]): Promise<void> {
  const window = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: /^Choose (files|a file)$/ }).click();
  await (await window).setFiles(
    files.map(({ name, text }) => ({ name, mimeType: 'text/plain', buffer: Buffer.from(text) })),
  );
}

/** `91.09 ± 0.11 K` as number and standard uncertainty; a minus sign may be the typographic one. */
export function numberIn(text: string): { value: number; u: number } {
  const found = /([-−]?[\d.]+)\s*±\s*([\d.]+)/.exec(text);
  if (!found) throw new Error(`'${text}' is no number with its uncertainty.`);
  return { value: Number(found[1]!.replace('−', '-')), u: Number(found[2]) };
}
