// What the pages show when things are not as usual: nothing yet, very much, very long names, a server that is gone, and
// work that takes its time.
import AxeBuilder from '@axe-core/playwright';
import type { Browser, Page } from 'playwright-core';
import { v7 as newId } from 'uuid';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { currentFile } from '../simulate/instrument-files.ts';
import { freePort, type ServerProcess, startServer, storeFolder } from './server-process.ts';
import { chooseFiles, oddsAreDrawn } from './steps.ts';
import { openBrowser, openPage, PATIENCE_MS, type WatchedPage } from './watched-page.ts';

vi.setConfig({ testTimeout: 3 * PATIENCE_MS });

let browser: Browser;
let server: ServerProcess;
let watched: WatchedPage;
let page: Page;
let port: number;
const store = storeFolder();

beforeAll(async () => {
  port = await freePort();
  browser = await openBrowser();
  server = await startServer(store.path, { port });
  watched = await openPage(browser, { viewport: { width: 900, height: 900 } });
  page = watched.page;
});
afterAll(async () => {
  await browser?.close();
  await server?.stop();
  store.remove();
});

async function send(path: string, body: object): Promise<unknown> {
  const response = await fetch(server.url + path, {
    method: 'POST',
    headers: { 'content-type': 'application/json', 'x-peritect': '1' },
    body: JSON.stringify(body),
  });
  if (!response.ok) throw new Error(`${path}: ${await response.text()}`);
  return response.json();
}

async function create(kind: string, seriesId: string | null, body: object, id = newId()): Promise<string> {
  await send(`/api/records/${kind}`, { id, changeId: newId(), seriesId: seriesId ?? id, body });
  return id;
}

async function createSeries(label: string): Promise<string> {
  return create('series', null, {
    label,
    aim: '',
    isInvented: false,
    rareEarths: ['Gd'],
    growth: { temperatureC: 880, po2Atm: 1e-3, meltOffsetJPerMol: 0 },
    coil: null,
    criteria: [
      { kind: 'number', fact: 'tcMidpointK', comparison: 'at least', wanted: 90, relativeTo: 'nothing' },
    ],
    benchmarkPieceId: null,
    controlPieceId: null,
    note: '',
  });
}

async function createFilm(seriesId: string, label: string, cations: object): Promise<string> {
  return create('film', seriesId, {
    label,
    runId: null,
    cations,
    substrate: 'SrTiO3',
    substrateLot: '',
    position: '',
    thicknessNm: null,
    depositionRateNmPerS: null,
    conversionRateNmPerS: null,
    overallRateNmPerS: null,
    note: '',
  });
}

const createPiece = (seriesId: string, filmId: string, label: string): Promise<string> =>
  create('piece', seriesId, { label, filmId, lengthMm: null, widthMm: null, note: '' });

/** What a checker of accessibility finds, and by how much the page is wider than its window. */
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

describe('nothing yet', () => {
  it('an empty store says so and shows the way on', async () => {
    await page.goto(server.url);
    await page.getByText('There is no series yet.').waitFor();
    expect(await page.getByRole('button', { name: 'Make series' }).isVisible()).toBe(true);
    expect(await faultsOf()).toEqual([]);
  });

  it('a series without films shows its odds and how films come in', async () => {
    const seriesId = await createSeries('Nothing tried yet');
    await page.goto(`${server.url}/series/${seriesId}`);
    await oddsAreDrawn(page);
    await page.getByText('No film is recorded yet.').waitFor();
    expect(await faultsOf()).toEqual([]);
    await page.getByRole('link', { name: 'read a table of past films' }).click();
    await page.getByRole('heading', { level: 1, name: 'What do earlier films say?' }).waitFor();
  });

  it('an address that leads nowhere says so in words', async () => {
    await page.goto(`${server.url}/series/${newId()}`);
    await page.getByRole('alert').waitFor();
    await page.getByRole('alert').getByText('There is no record').waitFor();
  });
});

describe('very much, and very long', () => {
  const LONG = `Gd film ${'grown on the tape of the long length, '.repeat(6)}`.slice(0, 197);
  let seriesId: string;
  let filmId: string;

  it('forty films with names of 200 letters are ranked in a table that scrolls by itself', async () => {
    seriesId = await createSeries(
      `${'A series whose name is as long as a name may be; '.repeat(5)}`.slice(0, 200),
    );
    for (let i = 0; i < 40; i++) {
      const name = `${LONG} ${String(i).padStart(2, '0')}`;
      filmId = await createFilm(seriesId, name, { Gd: 1, Ba: 2 + i / 80, Cu: 3 + i / 30 });
      const pieceId = await createPiece(seriesId, filmId, name);
      await create('typedFacts', seriesId, {
        pieceId,
        stateTreatmentId: null,
        numbers: [
          {
            name: 'tcMidpointK',
            value: 86 + i / 5,
            standardUncertainty: 0.2,
            origin: 'typed',
            method: 'resistance, 50 % of the normal line',
          },
        ],
        phases: [],
        source: 'typed for this test',
        note: '',
      });
    }
    await send(`/api/series/${seriesId}/judge`, { changeId: newId(), pieceIds: null });
    await page.goto(`${server.url}/series/${seriesId}`);
    await oddsAreDrawn(page);
    const rows = page.getByRole('table').filter({ hasText: 'Rank' }).getByRole('row');
    expect(await rows.count()).toBe(41);
    const outcomes = (await rows.allTextContents())
      .slice(1)
      .map((text) => /passes|cannot say|falls short/.exec(text)?.[0]);
    expect(outcomes.filter((outcome) => outcome === 'passes').length).toBeGreaterThan(10);
    const order = ['passes', 'cannot say', 'falls short'];
    const places = outcomes.map((outcome) => order.indexOf(outcome!));
    expect(places).toEqual([...places].sort());
    expect(await faultsOf()).toEqual([]);
  });

  it('the pages of a long-named film fit the window', async () => {
    for (const path of [`films/${filmId}`, 'record', 'files', 'history', 'target']) {
      await page.goto(`${server.url}/series/${seriesId}/${path}`);
      await page.getByRole('heading', { level: 1 }).waitFor();
      const excess = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
      expect(excess, path).toBeLessThanOrEqual(0);
    }
    expect(watched.complaints.filter((complaint) => !complaint.includes('404'))).toEqual([]);
  });
});

describe('work that takes its time', () => {
  let seriesId: string;

  beforeAll(async () => {
    seriesId = await createSeries('Slow line');
    const filmId = await createFilm(seriesId, 'S1', { Gd: 1, Ba: 2, Cu: 3 });
    await createPiece(seriesId, filmId, 'S1-a');
  });

  it('a series that is long in coming says that it is being read', async () => {
    const gate = Promise.withResolvers<void>();
    await page.route(`**/api/series/${seriesId}`, async (route) => {
      await gate.promise;
      await route.continue();
    });
    await page.goto(`${server.url}/series/${seriesId}`);
    await page.getByText('Reading the series ...').waitFor();
    gate.resolve();
    await oddsAreDrawn(page);
    await page.unroute(`**/api/series/${seriesId}`);
  });

  it('a file that is long in reading shows its progress, and can be cancelled and tried again', async () => {
    const gate = Promise.withResolvers<void>();
    await page.route('**/api/imports/look', async (route) => {
      await gate.promise;
      await route.continue().catch(() => {}); // the page has gone on
    });
    await page.goto(`${server.url}/series/${seriesId}/files`);
    const file = currentFile({ pieceLabel: 'S1-a', icA: 0.3, powerIndex: 20, tapDistanceM: 2e-3 });
    await chooseFiles(page, [file]);
    await page.getByRole('progressbar', { name: `${file.name} sent` }).waitFor();
    await page.getByText('looking', { exact: true }).waitFor();
    await page.getByRole('button', { name: `Cancel ${file.name}` }).click();
    await page.getByText('Cancelled. Nothing of it was kept.').waitFor();
    gate.resolve();
    await page.unroute('**/api/imports/look');
    await page.getByRole('button', { name: `Try ${file.name} again` }).click();
    await page.getByText(/The file name holds the label S1-a/).waitFor();
  });
});

describe('two pages on one record', () => {
  it('show what the other wrote before this one is kept over it, and take it where that is wanted', async () => {
    const seriesId = await createSeries('Shared line');
    const filmId = await createFilm(seriesId, 'T1', { Gd: 1, Ba: 2, Cu: 3 });
    await page.goto(`${server.url}/series/${seriesId}/films/${filmId}`);
    await page.getByRole('button', { name: 'Edit film T1' }).click();
    const form = page.getByRole('form', { name: 'Film T1' });
    await form.getByLabel('Thickness, nm').fill('400,5');
    const stored = (await (await fetch(`${server.url}/api/records/film/${filmId}`)).json()) as {
      revision: number;
      body: object;
    };
    const body = {
      ...stored.body,
      thicknessNm: { value: 410, standardUncertainty: 5 },
      note: 'cracked at the edge',
    };
    const put = await fetch(`${server.url}/api/records/film/${filmId}`, {
      method: 'PUT',
      headers: {
        'content-type': 'application/json',
        'x-peritect': '1',
        'if-match': String(stored.revision),
      },
      body: JSON.stringify({ changeId: newId(), body }),
    });
    expect(put.status).toBe(200);
    await form.getByRole('button', { name: 'Keep', exact: true }).click();
    const differences = form.getByRole('table', { name: 'Fields that differ' });
    await differences.getByRole('row', { name: /thickness 410 ± 5 400,5/ }).waitFor();
    await differences.getByRole('row', { name: /note cracked at the edge not stated/ }).waitFor();
    expect(await faultsOf()).toEqual([]);
    await form.getByRole('button', { name: 'Take what the record says: note' }).click();
    await form.getByRole('button', { name: 'Keep mine' }).click();
    await form.waitFor({ state: 'detached' });
    await page.getByText('cracked at the edge').waitFor();
    await page.getByText('400.5 nm').waitFor();
  });
});

describe('a condition outside its range', () => {
  it('is refused in words and changes nothing, and the slider sets the field right again', async () => {
    const seriesId = await createSeries('Hot line');
    await page.goto(`${server.url}/series/${seriesId}`);
    const temperature = page.getByRole('textbox', { name: 'Surface temperature, °C' });
    await temperature.fill('3000');
    await page
      .getByText("Found '3000'; expected a number from 300 to 1400 °C. Still taken: 880 °C.")
      .waitFor();
    const pressure = page.getByRole('textbox', { name: 'Oxygen pressure, mTorr' });
    await pressure.fill('0');
    await page.getByText(/Found '0'; expected a number from 0.0001 .*its logarithm is taken/).waitFor();
    expect(await faultsOf()).toEqual([]);
    await page.getByRole('slider', { name: 'Surface temperature, °C' }).press('ArrowRight');
    expect(await temperature.inputValue()).toBe('881');
    await temperature.fill('900,5');
    await page
      .getByRole('region', { name: 'Triangle of compositions' })
      .getByText(/^900.5 °C/)
      .waitFor();
  });
});

describe('a server that is gone', () => {
  it('is told in words, keeps what was typed, and once back takes it without doing anything twice', async () => {
    const seriesId = await createSeries('Broken line');
    await page.goto(`${server.url}/series/${seriesId}/record`);
    await page.getByLabel('Name of the run').fill('G1');
    await page.getByRole('textbox', { name: 'Substrate', exact: true }).fill('LaAlO3');
    await page.getByRole('textbox', { name: 'Note' }).first().fill('typed while the server was still there');
    await server.stop();
    await page.getByRole('button', { name: 'Record 2 records' }).click();
    await page.getByRole('alert').getByText('Peritect does not answer').waitFor();
    await page.getByRole('alert').getByText('nothing typed here is lost').waitFor();
    expect(await page.getByLabel('Name of the run').inputValue()).toBe('G1');
    server = await startServer(store.path, { port });
    await page.getByRole('button', { name: 'Record 2 records' }).click();
    await page.getByRole('heading', { level: 2, name: 'Film G1' }).waitFor();
    await page.getByText('typed while the server was still there').waitFor();
    const view = (await (await fetch(`${server.url}/api/series/${seriesId}`)).json()) as Record<
      string,
      unknown[]
    >;
    expect([view.runs!.length, view.films!.length]).toEqual([1, 1]);
  });
});
