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

/** ms that anything on the page may take on a machine that is slow and busy. */
const LONGEST = 110_000;

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
  const opened = await openJudged(browser, url, options);
  await settled(opened.page);
  return opened;
}

/** As `openPage`, but waits for the quick judgement only: for what depends neither on the corners nor on the best instant. */
export async function openJudged(
  browser: Browser,
  url: string,
  options: BrowserContextOptions = {},
): Promise<OpenPage> {
  const context = await browser.newContext({
    viewport: { width: 1280, height: 900 },
    reducedMotion: 'reduce',
    // What is kept for later visits is looked at in offline.test.ts alone.
    serviceWorkers: 'block',
    ...options,
  });
  const page = await context.newPage();
  // A slow machine with other work beside takes half a minute for all worst cases of a large design.
  page.setDefaultTimeout(LONGEST);
  const requests: string[] = [];
  const errors: string[] = [];
  page.on('request', (request) => requests.push(request.url()));
  page.on('pageerror', (error) => errors.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') errors.push(message.text());
  });
  await page.goto(url);
  await judged(page);
  return { page, requests, errors };
}

/** Waits until the quick judgement belongs to the inputs on the page; the corners may still be sought. */
export async function judged(page: Page): Promise<void> {
  await page.waitForSelector('.cell[data-set=nominal]:not(.old, .standing-unknown)', { state: 'attached' });
}

/** Waits until a change made a moment ago is taken up, then until it is judged quickly. */
export async function judgedAfter(page: Page): Promise<void> {
  await nextFrame(page);
  await judged(page);
}

/** Waits until the corners, and with them all that decides, belong to the inputs on the page; what the core could be follows. */
export async function settled(page: Page): Promise<void> {
  await page.waitForSelector('main[data-old=false]', { state: 'attached' });
  await page.waitForSelector('.cell[data-set=corners]:not(.old, .standing-unknown)', { state: 'attached' });
  // What has come is drawn in the next frame.
  await nextFrame(page);
}

/** Waits until nothing is being computed: what the core could be is known too. */
export async function atRest(page: Page): Promise<void> {
  await page.waitForSelector('main[data-work=idle][data-old=false]', { state: 'attached' });
  await settled(page);
}

/** Waits until a change made a moment ago is taken up, then until its corners are computed. */
export async function settledAfter(page: Page): Promise<void> {
  await nextFrame(page);
  await settled(page);
}

/** The page draws what has changed in the next frame. */
export const nextFrame = (page: Page): Promise<void> =>
  page.evaluate(
    () =>
      new Promise<void>((resolve) => {
        requestAnimationFrame(() => requestAnimationFrame(() => resolve()));
      }),
  );

export type PlaceTitle = 'Plan' | 'Bench' | 'Learn' | 'Words';

/** Goes to a place by its link in the name row. */
export async function goTo(page: Page, title: PlaceTitle): Promise<void> {
  const more = page.locator('.more-menu > summary');
  // On a phone the places stand in a menu.
  if (await more.isVisible()) await more.click();
  await page.getByRole('link', { name: title, exact: true }).click();
  await page.locator(`main[data-place=${title.toLowerCase()}]`).waitFor();
  await page.locator(title === 'Plan' ? '.verdict-row' : '.other-place h1').waitFor();
  await page.locator(title === 'Plan' ? '.other-place' : '.verdict-row').waitFor({ state: 'hidden' });
}

export type DrawerName = 'studies' | 'propose' | 'pinned' | 'inputs' | 'cases' | 'warnings';

/** Opens a drawer of the shelf. */
export async function openDrawer(page: Page, name: DrawerName): Promise<Locator> {
  await page.locator(`[data-tab=${name}]`).click();
  const drawer = page.locator(`[data-drawer=${name}]`);
  await drawer.waitFor();
  await drawer.getByText('Being fetched.').waitFor({ state: 'hidden' });
  return drawer;
}

/** Opens the card of a part of the signal path. */
export async function openPart(page: Page, part: string): Promise<Locator> {
  await page.locator(`[data-part=${part}]`).click();
  const card = page.locator('.part-card');
  await card.waitFor();
  return card;
}

/** Types into an input of the open card and commits it. */
export async function typeInput(page: Page, label: string, text: string): Promise<void> {
  const field = page.locator('.part-card').getByLabel(label, { exact: true });
  await field.fill(text);
  await field.press('Enter');
}

export async function openDemo(page: Page, id: string): Promise<void> {
  await page.locator('.design-menu > summary').click();
  await page.locator(`[data-demo=${id}]`).click();
  await settledAfter(page);
}

/** Opens a menu of the name row and presses one of its buttons. */
export async function chooseIn(page: Page, menu: 'design' | 'share' | 'view', name: string): Promise<void> {
  await page.locator(`.${menu}-menu > summary`).click();
  await page.locator(`.${menu}-menu`).getByRole('button', { name, exact: true }).click();
}

/** Opens a design of one's own through the file field. */
export async function openRaw(page: Page, raw: object | string, name = 'mine.json'): Promise<void> {
  const text = typeof raw === 'string' ? raw : JSON.stringify(raw);
  await page
    .locator('#open-file')
    .setInputFiles({ name, mimeType: 'application/json', buffer: Buffer.from(text) });
}

/** Drags by the middle of a grip, in steps, so that every move between is seen. */
export async function drag(page: Page, grip: Locator, by: { x?: number; y?: number }): Promise<void> {
  const box = await boxOf(grip);
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + (by.x ?? 0), y + (by.y ?? 0), { steps: 8 });
  await page.mouse.up();
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
