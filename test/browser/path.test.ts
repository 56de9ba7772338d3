// The path page as a grower uses it: from the triangle to a plan, through a chamber, kept, and driven with a piece.
import AxeBuilder from '@axe-core/playwright';
import type { Browser, Locator, Page } from 'playwright-core';
import { v7 as newId } from 'uuid';
import { afterAll, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import { type ServerProcess, startServer, storeFolder } from './server-process.ts';
import { oddsAreDrawn, rowOf } from './steps.ts';
import { openBrowser, openPage, PATIENCE_MS, type WatchedPage } from './watched-page.ts';

vi.setConfig({ testTimeout: 3 * PATIENCE_MS });

let browser: Browser;
let server: ServerProcess;
let watched: WatchedPage;
let page: Page;
let seriesId: string;
const store = storeFolder();

async function create(kind: string, ofSeries: string | null, body: object, id = newId()): Promise<string> {
  const response = await fetch(`${server.url}/api/records/${kind}`, {
    method: 'POST',
    headers: { 'content-type': 'application/json', 'x-peritect': '1' },
    body: JSON.stringify({ id, changeId: newId(), seriesId: ofSeries ?? id, body }),
  });
  if (!response.ok) throw new Error(await response.text());
  return id;
}

beforeAll(async () => {
  browser = await openBrowser();
  server = await startServer(store.path);
  watched = await openPage(browser);
  page = watched.page;
  seriesId = await create('series', null, {
    label: 'Fast films',
    aim: '',
    isInvented: false,
    rareEarths: ['Dy'],
    growth: { temperatureC: 780, po2Atm: 150 / 760_000, meltOffsetJPerMol: 0 },
    coil: null,
    criteria: [],
    benchmarkPieceId: null,
    controlPieceId: null,
    note: '',
  });
  const filmId = await create('film', seriesId, {
    label: 'F1',
    runId: null,
    cations: { Dy: 1, Ba: 3, Cu: 6 },
    substrate: 'SrTiO3',
    substrateLot: '',
    position: '',
    thicknessNm: null,
    depositionRateNmPerS: null,
    conversionRateNmPerS: null,
    overallRateNmPerS: null,
    note: '',
  });
  await create('piece', seriesId, { label: 'F1-a', filmId, lengthMm: null, widthMm: null, note: '' });
});
afterAll(async () => {
  await browser?.close();
  await server?.stop();
  store.remove();
});
beforeEach(() => {
  watched.complaints.length = 0;
});

const answer = (): Locator => page.getByRole('region', { name: 'What the path does' });

async function faultsOf(): Promise<string[]> {
  const { violations } = await new AxeBuilder({ page }).setLegacyMode().analyze();
  const excess = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
  return [
    ...violations.map(
      ({ id, nodes }) => `${id}: ${nodes[0]!.html.slice(0, 300)} ${nodes[0]!.failureSummary}`,
    ),
    ...(excess > 0 ? [`${excess} px wider than the window`] : []),
  ];
}

describe('the path page', () => {
  it('is two clicks from the triangle, with the composition clicked there', async () => {
    await page.goto(`${server.url}/series/${seriesId}`);
    await oddsAreDrawn(page);
    await page.getByLabel('Cation ratio').fill('1:2.5:4.5');
    await page.getByRole('button', { name: 'Look' }).click();
    await page.getByRole('link', { name: 'Plan a heat path' }).click();
    await page.getByRole('heading', { name: 'What will this heat and gas path do?' }).waitFor();
    expect(await page.getByLabel('Cation ratio').inputValue()).toBe('1:2.5:4.5');
    await answer()
      .getByText(/^The path takes .* hottest, 780 °C/)
      .waitFor();
    await answer().getByText('No chamber is chosen', { exact: false }).waitFor();
  });

  it('answers again while a number is typed, and names what cannot be read', async () => {
    await page.getByLabel('End temperature, °C, of step 1').fill('905');
    await answer()
      .getByText(/hottest, 905 °C/)
      .waitFor();
    await page.getByLabel('Duration of step 2').fill('5');
    await page.getByText(/Found '5'; expected a time with its unit/).waitFor();
    await answer().getByText('Said of the first 1 of 7 steps: step 2 cannot be read yet.').waitFor();
    await page.getByLabel('Duration of step 2').fill('5 min');
  });

  it('moves and leaves out steps by keyboard', async () => {
    await page.getByRole('button', { name: 'Move step 2 down' }).focus();
    await page.keyboard.press('Enter');
    expect(await page.getByLabel('Kind of step 3').inputValue()).toBe('hold');
    await page.getByRole('button', { name: 'Leave out step 3' }).focus();
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: 'Add a step' }).focus();
    await page.keyboard.press('Enter');
    expect(await page.getByLabel(/^Kind of step/).count()).toBe(7);
    const focused = await page.evaluate(() => document.activeElement?.getAttribute('aria-label'));
    expect(focused).toBe('Kind of step 7');
  });

  it('begins from common practice, and can take it back', async () => {
    await page.getByRole('button', { name: 'Begin from common practice' }).click();
    await page.getByRole('menuitem', { name: /^ex situ/ }).click();
    await answer()
      .getByText(/hottest, 860 °C/)
      .waitFor();
    expect(await page.getByLabel(/^Kind of step/).count()).toBe(10);
    await page
      .getByRole('alert')
      .filter({ hasText: 'Began from common practice' })
      .getByRole('button', { name: 'Undo' })
      .click();
    await answer()
      .getByText(/hottest, 905 °C/)
      .waitFor();
    expect(await page.getByLabel(/^Kind of step/).count()).toBe(7);
    await page.getByRole('button', { name: 'Begin from common practice' }).click();
    await page.getByRole('menuitem', { name: /^ex situ/ }).click();
    await answer()
      .getByText(/hottest, 860 °C/)
      .waitFor();
  });

  it('takes a chamber into account once it is written down, with what its sensor reads', async () => {
    await page.getByRole('button', { name: 'Add a chamber' }).click();
    const form = page.getByRole('form', { name: 'New chamber' });
    await form.getByLabel('Volume, L').fill('50 ± 2');
    await form.getByLabel('Oxygen flow, sccm').fill('100 ± 1');
    await form.getByLabel('Pumping oxygen away, L/s').fill('20 ± 5');
    await form.getByLabel('Thermal lag, s').fill('3 ± 1');
    await form.getByLabel('Surface minus reading, K').fill('-20 ± 8');
    await form.getByRole('button', { name: 'Keep' }).click();
    await form.getByText(/New chamber, name: Found nothing/).waitFor();
    await form.getByLabel('Name of the chamber').fill('PLD 1');
    await form.getByRole('button', { name: 'Keep' }).click();
    await form.waitFor({ state: 'hidden' });
    await page.getByText(/^PLD 1: 50/).waitFor();
    expect(await page.getByLabel('Chamber', { exact: true }).locator('option:checked').textContent()).toBe(
      'PLD 1',
    );
    await page
      .getByText(/860 °C, 20 mTorr; sensor reads 880 °C/)
      .first()
      .waitFor();
    const cannot = answer().getByRole('list', { name: 'What the chamber cannot follow' });
    await cannot
      .getByText(/K colder than commanded/)
      .first()
      .waitFor();
    await cannot.getByText(/this chamber needs .* step 8 gives it 120 s/).waitFor();
    expect(await faultsOf()).toEqual([]);
    expect(watched.complaints).toEqual([]);
  });

  it('shows the path over time and over the map, and says when liquid is likely in both readings', async () => {
    await page
      .getByRole('img', { name: /^Heat and gas path$|^Heat and gas path\b/ })
      .first()
      .waitFor();
    await page
      .locator('section[aria-label="The path over temperature and oxygen"][aria-busy="false"]')
      .waitFor();
    await page.getByRole('textbox', { name: 'Melt set free by, kJ/mol' }).fill('4');
    await answer()
      .getByRole('heading', { name: /^Read as not equilibrium: melt set free by 4 kJ\/mol/ })
      .waitFor();
    await page.locator('section[aria-label="What the path does"][aria-busy="false"]').waitFor();
    expect(
      await answer()
        .getByText(/^(Liquid is|No liquid)/)
        .count(),
    ).toBeGreaterThanOrEqual(2);
  });

  it('keeps the plan under a name, copies it, and prints a sheet with cautions', async () => {
    await page.getByRole('button', { name: 'Keep the plan' }).click();
    await page.getByText(/Plan, name: Found nothing/).waitFor();
    await page.getByLabel('Name of the plan').fill('melt 860');
    await page.getByRole('button', { name: 'Keep the plan' }).click();
    const plans = page.getByRole('table', { name: 'Kept plans' });
    await plans.getByText('melt 860 (open)').waitFor();
    await page.getByRole('button', { name: 'Show the run sheet' }).click();
    const sheet = page.getByRole('region', { name: 'Run sheet' });
    await sheet.getByRole('columnheader', { name: 'Set point, heater block' }).waitFor();
    expect(await sheet.getByRole('checkbox').count()).toBe(10);
    await sheet.getByText(/local rules and the responsible licensed person decide/).waitFor();
    expect(await faultsOf()).toEqual([]);
    await plans.getByRole('button', { name: 'Copy plan melt 860' }).click();
    expect(await page.getByLabel('Name of the plan').inputValue()).toBe('melt 861');
    await plans.getByRole('button', { name: 'Edit plan melt 860' }).click();
    expect(await page.getByLabel('Name of the plan').inputValue()).toBe('melt 860');
  });

  it('drives the plan with a piece, and opens what was driven again', async () => {
    const drive = page.getByRole('region', { name: 'Drive it with a piece' });
    await drive.getByLabel('Piece').selectOption({ label: 'F1-a of F1' });
    await drive.getByLabel('Name of the treatment').fill('conversion 1');
    await drive.getByText('The treatment names the plan.').waitFor();
    await drive.getByRole('button', { name: 'Write it down as a treatment' }).click();
    await drive.getByText('Wrote down treatment conversion 1 of piece F1-a.').waitFor();
    await drive.getByRole('link', { name: 'Open film F1' }).click();
    await page.getByRole('heading', { name: 'After conversion 1' }).waitFor();
    await page.getByRole('link', { name: 'Open conversion 1 on the path page' }).click();
    await answer()
      .getByText(/hottest, 860 °C/)
      .waitFor();
    const plans = page.getByRole('table', { name: 'Kept plans' });
    await rowOf(plans, 'once').getByText('melt 860').waitFor();
    expect(watched.complaints).toEqual([]);
  });
});
