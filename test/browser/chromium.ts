import { existsSync } from 'node:fs';
import { chromium, type Browser, type BrowserContextOptions, type Locator, type Page } from 'playwright-core';

const PLACES = [
  process.env['CHROMIUM'],
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
];

/** Where a browser is; undefined when there is none. With CI=true a missing browser is a failure, not a skip. */
export const browserPath: string | undefined = PLACES.find((path) => path !== undefined && existsSync(path));

if (browserPath === undefined) {
  const text = `No browser found (looked for ${PLACES.filter(Boolean).join(', ')}; set CHROMIUM to its path).`;
  if (process.env['CI'] === 'true') throw new Error(text);
  console.warn(`SKIPPED: ${text} The browser tests did not run.`);
}

export const launch = (): Promise<Browser> =>
  chromium.launch({
    executablePath: browserPath,
    args: [
      '--no-sandbox',
      '--headless=new',
      '--disable-gpu',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      '--no-first-run',
    ],
  });

export interface OpenPage {
  readonly page: Page;
  /** Every address asked for. */
  readonly requests: string[];
  /** Errors of the console and of scripts, content-policy reports among them. */
  readonly errors: string[];
}

/** Opens the page in a context of its own and waits until the full strobe analysis stands. */
export async function openPage(
  browser: Browser,
  url: string,
  options: BrowserContextOptions = {},
): Promise<OpenPage> {
  const context = await browser.newContext({
    viewport: { width: 1280, height: 900 },
    reducedMotion: 'reduce',
    ...options,
  });
  const page = await context.newPage();
  page.setDefaultTimeout(45_000);
  const requests: string[] = [];
  const errors: string[] = [];
  page.on('request', (request) => requests.push(request.url()));
  page.on('pageerror', (error) => errors.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') errors.push(message.text());
  });
  await page.goto(url);
  await settled(page);
  return { page, requests, errors };
}

/** Waits until what is shown belongs to the inputs on the page and nothing is being computed. */
export async function settled(page: Page): Promise<void> {
  await page.waitForSelector('.plan:not(.stale) .readouts dd', { state: 'attached' });
  await page.waitForSelector('[data-work=idle]', { state: 'attached' });
}

/** Where something is; a chart that is being drawn anew has no place for a moment. */
export async function boxOf(what: Locator): Promise<{ x: number; y: number; width: number; height: number }> {
  for (let tries = 0; tries < 100; tries++) {
    const box = await what.boundingBox();
    if (box) return box;
    await what.page().waitForTimeout(100);
  }
  throw new Error('What was looked for never got a place on the page.');
}
