import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { browserPath, openJudged } from './chromium.ts';
import { visiting } from './visiting.ts';

describe.skipIf(browserPath === undefined)('a new build of a page that is kept', () => {
  const visit = visiting('/school/memory/');

  const caches = (page: Page): Promise<string[]> => page.evaluate(() => globalThis.caches.keys());
  const built = (name: string): string => readFileSync(join(visit.server.folder, name), 'utf8');

  it('leaves an open page its files, and then takes the place of the old build, and of nothing else', async () => {
    const mark = /PAGE_BUILD="(\w+)"/u.exec(built('service-worker.js'))![1]!;
    const { page } = await openJudged(visit.browser, visit.server.url, { serviceWorkers: 'allow' });
    await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
    await page.evaluate(() => globalThis.caches.open('of another page'));
    expect(await caches(page)).toEqual([`strobewright-page-${mark}`, 'of another page']);

    visit.server.instead.set('service-worker.js', built('service-worker.js').replace(mark, 'newer'));
    visit.server.instead.set(
      'index.html',
      built('index.html').replace('<title>', '<meta name="build" content="newer"><title>'),
    );
    const waits = await page.evaluate(async () => {
      const registration = await navigator.serviceWorker.ready;
      await registration.update();
      const { installing } = registration;
      if (installing !== null)
        await new Promise((resolve) => installing.addEventListener('statechange', resolve, { once: true }));
      return registration.waiting !== null;
    });
    expect(waits).toBe(true);
    // The old page may yet ask for a view of its own build.
    expect(await caches(page)).toContain(`strobewright-page-${mark}`);

    await page.close();
    const next = await page.context().newPage();
    // Beside the page: the old build's worker goes once no page of its own is open.
    const beside = new URL('/', visit.server.url).href;
    await next.route(beside, (route) => route.fulfill({ contentType: 'text/html', body: 'Beside the page' }));
    await next.goto(beside);
    await expect
      .poll(async () => (await caches(next)).toSorted())
      .toEqual(['of another page', 'strobewright-page-newer']);
    await next.context().setOffline(true);
    await next.goto(visit.server.url);
    expect(await next.locator('meta[name=build]').getAttribute('content')).toBe('newer');
    await next.context().close();
  });
});
