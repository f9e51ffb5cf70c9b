import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { browserPath, openJudged } from './chromium.ts';
import { visiting } from './visiting.ts';

const axePath = createRequire(import.meta.url).resolve('axe-core/axe.min.js');

interface AxeWindow {
  readonly axe: {
    run(options: object): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }>;
  };
}

describe.skipIf(browserPath === undefined)('builds from needs on the page', () => {
  const visit = visiting();
  let page: Page;
  let errors: string[];
  beforeAll(async () => {
    ({ page, errors } = await openJudged(visit.browser, `${visit.server.url}#/plan/propose`));
    await page.locator('.needs-form').waitFor();
  });

  const field = (label: string) => page.getByLabel(label, { exact: true });
  const type = async (label: string, text: string): Promise<void> => {
    await field(label).fill(text);
    await field(label).press('Tab');
  };
  const search = () => page.getByRole('button', { name: 'Search', exact: true }).click();
  const status = () => page.locator('.propose .status-row .status');

  it('begins with what the design on the stage is', async () => {
    expect(await field('Words').inputValue()).toBe('256');
    expect(await field('Bits of a word').inputValue()).toBe('12');
    expect(await field('Margin').inputValue()).toBe('5 mV');
  });

  it('refuses needs beside the field that is amiss', async () => {
    await type('Cycle', '4');
    await search();
    const refusal = page.locator('.needs-form .field-error');
    await refusal.waitFor();
    expect(await refusal.textContent()).toContain('a bare number without a unit');
    expect(await field('Cycle').getAttribute('aria-invalid')).toBe('true');
    expect(await status().textContent()).toContain('Not searched.');
  });

  it('tells the nearest build as soon as there is one, is stopped by Cancel and keeps it, and opens it', async () => {
    for (const [label, text] of [
      ['Cycle', '10 us'],
      ['Words', '4'],
      ['Bits of a word', '1'],
      ['Amplifiers a bit', '1'],
    ] as const)
      await type(label, text);
    await search();
    const nearest = page.locator('.proposal.nearest');
    await nearest.waitFor();
    expect(await status().textContent()).toMatch(/About \d+ %/u);
    await page.getByRole('button', { name: 'Cancel', exact: true }).click();
    await page.getByText('Stopped; what was found until then stands below.').waitFor();
    expect(await page.locator('.proposals > .status').textContent()).toContain('has not come to its end');
    await page.evaluate(await readFile(axePath, 'utf8'));
    for (const colorScheme of ['light', 'dark'] as const) {
      await page.emulateMedia({ colorScheme });
      const { violations } = await page.evaluate(() =>
        (globalThis as unknown as AxeWindow).axe.run({
          runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
        }),
      );
      expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]!.html}`)).toEqual([]);
    }
    await type('Words', '8');
    await page.getByText('Of the needs before the change.').waitFor();
    await nearest.getByRole('button', { name: 'Open this build: the nearest' }).click();
    await expect.poll(() => page.url()).toMatch(/#\/plan(?:\?|$)/u);
    await expect.poll(() => page.locator('.name-row').textContent()).toMatch(/\b4 cores\b/u);
    expect(errors).toEqual([]);
  });
});
