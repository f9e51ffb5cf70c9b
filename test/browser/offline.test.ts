import { mkdtempSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { describe, expect, it } from 'vitest';
import { browserPath, goTo, openDrawer, openJudged } from './chromium.ts';
import { visiting } from './visiting.ts';

describe.skipIf(browserPath === undefined)('a page that was opened', () => {
  const visit = visiting('/school/memory/');

  it('from a static folder opens without a network from then on, with every view and worker, and keeps nothing else', async () => {
    const { page, errors } = await openJudged(visit.browser, visit.server.url, { serviceWorkers: 'allow' });
    await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
    const held = await page.evaluate(async () => {
      const names = await caches.keys();
      const kept = await Promise.all(names.map(async (name) => (await caches.open(name)).keys()));
      return { names, addresses: kept.flat().map(({ url }) => url) };
    });
    expect(held.names).toHaveLength(1);
    expect(held.addresses.every((url) => url.startsWith(visit.server.url))).toBe(true);
    expect(held.addresses).toContain(visit.server.url);
    await page.context().setOffline(true);
    await page.reload();
    await page.waitForSelector('.cell[data-set=corners]:not(.old, .standing-unknown)', { state: 'attached' });
    for (const place of ['Bench', 'Learn', 'Words', 'Plan'] as const) await goTo(page, place);
    const studies = await openDrawer(page, 'studies');
    await studies.locator('input[name=study-kind][value=shmoo]').check();
    await studies.getByLabel('Rows', { exact: true }).fill('3');
    await studies.getByRole('button', { name: 'Compute', exact: true }).click();
    await studies.locator('.study-map').waitFor();
    expect(errors.filter((text) => !text.includes('ERR_INTERNET_DISCONNECTED'))).toEqual([]);
    await page.context().close();
  });

  it('says what is missing when its server is gone and it was not kept, and goes on when it is back', async () => {
    const { page } = await openJudged(visit.browser, visit.server.url);
    await page.context().setOffline(true);
    await page.getByRole('link', { name: 'Learn', exact: true }).click();
    await page.getByText('This place could not be fetched: look after the connection.').waitFor();
    await page.context().setOffline(false);
    await page.getByRole('button', { name: 'Try again' }).click();
    await page.locator('.other-place h1').waitFor();
    await page.getByRole('link', { name: 'Plan', exact: true }).click();
    await page.locator('.verdict-row').waitFor();
    await page.context().setOffline(true);
    await page.locator('[data-tab=studies]').click();
    await page.getByText('The shelf could not be fetched: look after the connection.').waitFor();
    await page.context().setOffline(false);
    await page.getByRole('button', { name: 'Try again' }).click();
    await page.locator('.study-form').waitFor();
    await page.context().close();
  });

  it('refuses a design file of 80 MB by its size, and leaves the design that is open', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'strobewright-large-'));
    const path = join(folder, 'mine.json');
    writeFileSync(path, '{');
    truncateSync(path, 80_000_000);
    const { page } = await openJudged(visit.browser, visit.server.url);
    const name = await page.locator('.name-row h1').innerText();
    await page.locator('#open-file').setInputFiles(path);
    await page
      .getByText(
        'mine.json must be a design file of at most 5 MB; it has 80 MB. The design on the page was left',
      )
      .waitFor();
    expect(await page.locator('.name-row h1').innerText()).toBe(name);
    await page.context().close();
    rmSync(folder, { recursive: true });
  });

  it('from a disk, as a file, says in words what to do', async () => {
    const page = await visit.browser.newPage();
    await page.goto(pathToFileURL(join(visit.server.folder, 'index.html')).href);
    await page.getByText('Strobewright cannot run from a file').waitFor();
    await page.getByText('Strobewright läuft nicht aus einer Datei').waitFor();
    await page.getByText('python3 -m http.server 8000').first().waitFor();
    await page.close();
  });
});
