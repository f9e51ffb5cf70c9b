import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { browserPath, launch, openPage, settled } from './chromium.ts';
import { servePage, type PageServer } from './page-server.ts';

const axePath = createRequire(import.meta.url).resolve('axe-core/axe.min.js');

interface AxeWindow {
  readonly axe: {
    run(options: object): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }>;
  };
}

describe.skipIf(browserPath === undefined)('the page for everyone', () => {
  let browser: Browser;
  let server: PageServer;
  let axe: string;
  beforeAll(async () => {
    [server, browser, axe] = await Promise.all([servePage(), launch(), readFile(axePath, 'utf8')]);
  });
  afterAll(async () => {
    await browser?.close();
    await server?.close();
  });

  async function violations(page: Page): Promise<string[]> {
    await page.evaluate(axe);
    const found = await page.evaluate(() =>
      (globalThis as unknown as AxeWindow).axe.run({
        runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
      }),
    );
    return found.violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html).join(' | ')}`);
  }

  /** Opens whatever can be opened, what that brings among it. */
  async function openAll(page: Page): Promise<void> {
    for (let closed = 1; closed > 0;)
      closed = await page.evaluate(async () => {
        const found = [...document.querySelectorAll<HTMLDetailsElement>('details:not([open])')];
        for (const details of found) details.open = true;
        await new Promise((resolve) => setTimeout(resolve, 100));
        return found.length;
      });
    await page.locator('.opening svg.chart').waitFor();
  }

  it.each([
    ['light', { colorScheme: 'light' }],
    ['dark', { colorScheme: 'dark' }],
    ['forced colours', { forcedColors: 'active' }],
  ] as const)('gives axe nothing to report in %s, with everything opened', async (_name, options) => {
    const { page } = await openPage(browser, server.url, options);
    await page.locator('#cursors').check();
    await openAll(page);
    for (const name of ['Add a cycle', 'Add a core']) await page.getByRole('button', { name }).click();
    await openAll(page);
    await page.getByRole('button', { name: 'Pin this run' }).click();
    expect(await violations(page)).toEqual([]);
    for (const view of ['Bench', 'Studies', 'Learn', 'Terms']) {
      await page.getByRole('button', { name: view, exact: true }).click();
      await page.locator('main h1:visible').waitFor();
      expect(await violations(page)).toEqual([]);
    }
    await page.context().close();
  });

  it('takes the reader’s scheme, and the toggle goes before it', async () => {
    const { page } = await openPage(browser, server.url, { colorScheme: 'dark' });
    const ground = () => page.evaluate(() => getComputedStyle(document.body).backgroundColor);
    expect(await ground()).toBe('rgb(26, 31, 38)');
    await page.getByLabel('Paper').selectOption('light');
    expect(await ground()).toBe('rgb(243, 240, 232)');
    await page.context().close();
  });

  it.each([
    ['320 px wide', { viewport: { width: 320, height: 640 } }, 1],
    ['with text of 200 %', { viewport: { width: 1280, height: 900 } }, 2],
    ['320 px wide with text of 200 %', { viewport: { width: 320, height: 640 } }, 2],
  ] as const)('never scrolls sideways %s', async (_name, options, text) => {
    const { page } = await openPage(browser, server.url, options);
    if (text !== 1) {
      await page.evaluate(
        (size) => {
          document.documentElement.style.fontSize = size;
        },
        `${16 * text}px`,
      );
      await page.setViewportSize({ width: options.viewport.width + 1, height: 900 });
      await page.setViewportSize(options.viewport);
    }
    for (const view of ['Plan', 'Bench', 'Studies', 'Learn', 'Terms']) {
      await page.getByRole('button', { name: view, exact: true }).click();
      if (view === 'Plan') {
        await page.locator('#mat-shares').check();
        await page.locator('#cursors').check();
        await openAll(page);
        for (const name of ['Add a cycle', 'Add a core']) await page.getByRole('button', { name }).click();
        await openAll(page);
      }
      const [wide, shown] = await page.evaluate(
        () => [document.documentElement.scrollWidth, document.documentElement.clientWidth] as const,
      );
      expect(wide).toBeLessThanOrEqual(shown);
    }
    await page.context().close();
  });

  it('can be worked by keyboard alone, and always shows where the focus is', async () => {
    const { page } = await openPage(browser, server.url);
    const names: string[] = [];
    for (let i = 0; i < 60; i++) {
      await page.keyboard.press('Tab');
      const focus = await page.evaluate(() => {
        const element = document.activeElement as HTMLElement;
        const style = getComputedStyle(element);
        return {
          name: element.getAttribute('aria-label') ?? element.id ?? '',
          tag: element.tagName,
          outline: style.outlineStyle,
          text: element.textContent ?? '',
        };
      });
      if (focus.tag === 'BODY') break;
      expect(focus.outline, `${focus.tag} ${focus.name} ${focus.text}`).not.toBe('none');
      names.push(focus.name || focus.text);
    }
    for (const wanted of ['Strobe', 'Threshold', 'strobe-field', 'Zoom in', 'demo'])
      expect(names.join('\n')).toContain(wanted);
    await page.context().close();
  });

  it('toggles a bit and selects another core without a pointer', async () => {
    const { page } = await openPage(browser, server.url);
    await page.getByLabel('Row', { exact: true }).fill('2');
    await page.getByLabel('Row', { exact: true }).press('Tab');
    const told = page.locator('.mat-panel [aria-live]');
    const before = await told.innerText();
    await page.getByRole('button', { name: 'Toggle its bit' }).press('Enter');
    await expect.poll(() => told.innerText()).not.toBe(before);
    await page.getByRole('button', { name: 'Select it' }).press('Enter');
    await expect.poll(() => told.innerText()).toMatch(/row 2.*selected/i);
    await settled(page);
    await page.context().close();
  });

  it('says every chart in one paragraph and shows its numbers as a table', async () => {
    const { page } = await openPage(browser, server.url);
    for (const summary of await page.locator('details.more > summary').all()) await summary.click();
    const figures = await page.locator('section.panel:has(details.behind)').all();
    expect(figures.length).toBeGreaterThanOrEqual(8);
    for (const figure of figures) {
      await figure.locator('details.behind > summary').click();
      await expect.poll(() => figure.locator('.summary').innerText()).toMatch(/^[A-Z].{40,}\.$/s);
      await expect.poll(() => figure.locator('tbody tr').count()).toBeGreaterThan(1);
    }
    await page.context().close();
  });

  it('prints one white page with inputs and uncertainty', async () => {
    const { page } = await openPage(browser, server.url, { colorScheme: 'dark' });
    await page.emulateMedia({ media: 'print' });
    expect(await page.evaluate(() => getComputedStyle(document.body).backgroundColor)).toBe(
      'rgb(255, 255, 255)',
    );
    const text = await page.evaluate(() => document.body.innerText);
    expect(text).toContain('drive x read amplitude');
    expect(text).toMatch(/threshold known to ±/);
    expect(text).toMatch(/Seed \d+/);
    const pdf = (await page.pdf({ format: 'A4', preferCSSPageSize: true })).toString('latin1');
    expect(pdf.match(/\/Type\s*\/Page\b/g)).toHaveLength(1);
    await page.context().close();
  });
});
