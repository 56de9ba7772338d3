// Chromium and its pages; whatever a page complains of is kept, so that a test can say that there was nothing.
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
import { browserPath } from '../../scripts/ensure-browser.ts';

/** Waits for what a loaded two-core machine may take long over. */
export const PATIENCE_MS = 60_000;

/** Starts Chromium; a test must fail where it is missing, not pass unseen. */
export async function openBrowser(): Promise<Browser> {
  const executablePath = browserPath();
  if (!executablePath) {
    throw new Error(
      'Chromium is missing, so no page can be tested. Install it as root: apt-get install -y --no-install-recommends chromium',
    );
  }
  return chromium.launch({ executablePath });
}

export interface WatchedPage {
  readonly page: Page;
  /** console errors, uncaught errors and refusals of the content policy so far */
  readonly complaints: string[];
  close(): Promise<void>;
}

/** A page in a context of its own: 1440 x 900, light, unless told otherwise. */
export async function openPage(browser: Browser, options: BrowserContextOptions = {}): Promise<WatchedPage> {
  const context = await browser.newContext({
    viewport: { width: 1440, height: 900 },
    colorScheme: 'light',
    reducedMotion: 'reduce',
    timezoneId: 'UTC',
    acceptDownloads: true,
    ...options,
  });
  context.setDefaultTimeout(PATIENCE_MS);
  const complaints: string[] = [];
  const page = await context.newPage();
  page.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning')
      complaints.push(`${message.type()}: ${message.text()}`);
  });
  page.on('pageerror', (error) => complaints.push(`uncaught: ${error.message}`));
  await page.addInitScript(() => {
    document.addEventListener('securitypolicyviolation', ({ violatedDirective, blockedURI }) =>
      console.error(`content policy: ${violatedDirective} refused ${blockedURI}`),
    );
  });
  return { page, complaints, close: () => context.close() };
}
