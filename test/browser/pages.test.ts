// Every page of the demonstration series, which an empty store loads by itself: what it says of the data, whether people
// who use a keyboard or a screen reader can use it, in both widths and both colours, and its figures as files.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import AxeBuilder from '@axe-core/playwright';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import type { SeriesView } from '../../src/records/series-view.ts';
import { type ServerProcess, startServer, storeFolder } from './server-process.ts';
import { oddsAreDrawn } from './steps.ts';
import { openBrowser, openPage, PATIENCE_MS, type WatchedPage } from './watched-page.ts';

vi.setConfig({ testTimeout: 3 * PATIENCE_MS });

const PICTURE_FOLDER = join(import.meta.dirname, '..', '..', 'docs', 'pictures');
/** Pages that the guide shows, by the name of their picture. */
const PICTURES: Partial<Record<string, string>> = {
  series: 'series',
  film: 'film',
  target: 'target',
  path: 'path',
  'diffraction scan': 'measurement',
};
const NAMES = [
  'all series',
  'series',
  'temperature and oxygen',
  'target',
  'path',
  'record',
  'files',
  'past films',
  'history',
  'film',
  'diffraction scan',
  'resistance',
  'magnetic transition',
  'current-voltage',
  'magnetisation loop',
  'chamber log',
];
const INVENTED = 'Invented data: a demonstration, no real film was measured';

let browser: Browser;
let server: ServerProcess;
let watched: WatchedPage;
let page: Page;
/** address of each page, by its name */
let addresses: [name: string, path: string][];
const store = storeFolder();

beforeAll(async () => {
  browser = await openBrowser();
  server = await startServer(store.path, { hasDemo: true });
  const [series] = (await (await fetch(`${server.url}/api/series`)).json()) as { id: string }[];
  const view = (await (await fetch(`${server.url}/api/series/${series!.id}`)).json()) as SeriesView;
  const of = `/series/${series!.id}`;
  watched = await openPage(browser);
  page = watched.page;
  const film = view.films.find(({ body }) => body.label === 'D07')!;
  const kinds = new Map(view.measurements.map(({ id, body }) => [body.mapping.kind, id]));
  addresses = [
    ['all series', '/'],
    ['series', of],
    ['temperature and oxygen', `${of}/temperature-oxygen`],
    ['target', `${of}/target?ratio=1:2.2:3.4`],
    ['path', `${of}/path?planId=${view.pathPlans[0]!.id}`],
    ['record', `${of}/record`],
    ['files', `${of}/files`],
    ['past films', `${of}/past-films`],
    ['history', `${of}/history`],
    ['film', `${of}/films/${film.id}`],
    ...[...kinds].map(([kind, id]): [string, string] => [kind, `${of}/measurements/${id}`]),
  ];
});
afterAll(async () => {
  await browser?.close();
  await server?.stop();
  store.remove();
});

beforeEach(async () => {
  watched.complaints.length = 0;
  await page.setViewportSize({ width: 1440, height: 900 });
  await page.emulateMedia({ colorScheme: 'light' });
});

const addressOf = (name: string): string => server.url + addresses.find(([each]) => each === name)![1];

/** What stands on a page once it has read and computed what it shows. */
const READY: Record<string, string> = {
  'all series': 'button:has-text("Make series")',
  'temperature and oxygen': 'section[aria-label="Map of temperature and oxygen"][aria-busy="false"]',
  target: 'table[aria-label="Powders to weigh"]',
  path: 'section[aria-label="What the path does"]',
  record: 'button:has-text("Copy last run")',
  files: 'button:has-text("Choose files")',
  'past films': 'button:has-text("Choose a file")',
  history: 'button:has-text("Undo")',
  film: 'table[aria-label="Reasons of the verdict"]',
};

/** Opens a page, which must say that its data are invented, and waits until it is complete. */
async function open(name: string): Promise<void> {
  await page.goto(addressOf(name));
  await page.getByText(name === 'all series' ? '(invented data)' : INVENTED).waitFor();
  if (name === 'series') await oddsAreDrawn(page);
  else
    await page
      .locator(READY[name] ?? 'table[aria-label="Numbers read from this curve"]')
      .first()
      .waitFor();
}

describe('the demonstration', () => {
  it('is loaded into an empty store, with a measurement of every kind', () => {
    expect(addresses.map(([name]) => name).sort()).toEqual([...NAMES].sort());
  });

  it('draws the odds, the films and the proposals, and opens a film from its mark by keyboard', async () => {
    await open('series');
    const triangle = page.getByRole('region', { name: 'Triangle of compositions' });
    expect(await triangle.locator('[data-mark]').count()).toBe(15); // 12 films, 3 proposals
    await triangle.locator('[data-mark][tabindex="0"]').focus();
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { level: 1, name: /What did we do to it/ }).waitFor();
  });
});

/** Contrast is the dear part of the check and is the same at every width: once for each colour scheme is enough. */
const VIEWS = [
  { width: 1440, colorScheme: 'light', isContrastChecked: true },
  { width: 900, colorScheme: 'light', isContrastChecked: false },
  { width: 900, colorScheme: 'dark', isContrastChecked: true },
  { width: 1440, colorScheme: 'dark', isContrastChecked: false },
] as const;

describe('in both widths and both colours, the page', () => {
  it.each(NAMES)(
    '%s says that its data are invented, fits the window, and no checker of accessibility complains',
    async (name) => {
      const faults: string[] = [];
      await open(name);
      for (const { width, colorScheme, isContrastChecked } of VIEWS) {
        await page.setViewportSize({ width, height: 900 });
        await page.emulateMedia({ colorScheme });
        await page.locator(`html[data-mantine-color-scheme="${colorScheme}"]`).waitFor();
        const checker = new AxeBuilder({ page }).setLegacyMode(); // no frames here: one run in the page itself
        if (!isContrastChecked) checker.disableRules(['color-contrast']);
        const { violations } = await checker.analyze();
        for (const { id, impact, nodes } of violations)
          for (const { html, failureSummary } of nodes.slice(0, 3))
            faults.push(`${width} ${colorScheme}: ${id} (${impact}) ${html.slice(0, 200)} ${failureSummary}`);
        const excess = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
        if (excess > 0) faults.push(`${width} ${colorScheme}: ${excess} px wider than the window`);
        if (
          process.env.PERITECT_PICTURES === '1' &&
          width === 1440 &&
          colorScheme === 'light' &&
          PICTURES[name]
        )
          await page.screenshot({ path: join(PICTURE_FOLDER, `${PICTURES[name]}-page.png`) });
      }
      expect([...faults, ...watched.complaints]).toEqual([]);
    },
  );
});

describe('the keyboard', () => {
  it('comes first to the way past the menu, which leads to the content', async () => {
    await open('series');
    await page.keyboard.press('Tab');
    const skip = page.getByRole('link', { name: 'To the content' });
    expect(await skip.evaluate((link) => link === document.activeElement)).toBe(true);
    expect((await skip.boundingBox())!.x).toBeGreaterThanOrEqual(0);
    await page.keyboard.press('Enter');
    expect(new URL(page.url()).hash).toBe('#main');
    await page.keyboard.press('Tab');
    const isInside = await page.evaluate(() =>
      document.querySelector('main')!.contains(document.activeElement),
    );
    expect(isInside).toBe(true);
  });

  it.each([
    ['series', ['Record a run', 'Ask for the next three targets', 'D07', 'Add criterion', 'Save figure']],
    ['temperature and oxygen', ['Save figure', 'Add a published point']],
    ['target', ['Add a powder', 'Keep as target', 'Print the sheet']],
    ['record', ['Copy last run (R11)', 'Name 4 pieces', 'Add a film']],
    ['files', ['Choose files']],
    ['past films', ['Choose a file']],
    ['film', ['Judge again', 'Add a piece', 'Drop files on this piece']],
    ['resistance', ['Save figure', 'Reduce again']],
  ] as const)('reaches the main actions of the %s page', async (name, actions) => {
    await open(name);
    const reached = new Set<string>();
    for (let i = 0; i < 150; i++) {
      await page.keyboard.press('Tab');
      const text = await page.evaluate(() => document.activeElement?.textContent?.trim() ?? '');
      reached.add(text);
      if (actions.every((action) => reached.has(action))) break;
    }
    expect([...reached]).toEqual(expect.arrayContaining([...actions]));
  });

  it('closes a menu with Escape and comes back to its button', async () => {
    await open('resistance');
    const opener = page.getByRole('button', { name: 'Save figure' });
    await opener.focus();
    await page.keyboard.press('Enter');
    await page.getByRole('menuitem', { name: 'SVG' }).waitFor();
    await page.keyboard.press('Escape');
    await page.getByRole('menuitem', { name: 'SVG' }).waitFor({ state: 'hidden' });
    expect(await opener.evaluate((button) => button === document.activeElement)).toBe(true);
  });
});

describe('a figure as a file', () => {
  it.each(['series', 'temperature and oxygen', 'resistance', 'current-voltage'])(
    'leaves the %s page as SVG, PNG and CSV',
    async (name) => {
      await open(name);
      const save = async (format: string): Promise<Buffer> => {
        const download = page.waitForEvent('download');
        await page.getByRole('button', { name: 'Save figure' }).first().click();
        await page.getByRole('menuitem', { name: format }).click();
        const file = await download;
        expect(file.suggestedFilename()).toMatch(new RegExp(`\\.${format.toLowerCase()}$`));
        return readFileSync(await file.path());
      };
      const svg = (await save('SVG')).toString('utf8');
      const parsed = await page.evaluate((text) => {
        const document = new DOMParser().parseFromString(text, 'image/svg+xml');
        const root = document.documentElement;
        return {
          isBroken: document.querySelector('parsererror') !== null,
          name: root.nodeName,
          paths: root.querySelectorAll('path').length,
          width: Number(root.getAttribute('width')),
          height: Number(root.getAttribute('height')),
        };
      }, svg);
      expect(parsed).toMatchObject({ isBroken: false, name: 'svg' });
      expect(parsed.paths).toBeGreaterThan(10);

      const png = await save('PNG');
      expect(png.subarray(0, 8)).toEqual(Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]));
      expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([2 * parsed.width, 2 * parsed.height]);
      expect(png.length).toBeGreaterThan(10_000); // a blank picture is smaller

      const [heading, ...rows] = (await save('CSV')).toString('utf8').trim().split(/\r?\n/);
      expect(heading).toMatch(
        {
          series: /at%|share|odds/i,
          'temperature and oxygen': /pO₂ \(atm\),temperature \(°C\).*odds,source/,
          resistance: /\(K\).*\(Ω\)/,
          'current-voltage': /\(A\).*V\)/,
        }[name]!,
      );
      expect(rows.length).toBeGreaterThan(20);
      expect(watched.complaints).toEqual([]);
    },
  );
});
