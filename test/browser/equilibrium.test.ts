// The pages of the equilibrium: what they answer about liquid and 123 over composition, temperature and oxygen, in both readings.
import AxeBuilder from '@axe-core/playwright';
import type { Browser, Locator, Page } from 'playwright-core';
import { v7 as newId } from 'uuid';
import { afterAll, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import { type ServerProcess, startServer, storeFolder } from './server-process.ts';
import { oddsAreDrawn } from './steps.ts';
import { openBrowser, openPage, PATIENCE_MS, type WatchedPage } from './watched-page.ts';

vi.setConfig({ testTimeout: 3 * PATIENCE_MS });

let browser: Browser;
let server: ServerProcess;
let watched: WatchedPage;
let page: Page;
let seriesId: string;
let emptySeriesId: string;
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

const createSeries = (label: string): Promise<string> =>
  create('series', null, {
    label,
    aim: '',
    isInvented: false,
    rareEarths: ['Dy'],
    growth: { temperatureC: 780, po2Atm: 30 / 760_000, meltOffsetJPerMol: 0 },
    coil: null,
    criteria: [],
    benchmarkPieceId: null,
    controlPieceId: null,
    note: '',
  });

beforeAll(async () => {
  browser = await openBrowser();
  server = await startServer(store.path);
  watched = await openPage(browser);
  page = watched.page;
  emptySeriesId = await createSeries('Nothing grown');
  seriesId = await createSeries('Low oxygen');
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
  const pieceId = await create('piece', seriesId, {
    label: 'F1-a',
    filmId,
    lengthMm: null,
    widthMm: null,
    note: '',
  });
  await create('treatment', seriesId, {
    label: 'conversion',
    pieceId,
    startedAt: null,
    note: '',
    segments: [
      { kind: 'ramp', toC: 960, durationS: 600, po2Atm: 0.21, gas: 'air' },
      { kind: 'cool', toC: 100, durationS: 600, po2Atm: 0.21, gas: 'air' },
    ],
  });
});
afterAll(async () => {
  await browser?.close();
  await server?.stop();
  store.remove();
});
beforeEach(() => {
  watched.complaints.length = 0;
});

const triangle = (): Locator => page.getByRole('region', { name: 'Triangle of compositions' });
const map = (): Locator => page.getByRole('region', { name: 'Map of temperature and oxygen' });

async function mapIsDrawn(): Promise<void> {
  await page.locator('section[aria-label="Map of temperature and oxygen"][aria-busy="false"]').waitFor();
}

async function openMap(ofSeries = seriesId, ratio = ''): Promise<void> {
  await page.goto(`${server.url}/series/${ofSeries}/temperature-oxygen${ratio}`);
  await mapIsDrawn();
}

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

describe('the triangle', () => {
  it('says that bulk equilibrium has no liquid where growers work, and answers in the other reading beside it', async () => {
    await page.goto(`${server.url}/series/${seriesId}`);
    await oddsAreDrawn(page);
    await triangle()
      .getByText(/^780 °C, pO₂ 30 mTorr; equilibrium$/)
      .waitFor();
    await page
      .getByRole('status', { name: 'The region in words' })
      .getByText(/^Nowhere in the triangle/)
      .waitFor();
    await page.getByLabel('Cation ratio').fill('1:3:6');
    await page.getByRole('button', { name: 'Look' }).click();
    const phases = page.getByRole('table', { name: 'Phases at this composition' });
    await phases.waitFor();
    expect(await phases.getByRole('columnheader').allTextContents()).toEqual([
      'Share of the cations (median member)',
      'Equilibrium',
    ]);
    await page.getByRole('button', { name: /^Hold back Dy2BaCuO5/ }).click();
    await page.getByText('Read as not equilibrium: Dy2BaCuO5, BaCu2O2, Cu2O held back.').waitFor();
    await oddsAreDrawn(page);
    await page
      .getByRole('status', { name: 'The region in words' })
      .getByText(/^Odds of 50 % and more/)
      .waitFor();
    await triangle()
      .getByText(/not equilibrium: Dy2BaCuO5, BaCu2O2, Cu2O held back$/)
      .waitFor();
    await phases.getByRole('columnheader', { name: 'As set free' }).waitFor();
    const odds = page.getByRole('table', { name: 'Odds at this composition' });
    const liquid = odds.getByRole('row').filter({ hasText: 'liquid with 123' });
    const [, bulk, free] = await liquid.getByRole('cell').allTextContents();
    expect(bulk).toBe('none');
    expect(free === 'all members' || Number.parseFloat(free!) > 50).toBe(true);
    expect(await faultsOf()).toEqual([]);
    await page.getByRole('button', { name: 'Read as equilibrium' }).click();
    await page.getByText('Read as: equilibrium, from published bulk data.').waitFor();
    expect(watched.complaints).toEqual([]);
  });

  it('redraws while the slider moves, first a quick picture and then all members', async () => {
    const slider = page.getByRole('slider', { name: 'Surface temperature, °C' });
    await slider.focus();
    await page.evaluate(() => {
      const seen: string[] = [];
      (window as unknown as { seen: string[] }).seen = seen;
      const note = () => {
        const text = [...document.querySelectorAll('section[aria-label="Triangle of compositions"] text')]
          .map((each) => each.textContent ?? '')
          .find((each) => /°C, pO₂/.test(each));
        if (text && seen.at(-1) !== text) seen.push(text);
      };
      new MutationObserver(note).observe(document.querySelector('main')!, {
        subtree: true,
        childList: true,
        characterData: true,
      });
    });
    for (let i = 0; i < 40; i++) {
      await slider.press('ArrowRight');
      await page.waitForTimeout(16);
    }
    await triangle()
      .getByText(/^820 °C, pO₂ 30 mTorr; equilibrium$/)
      .waitFor();
    await oddsAreDrawn(page);
    const seen = await page.evaluate(() => (window as unknown as { seen: string[] }).seen);
    const quick = seen.filter((text) => text.includes('quick picture'));
    expect(quick.length).toBeGreaterThan(3); // redrawn during the drag, not only after it
    expect(seen.at(-1)).toBe('820 °C, pO₂ 30 mTorr; equilibrium');
  });

  it('is shown for another rare earth, with its phases, and says so', async () => {
    await page.getByLabel('Rare earth').selectOption('Sm');
    await page.getByText(/^Shown for Sm, not for the series' own Dy/).waitFor();
    await oddsAreDrawn(page);
    await triangle().getByText('Sm2BaCuO5', { exact: true }).waitFor();
    await page.getByRole('table', { name: 'Phases at this composition' }).getByText(/Sm/).first().waitFor();
    await page.getByText('Assumed for this rare earth').first().waitFor();
  });

  it('lets the substrate take its part of the film', async () => {
    await page.getByRole('button', { name: /^. ?Substrate takes part: no|Substrate takes part/ }).click();
    await page.getByLabel('Layer that reacts').selectOption({ index: 1 });
    await page.getByText(/takes .* of the film's cations/).waitFor();
    expect(await faultsOf()).toEqual([]);
    expect(watched.complaints).toEqual([]);
  });

  it('asks about a temperature that was meant in K, and keeps the last one', async () => {
    const field = page.getByRole('textbox', { name: 'Surface temperature, °C' });
    await field.fill('1550');
    await page.getByText(/Was it meant in K\? That is 1276\.85 °C\. Still taken: 820 °C\./).waitFor();
  });
});

describe('the map of temperature and oxygen', () => {
  it('opens at the best film, draws odds and published lines, and says where liquid and 123 are likely', async () => {
    await openMap();
    expect(await page.getByLabel('Cation ratio').inputValue()).toBe('Dy 1 : Ba 3 : Cu 6');
    await map().getByText('equilibrium; all members').waitFor();
    await page
      .getByRole('status', { name: 'Where liquid and 123 are likely' })
      .getByText(/1 atm: 9\d\d to (9|10)\d+ °C/)
      .waitFor();
    expect(await map().locator('[data-mark]').count()).toBeGreaterThan(20);
    expect(await faultsOf()).toEqual([]);
  });

  it('tells the source of a published point by keyboard, and the phases there', async () => {
    const mark = map().locator('[data-mark="peritectic-nist"]');
    await map().locator('[data-mark][tabindex="0"]').focus();
    for (let i = 0; i < 40 && (await mark.getAttribute('tabindex')) !== '0'; i++)
      await page.keyboard.press('ArrowRight');
    await map()
      .locator('svg[role="group"] text')
      .getByText(/Adv\. X-ray Anal\./)
      .waitFor();
    await page.keyboard.press('Enter');
    const place = page.getByRole('region', { name: 'At one place of the map' });
    await place.getByText('1015 °C, pO₂ 0.21 atm', { exact: false }).waitFor();
    await place.getByRole('table', { name: 'Odds at this composition' }).waitFor();
    await page.getByRole('button', { name: /Sources of the \d+ published lines/ }).click();
    await page
      .getByRole('table', { name: 'Published lines and points' })
      .getByText(/Mathews, K\.T\. Jacob/)
      .first()
      .waitFor();
  });

  it('lays the line of a reaction over, with its spread, and takes published ones away', async () => {
    await page.getByLabel('Line of a reaction').selectOption({ label: '123 = 211 + liquid' });
    await mapIsDrawn();
    await map().getByText('123 = 211 + liquid ± spread', { exact: true }).waitFor();
    const before = await map().locator('[data-mark]').count();
    await page.getByRole('checkbox', { name: 'published, bulk' }).uncheck();
    await map().getByText('published line', { exact: true }).waitFor({ state: 'hidden' });
    expect(await map().locator('[data-mark]').count()).toBeLessThan(before);
  });

  it('says in words when liquid appears and vanishes along a film’s path', async () => {
    await page.getByLabel('Path of a film over the map').selectOption({ label: 'F1: conversion' });
    const along = page.getByRole('region', { name: 'Liquid along the path' });
    await along
      .getByText(/^Liquid becomes likely at 9\d\d °C in 0\.21 atm, .* \(step 1, ramp\)\.$/)
      .waitFor();
    await along
      .getByText(/^Liquid is likely gone at [89]\d\d °C in 0\.21 atm, .* \(step 2, cool\)\.$/)
      .waitFor();
    await along.getByRole('img', { name: /^Liquid along F1: conversion/ }).waitFor();
    expect(await faultsOf()).toEqual([]);
  });

  it('turns to compositions at one pressure', async () => {
    await page.getByText('Against composition').click();
    await mapIsDrawn();
    await map().getByText('Way from Dy 1 : Ba 3 : Cu 6 to Ba 3 : Cu 7').waitFor();
    await page.getByLabel('To cation ratio').fill('nonsense');
    await page.getByLabel('To cation ratio').press('Enter');
    await page.getByText(/is not the symbol of an element|Expected three amounts/).waitFor();
    expect(await faultsOf()).toEqual([]);
    expect(watched.complaints).toEqual([]);
  });

  it('of a series without films starts at 1:3:6 and has no path to choose', async () => {
    await openMap(emptySeriesId);
    expect(await page.getByLabel('Cation ratio').inputValue()).toBe('Dy 1 : Ba 3 : Cu 6');
    expect(await page.getByLabel('Path of a film over the map').isDisabled()).toBe(true);
    await page.getByText('None yet. A point needs its source').waitFor();
  });

  it('takes a composition from the address, and refuses in words what no diagram can answer', async () => {
    await openMap(emptySeriesId, '?ratio=1:2:3');
    expect(await page.getByLabel('Cation ratio').inputValue()).toBe('Dy 1 : Ba 2 : Cu 3');
    await page.getByLabel('Cation ratio').fill('Nb 1');
    await page.getByLabel('Cation ratio').press('Enter');
    await map().getByRole('alert').waitFor();
    expect(watched.complaints).toEqual([]);
  });
});

describe('a published point of one’s own', () => {
  it('needs its source, is asked about K and about a twin, and then stands in the map', async () => {
    await openMap();
    await page.getByRole('button', { name: 'Add a published point' }).click();
    const form = page.getByRole('form', { name: 'New published point' });
    await form.getByLabel('Name of the point').fill('first melting');
    await form.getByLabel('Temperature, °C').fill('1583');
    await form.getByLabel('Oxygen pressure', { exact: true }).fill('0.1');
    await form.getByLabel('Phases there').fill('123 + liquid');
    await form.getByText(/Was it meant in K, which is 1310 °C\?/).waitFor();
    await form.getByLabel('Temperature, °C').fill('940');
    await form.getByRole('button', { name: 'Keep' }).click();
    await form.getByText(/New published point, source: Found nothing/).waitFor();
    await form.getByLabel('Source').fill('A. Author, J. Test 1 (1999) 2');
    await form.getByRole('button', { name: 'Keep' }).click();
    const listed = page.getByRole('table', { name: 'Points that you added' });
    await listed.getByText('940 °C, 0.1 atm').waitFor();
    await map().getByText('point you added', { exact: true }).waitFor();

    await page.getByRole('button', { name: 'Add a published point' }).click();
    await form.getByLabel('Name of the point').fill('the same again');
    await form.getByLabel('Temperature, °C').fill('940');
    await form.getByLabel('Oxygen pressure', { exact: true }).fill('0.1');
    await form.getByLabel('Phases there').fill('liquid + 123');
    await form.getByLabel('Source').fill('B. Author');
    await form.getByRole('button', { name: 'Keep' }).click();
    await form.getByText(/a point like it: Found 'first melting'/).waitFor();
    await form.getByRole('checkbox').check();
    await form.getByRole('button', { name: 'Keep' }).click();
    await listed.getByText('the same again').waitFor();
    expect(await faultsOf()).toEqual([]);
  });

  it('is removed and brought back', async () => {
    const listed = page.getByRole('table', { name: 'Points that you added' });
    await page.getByRole('button', { name: 'Remove point the same again' }).click();
    await listed.getByText('the same again').waitFor({ state: 'hidden' });
    await page
      .getByRole('alert')
      .filter({ hasText: 'Removed point the same again' })
      .getByRole('button', { name: 'Undo' })
      .click();
    await listed.getByText('the same again').waitFor();
    expect(watched.complaints).toEqual([]);
  });
});
