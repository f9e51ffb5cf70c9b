import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { boxOf, browserPath, openJudged, settled } from './chromium.ts';
import { visiting } from './visiting.ts';

const axePath = createRequire(import.meta.url).resolve('axe-core/axe.min.js');

interface AxeWindow {
  readonly axe: {
    run(options: object): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }>;
  };
}

describe.skipIf(browserPath === undefined)('studies on the page', () => {
  const visit = visiting();

  const open = async (
    options: object = {},
    state = '?open=drivers',
  ): Promise<{ page: Page; errors: string[] }> => {
    const { page, errors } = await openJudged(
      visit.browser,
      `${visit.server.url}#/plan/studies${state}`,
      options,
    );
    await page.locator('.study-form').waitFor();
    return { page, errors };
  };
  const choose = (page: Page, kind: string) => page.locator(`input[name=study-kind][value=${kind}]`).check();
  const compute = (page: Page) => page.getByRole('button', { name: 'Compute', exact: true }).click();
  const status = (page: Page) => page.locator('.studies .status');

  /** The lines drawn in the planning view. */
  const traces = (page: Page) =>
    page
      .locator('.stage svg.chart path.stroke')
      .evaluateAll((paths) => paths.map((path) => path.getAttribute('d')));

  it('axe has nothing to report in light and dark', async () => {
    const { page } = await open({ colorScheme: 'light' });
    await choose(page, 'shmoo');
    await page.getByLabel('Rows', { exact: true }).fill('4');
    await compute(page);
    await page.locator('.study-map').waitFor();
    await page.locator('.study-figure summary').click();
    await page.evaluate(await readFile(axePath, 'utf8'));
    for (const colorScheme of ['light', 'dark'] as const) {
      await page.emulateMedia({ colorScheme });
      const found = await page.evaluate(() =>
        (globalThis as unknown as AxeWindow).axe.run({
          runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
        }),
      );
      expect(
        found.violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html).join(' | ')}`),
        colorScheme,
      ).toEqual([]);
    }
    await page.context().close();
  });

  it('a cancelled study keeps what is done and says that it is partial', async () => {
    const { page } = await open();
    await choose(page, 'tolerance');
    await page.getByLabel('Builds drawn', { exact: true }).fill('20000');
    await compute(page);
    await page.waitForFunction(() =>
      /^[1-9]\d* of 20000 points, about/.test(
        (document.querySelector('.studies .status')?.textContent ?? '').trim(),
      ),
    );
    await page.locator('.study-form').getByRole('button', { name: 'Cancel' }).click();
    await status(page)
      .filter({ hasText: /Partial: \d+ of 20000 points were computed and are kept, seed 1/u })
      .waitFor();
    await page.context().close();
  });

  it('an option that is refused says so beside its field and gets the focus', async () => {
    const { page } = await open();
    await choose(page, 'tolerance');
    const field = page.getByLabel('Builds drawn', { exact: true });
    await field.fill('1');
    await compute(page);
    await page.locator('.study-form .field-error').filter({ hasText: 'from 2 to 1000000' }).waitFor();
    expect(await field.getAttribute('aria-invalid')).toBe('true');
    expect(await field.evaluate((node) => node === document.activeElement)).toBe(true);
    await page.context().close();
  });

  it('a click on the map opens the design with the two inputs of that place', async () => {
    const { page } = await open();
    await choose(page, 'shmoo');
    await page.getByLabel('Rows', { exact: true }).fill('4');
    await page.getByLabel('Columns', { exact: true }).fill('4');
    await compute(page);
    const map = page.locator('.study-hit');
    await map.waitFor();
    const before = await page.locator('#part-drive-x-readAmplitude').inputValue();
    const box = await boxOf(map);
    await map.click({ position: { x: box.width * 0.5, y: box.height * 0.6 } });
    await expect.poll(() => page.locator('#part-drive-x-readAmplitude').inputValue()).not.toBe(before);
    expect(await page.locator('#part-drive-x-readAmplitude').inputValue()).toMatch(/^3\d\d(\.\d+)? mA$/u);
    await page.context().close();
  });

  it.each([
    ['scale', 'Sizes', '4, 6', '.marker[data-opens]'],
    ['shmoo', 'Rows', '4', '.study-hit[data-opens]'],
    ['tolerance', 'Builds drawn', '12', '.bar[data-opens]'],
    ['temperature', 'Temperatures', '3', '.marker[data-opens]'],
    ['rate', 'Periods', '3', '.marker[data-opens]'],
    ['pattern', 'Random patterns', '0', '.marker[data-opens]'],
    ['sensitivity', 'Moved by, in per cent', '5', 'g[data-opens] .study-hit'],
  ])(
    '%s is told in words, drawn, with a table, and a click on its chart opens that design',
    { timeout: 300_000 },
    async (kind, label, text, place) => {
      const { page, errors } = await open();
      await choose(page, kind);
      await page.getByLabel(label, { exact: true }).fill(text);
      await compute(page);
      await expect
        .poll(() => status(page).innerText(), { timeout: 200_000 })
        .toMatch(/All \d+ points computed/u);
      expect(await page.locator('.findings li').count()).toBeGreaterThan(0);
      expect(await page.locator('.study-charts svg').count()).toBeGreaterThan(0);
      const table = page.locator('.study-figure summary');
      await table.click();
      await page.locator('.study-figure tbody tr').nth(2).waitFor();
      await table.click();
      // What is compared is of the full judgement before and after; it has come by the time the study is done, or soon.
      const undo = page.getByRole('button', { name: 'Undo', exact: true });
      await settled(page);
      const before = await traces(page);
      await page.locator(`.study-charts ${place}`).first().click({ force: true });
      await page.locator('.studies').waitFor({ state: 'hidden' });
      await expect.poll(() => undo.isEnabled()).toBe(true);
      await page.locator('main[data-old=false]').waitFor();
      // Another period shows in the read of one cycle as little as in the trace of it.
      if (kind !== 'rate') await expect.poll(() => traces(page)).not.toEqual(before);
      expect((await traces(page)).length).toBeGreaterThan(0);
      expect(errors).toEqual([]);
      await page.context().close();
    },
  );

  it('narrow pages do not scroll sideways', async () => {
    const { page } = await open({ viewport: { width: 320, height: 800 } }, '');
    await choose(page, 'temperature');
    await page.getByLabel('Temperatures', { exact: true }).fill('3');
    await compute(page);
    await page.locator('.study-charts svg').first().waitFor();
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(320);
    await page.context().close();
  });
});
