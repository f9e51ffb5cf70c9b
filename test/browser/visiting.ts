import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll } from 'vitest';
import { goTo, launch, openJudged } from './chromium.ts';
import { servePage, type PageServer } from './page-server.ts';

/** A browser and the page that it visits, there while the tests of a group run. */
export interface Visit {
  readonly browser: Browser;
  readonly server: PageServer;
}

/**
 * Starts a browser and serves the page before the tests of a group, and ends both after them.
 * @param under The folder of the host in which the page lies, with a stroke at either end.
 */
export function visiting(under = '/'): Visit {
  let browser: Browser | undefined;
  let server: PageServer | undefined;
  beforeAll(async () => {
    [server, browser] = await Promise.all([servePage(under), launch()]);
  });
  afterAll(async () => {
    await browser?.close();
    await server?.close();
  });
  return {
    get browser() {
      return browser!;
    },
    get server() {
      return server!;
    },
  };
}

/** Learn, opened from a small design, with every step there. */
export async function openLearn({ browser, server }: Visit, options: object = {}): Promise<Page> {
  const { page } = await openJudged(browser, `${server.url}#/plan?d=@single-core-jig`, options);
  await goTo(page, 'Learn');
  await page.locator('.step').last().waitFor();
  return page;
}
