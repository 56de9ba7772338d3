// How long a step of the temperature slider takes until the triangle is on the screen again, in headless Chromium: first the quick
// picture, then the odds of all members, which wait until the slider rests. From the key's event to the frame after the change.
// Usage: npm run bench:pages.
import { cpus } from 'node:os';
import type { Page } from 'playwright-core';
import { startServer, storeFolder } from '../../test/browser/server-process.ts';
import { oddsAreDrawn } from '../../test/browser/steps.ts';
import { openBrowser, openPage } from '../../test/browser/watched-page.ts';

const WARM_UPS = 3;
const STEPS = 15;
const SHAPES = [
  { name: 'low oxygen: 800 degC, 30 mTorr', temperatureC: 800, mTorr: 30 },
  { name: 'middle: 900 degC, 0.1 atm', temperatureC: 900, mTorr: 76_000 },
  { name: 'much melt: 980 degC, 0.21 atm', temperatureC: 980, mTorr: 159_600 },
];

interface StepTimes {
  readonly quickMs: number;
  readonly wholeMs: number;
}

/** One step of the slider, timed inside the page. */
async function step(page: Page, key: 'ArrowRight' | 'ArrowLeft', wantedC: number): Promise<StepTimes> {
  await page.evaluate((wanted) => {
    const section = document.querySelector('section[aria-label="Triangle of compositions"]')!;
    const times: { start?: number; quick?: number; whole?: number } = {};
    Object.assign(window, { stepTimes: times });
    document.addEventListener('keydown', ({ timeStamp }) => (times.start ??= timeStamp), {
      capture: true,
      once: true,
    });
    const look = (): void => {
      const caption = [...section.querySelectorAll('text')].find((each) =>
        each.textContent?.startsWith(`${wanted} °C`),
      );
      if (!caption) return;
      const name = caption.textContent!.includes('quick picture') ? 'quick' : 'whole';
      if (times[name] !== undefined) return;
      times[name] = Number.NaN; // seen; its frame follows
      requestAnimationFrame(() => setTimeout(() => (times[name] = performance.now())));
      if (name === 'whole') observer.disconnect();
    };
    const observer = new MutationObserver(look);
    observer.observe(section, { subtree: true, childList: true, characterData: true });
  }, wantedC);
  await page.keyboard.press(key);
  const handle = await page.waitForFunction(() => {
    const { stepTimes: times } = window as unknown as { stepTimes: Record<string, number> };
    return times.whole! > 0 ? times : null;
  });
  const { start, quick, whole } = (await handle.jsonValue()) as Record<string, number>;
  return { quickMs: (quick ?? whole)! - start!, wholeMs: whole! - start! };
}

function summary(values: readonly number[]): string {
  const sorted = values.toSorted((a, b) => a - b);
  return `minimum ${sorted[0]!.toFixed(0)} ms, median ${sorted[sorted.length >> 1]!.toFixed(0)} ms, maximum ${sorted.at(-1)!.toFixed(0)} ms`;
}

const store = storeFolder();
const server = await startServer(store.path, { hasDemo: true });
const browser = await openBrowser();
try {
  const [series] = (await (await fetch(`${server.url}/api/series`)).json()) as { id: string }[];
  const { page } = await openPage(browser);
  await page.goto(`${server.url}/series/${series!.id}`);
  await oddsAreDrawn(page);
  for (const { name, temperatureC, mTorr } of SHAPES) {
    for (const [label, value] of [
      ['Surface temperature, °C', temperatureC],
      ['Oxygen pressure, mTorr', mTorr],
    ] as const) {
      const field = page.getByRole('textbox', { name: label });
      await field.fill(String(value));
      await field.blur();
    }
    await oddsAreDrawn(page);
    await page.getByRole('slider', { name: 'Surface temperature, °C' }).focus();
    const times: StepTimes[] = [];
    for (let i = -WARM_UPS; i < STEPS; i++) {
      const isUp = (i + WARM_UPS) % 2 === 0; // the slider goes to and fro
      const time = await step(
        page,
        isUp ? 'ArrowRight' : 'ArrowLeft',
        isUp ? temperatureC + 1 : temperatureC,
      );
      if (i >= 0) times.push(time);
      await page.waitForTimeout(200);
    }
    console.log(name);
    console.log(`  quick picture: ${summary(times.map(({ quickMs }) => quickMs))}`);
    console.log(`  odds of all members, slider at rest: ${summary(times.map(({ wholeMs }) => wholeMs))}`);
  }
  console.log(`${cpus().length} x ${cpus()[0]?.model ?? 'unknown processor'}, Chromium ${browser.version()}`);
} finally {
  await browser.close();
  await server.stop();
  store.remove();
}
