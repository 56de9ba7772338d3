// Making a film without leaving the program: from a clicked composition to a printed sheet and a driven path, and back from a
// measured film to better factors. On the invented series.
import type { Browser, Locator, Page } from 'playwright-core';
import { v7 as newId } from 'uuid';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import type { SeriesView } from '../../src/records/series-view.ts';
import { type ServerProcess, startServer, storeFolder } from './server-process.ts';
import { numberIn, oddsAreDrawn } from './steps.ts';
import { openBrowser, openPage, PATIENCE_MS, type WatchedPage } from './watched-page.ts';

vi.setConfig({ testTimeout: 3 * PATIENCE_MS, hookTimeout: PATIENCE_MS });

let browser: Browser;
let server: ServerProcess;
let watched: WatchedPage;
let page: Page;
let seriesId: string;
const store = storeFolder();

const read = async <Answer>(path: string): Promise<Answer> =>
  (await (await fetch(`${server.url}/api/${path}`)).json()) as Answer;
const seriesView = (): Promise<SeriesView> => read<SeriesView>(`series/${seriesId}`);

beforeAll(async () => {
  browser = await openBrowser();
  server = await startServer(store.path, { hasDemo: true });
  watched = await openPage(browser);
  page = watched.page;
  seriesId = (await read<{ id: string }[]>('series'))[0]!.id;
});
afterAll(async () => {
  await browser?.close();
  await server?.stop();
  store.remove();
});

const lookAt = async (ratio: string): Promise<void> => {
  await page.goto(`${server.url}/series/${seriesId}`);
  await oddsAreDrawn(page);
  await page.getByLabel('Cation ratio').fill(ratio);
  await page.getByRole('button', { name: 'Look' }).click();
};
const button = (name: string): Locator => page.getByRole('button', { name });
const factors = (): Locator => page.getByRole('table', { name: 'Transfer factors and losses' });

/** Learnt factor of barium on the target page. */
async function bariumFactor(): Promise<{ value: number; u: number }> {
  const row = factors()
    .getByRole('row')
    .filter({ has: page.getByRole('cell', { name: 'Ba', exact: true }) });
  return numberIn((await row.getByRole('cell').nth(1).textContent())!);
}
const openFactors = () => button('How elements go from target to film, and what heating takes').click();

let before: { value: number; u: number };

describe('a film that is wanted', () => {
  it('becomes a target by the factors of the measured films, and a sheet that is printed and kept', async () => {
    await lookAt('1:2.2:3.4');
    const href = `a[href$="target?ratio=1%3A2.2%3A3.4"]`; // proposals have theirs
    await page.locator(href, { hasText: 'Weigh a target of this' }).click();
    await page.getByRole('radiogroup', { name: 'The ratio is wanted in the' }).getByText('film').click();
    await page.getByText('Learnt from 13 pairs of target and measured film.').waitFor();
    await page.getByText(/^Target for it: Dy .* : Ba .* ± .* : Cu /).waitFor();
    await openFactors();
    before = await bariumFactor();
    expect(before.u).toBeGreaterThan(0);
    await page.getByText(/^Wanted in the film: Dy/).waitFor();

    await page.emulateMedia({ media: 'print' });
    const sheet = page.getByRole('table', { name: 'Powders to weigh' });
    expect(await sheet.isVisible()).toBe(true);
    expect(await sheet.getByRole('checkbox').count()).toBe(3);
    expect(await page.getByText('Usual cautions only', { exact: false }).first().isVisible()).toBe(true);
    expect(await page.getByLabel('Name of the target').isVisible()).toBe(false);
    expect(await page.getByRole('table', { name: 'Targets', exact: true }).isVisible()).toBe(false);
    await page.emulateMedia({ media: 'screen' });

    await page.getByLabel('Name of the target').fill('T20');
    await button('Keep as target').click();
    await page.getByText('Kept target T20.').waitFor();
    const kept = (await seriesView()).targets.find(({ body }) => body.label === 'T20')!.body;
    expect(kept.filmAim).not.toBeNull();
    // the film holds less Ba a Dy than its target by the factor that was learnt
    const film = 2.2 / (kept.cations.Ba! / kept.cations.Dy!);
    expect(Math.abs(film - before.value)).toBeLessThan(0.005);
  });

  it('is heated along a plan that is kept and driven with a piece', async () => {
    await lookAt('1:2.2:3.4');
    await page.getByRole('link', { name: 'Plan a heat path' }).click();
    await button('Begin from common practice').click();
    await page.getByRole('menuitem', { name: /^ex situ/ }).click();
    const answer = page.getByRole('region', { name: 'What the path does' });
    await answer.getByText(/hottest, 860 °C/).waitFor();
    await page.getByLabel('Name of the plan').fill('fast 860');
    await button('Keep the plan').click();
    await page.getByText('fast 860 (open)').waitFor();
    const drive = page.getByRole('region', { name: 'Drive it with a piece' });
    await drive.getByLabel('Piece').selectOption({ label: 'D01-a of D01' });
    await drive.getByLabel('Name of the treatment').fill('conversion 20');
    await drive.getByRole('button', { name: 'Write it down as a treatment' }).click();
    await drive.getByText('Wrote down treatment conversion 20 of piece D01-a.').waitFor();
    const view = await seriesView();
    const treatment = view.treatments.find(({ body }) => body.label === 'conversion 20')!.body;
    expect(treatment.planId).toBe(view.pathPlans.find(({ body }) => body.label === 'fast 860')!.id);
    expect(treatment.segments.map(({ toC }) => toC)).toContain(860);
  });

  it('once measured teaches the factors of the next target', async () => {
    const film = (await seriesView()).films.find(({ body }) => body.label === 'D01')!;
    const id = newId();
    const made = await fetch(`${server.url}/api/records/piece`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', 'x-peritect': '1' },
      body: JSON.stringify({
        id,
        changeId: newId(),
        seriesId,
        body: { label: 'D01-z', filmId: film.id, lengthMm: null, widthMm: null, note: '' },
      }),
    });
    expect(made.ok).toBe(true);
    await page.goto(`${server.url}/series/${seriesId}/films/${film.id}`);
    await button('Write down a measured composition of D01-z').click();
    const form = page.getByRole('form', { name: /Measured composition of D01-z/ });
    for (const [row, amount] of ['1', '1.6', '3'].entries())
      await form.getByLabel(`Amount of row ${row + 1}`).fill(amount);
    await form.getByLabel('Uncertainty of all amounts, %').fill('1');
    await form.getByRole('button', { name: 'Keep' }).click();
    await page.getByText(/Wrote down the composition of D01-z/).waitFor();

    await page.goto(`${server.url}/series/${seriesId}/target`);
    await page.getByText('Learnt from 14 pairs of target and measured film.').waitFor();
    await openFactors();
    const after = await bariumFactor();
    // a film poor in barium draws the factor down
    expect(after.value).toBeLessThan(before.value - 0.002);
    expect(watched.complaints).toEqual([]);
  });
});
