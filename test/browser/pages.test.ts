// Every page of the demonstration series, which an empty store loads by itself: what it says of the data, whether people
// who use a keyboard or a screen reader can use it, in both widths and both colours, and its figures as files.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import AxeBuilder from '@axe-core/playwright';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { SeriesView } from '../../src/records/series-view.ts';
import { type ServerProcess, startServer, storeFolder } from './server-process.ts';
import { oddsAreDrawn } from './steps.ts';
import { openBrowser, openPage } from './watched-page.ts';

const PICTURES = join(import.meta.dirname, '..', '..', 'docs', 'pictures');
const INVENTED = 'Invented data: a demonstration, no real film was measured';

let browser: Browser;
let server: ServerProcess;
let seriesId: string;
/** address of each page, by its name */
let addresses: [name: string, path: string][];
const store = storeFolder();

beforeAll(async () => {
  [browser, server] = await Promise.all([openBrowser(), startServer(store.path, { hasDemo: true })]);
  const [series] = (await (await fetch(`${server.url}/api/series`)).json()) as { id: string }[];
  seriesId = series!.id;
  const view = (await (await fetch(`${server.url}/api/series/${seriesId}`)).json()) as SeriesView;
  const of = `/series/${seriesId}`;
  const film = view.films.find(({ body }) => body.label === 'D07')!;
  const kinds = new Map(view.measurements.map(({ id, body }) => [body.mapping.kind, id]));
  addresses = [
    ['series', of],
    ['target', `${of}/target?ratio=1:2.2:3.4`],
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

const addressOf = (name: string): string => server.url + addresses.find(([each]) => each === name)![1];

/** Opens a page and waits until what it computes and reads is there. */
async function open(page: Page, name: string): Promise<void> {
  await page.goto(addressOf(name));
  await page.getByText(INVENTED).waitFor();
  if (name === 'series') await oddsAreDrawn(page);
  if (name === 'target') await page.getByRole('table', { name: 'Powders to weigh' }).waitFor();
  if (name === 'history') await page.getByRole('button', { name: /^Undo/ }).first().waitFor();
  await page.waitForLoadState('networkidle');
}

describe('the demonstration', () => {
  it('is loaded into an empty store, with a measurement of every kind', () => {
    expect(addresses.map(([name]) => name).sort()).toEqual(
      [
        'series',
        'target',
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
      ].sort(),
    );
  });

  it('says on every page and in the list of series that it is invented', async () => {
    const { page, close } = await openPage(browser);
    await page.goto(server.url);
    await page.getByText('(invented data)').waitFor();
    for (const [name] of addresses) await open(page, name);
    await close();
  });

  it('draws the odds, the films and the proposals, and opens a film from its mark by keyboard', async () => {
    const { page, close } = await openPage(browser);
    await open(page, 'series');
    const triangle = page.getByRole('region', { name: 'Triangle of compositions' });
    const marks = triangle.getByRole('button', { name: /^(D\d\d|Dy )/ });
    expect(await marks.count()).toBe(15); // 12 films, 3 proposals
    await triangle.locator('[data-mark][tabindex="0"]').focus();
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { level: 1, name: /What did we do to it/ }).waitFor();
    await close();
  });
});

describe.each([
  [1440, 'light'],
  [1440, 'dark'],
  [900, 'light'],
  [900, 'dark'],
] as const)('at %d px in %s colours', (width, colorScheme) => {
  it('every page is free of faults that a checker of accessibility sees, of complaints and of sideways scrolling', async () => {
    const { page, complaints, close } = await openPage(browser, {
      viewport: { width, height: 900 },
      colorScheme,
    });
    const faults: string[] = [];
    for (const [name] of [['all series'], ...addresses] as const) {
      if (name === 'all series') {
        await page.goto(server.url);
        await page.getByText('(invented data)').waitFor();
      } else {
        await open(page, name!);
      }
      const { violations } = await new AxeBuilder({ page }).analyze();
      faults.push(
        ...violations.map(
          ({ id, impact, nodes }) =>
            `${name}: ${id} (${impact}) ${nodes
              .slice(0, 3)
              .map(({ html, failureSummary }) => `${html.slice(0, 200)} ${failureSummary}`)
              .join(' | ')}`,
        ),
      );
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
      if (wide > 0) faults.push(`${name}: ${wide} px wider than the window`);
      faults.push(...complaints.splice(0).map((complaint) => `${name}: ${complaint}`));
      if (process.env.PERITECT_PICTURES === '1' && width === 1440 && colorScheme === 'light') {
        const picture = {
          series: 'series',
          film: 'film',
          target: 'target',
          'diffraction scan': 'measurement',
        }[name!];
        if (picture) await page.screenshot({ path: join(PICTURES, `${picture}-page.png`) });
      }
    }
    expect(faults).toEqual([]);
    await close();
  });
});

describe('the keyboard', () => {
  it('comes first to the way past the menu, which leads to the content', async () => {
    const { page, close } = await openPage(browser);
    await open(page, 'series');
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
    await close();
  });

  it.each([
    ['series', ['Record a run', 'Ask for the next three targets', 'D07', 'Add criterion', 'Save figure']],
    ['target', ['Add a powder', 'Keep as target', 'Print the sheet']],
    ['record', ['Copy last run (R11)', 'Name 4 pieces', 'Add a film']],
    ['files', ['Choose files']],
    ['past films', ['Choose a file']],
    ['film', ['Judge again', 'Add a piece', 'Drop files on this piece']],
    ['resistance', ['Save figure', 'Reduce again']],
  ] as const)('reaches the main actions of the %s page', async (name, actions) => {
    const { page, close } = await openPage(browser);
    await open(page, name);
    const reached = new Set<string>();
    for (let i = 0; i < 150; i++) {
      await page.keyboard.press('Tab');
      const text = await page.evaluate(() => document.activeElement?.textContent?.trim() ?? '');
      reached.add(text);
      if (actions.every((action) => reached.has(action))) break;
    }
    expect([...reached]).toEqual(expect.arrayContaining([...actions]));
    await close();
  });

  it('closes a menu with Escape and comes back to its button', async () => {
    const { page, close } = await openPage(browser);
    await open(page, 'resistance');
    const opener = page.getByRole('button', { name: 'Save figure' });
    await opener.focus();
    await page.keyboard.press('Enter');
    await page.getByRole('menuitem', { name: 'SVG' }).waitFor();
    await page.keyboard.press('Escape');
    await page.getByRole('menuitem', { name: 'SVG' }).waitFor({ state: 'hidden' });
    expect(await opener.evaluate((button) => button === document.activeElement)).toBe(true);
    await close();
  });
});

describe('a figure as a file', () => {
  it.each(['series', 'resistance', 'current-voltage'])(
    'leaves the %s page as SVG, PNG and CSV',
    async (name) => {
      const { page, complaints, close } = await openPage(browser);
      await open(page, name);
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
        { series: /at%|share|odds/i, resistance: /\(K\).*\(Ω\)/, 'current-voltage': /\(A\).*V\)/ }[name]!,
      );
      expect(rows.length).toBeGreaterThan(20);
      expect(complaints).toEqual([]);
      await close();
    },
  );
});
