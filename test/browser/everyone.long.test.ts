import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { DRAWERS, EVIDENCE, PARTS } from '../../web/state/atoms.ts';
import {
  atRest,
  boxOf,
  browserPath,
  goTo,
  nextFrame,
  openDrawer,
  openJudged,
  openPage,
  openPart,
} from './chromium.ts';
import { visiting } from './visiting.ts';

const axePath = createRequire(import.meta.url).resolve('axe-core/axe.min.js');

interface AxeWindow {
  readonly axe: {
    run(
      within: string,
      options: object,
    ): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }>;
  };
}

describe.skipIf(browserPath === undefined)('the page for everyone', () => {
  const visit = visiting();
  let axe: string;
  beforeAll(async () => {
    axe = await readFile(axePath, 'utf8');
  });

  const ALL = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

  /** What axe finds; `rules`: these alone, `within`: in this part of the page alone, `without`: but for these rules. */
  async function violations(
    page: Page,
    rules?: readonly string[],
    within = 'html',
    without: readonly string[] = [],
  ): Promise<string[]> {
    const found = await page.evaluate(
      ([part, options]) => (globalThis as unknown as AxeWindow).axe.run(part, options),
      [
        within,
        {
          runOnly: rules ? { type: 'rule', values: rules } : { type: 'tag', values: ALL },
          rules: Object.fromEntries(without.map((rule) => [rule, { enabled: false }])),
        },
      ] as const,
    );
    return found.violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html).join(' | ')}`);
  }

  /** Opens whatever can be opened, what that brings among it; menus stay shut, since they lie over each other. */
  async function openAll(page: Page): Promise<void> {
    for (let closed = 1; closed > 0;)
      closed = await page.evaluate(async () => {
        const found = [
          ...document.querySelectorAll<HTMLDetailsElement>(
            '.drawer details:not([open]), .other-place details:not([open]), .evidence-card details:not([open])',
          ),
        ];
        for (const details of found) details.open = true;
        await new Promise((resolve) => setTimeout(resolve, 100));
        return found.length;
      });
  }

  /** Goes through every state of the page; `look` is asked in each, of the whole page or of a part of it. */
  async function lookEverywhere(
    page: Page,
    look: (state: string, within?: string) => Promise<void>,
  ): Promise<void> {
    await look('at rest');
    for (const part of PARTS) {
      await openPart(page, part);
      await look(`card of ${part}`);
    }
    await page.locator('.part-card').getByRole('button', { name: 'Close' }).click();
    for (const set of EVIDENCE) {
      await page.locator(`[data-set=${set}]`).click();
      await page.locator('.evidence-card').waitFor();
      await openAll(page);
      await look(`evidence of ${set}`);
    }
    await page.locator('.evidence-card').getByRole('button', { name: 'Close' }).click();
    for (const drawer of DRAWERS) {
      await openDrawer(page, drawer);
      await openAll(page);
      if (drawer === 'inputs')
        for (const name of ['Add a cycle', 'Add a core']) await page.getByRole('button', { name }).click();
      if (drawer === 'pinned') await page.getByRole('button', { name: 'Pin this run' }).click();
      await nextFrame(page);
      await look(`drawer of ${drawer}`);
    }
    for (const menu of ['design', 'share', 'view']) {
      const summary = page.locator(`.${menu}-menu > summary`);
      await summary.click();
      await look(`menu of ${menu}`, `.${menu}-menu`);
      await summary.click();
    }
    await page.locator('.view-menu > summary').click();
    await page.getByLabel('Projector: large, two views').check();
    await nextFrame(page);
    await look('menu of view, on a projector', '.view-menu');
    await page.locator('.view-menu > summary').click();
    await look('on a projector');
    await page.locator('.view-menu > summary').click();
    await page.getByLabel('Projector: large, two views').uncheck();
    await page.locator('.view-menu > summary').click();
    for (const place of ['Bench', 'Learn', 'Words'] as const) {
      await goTo(page, place);
      await openAll(page);
      await look(place);
    }
  }

  /** A theme changes colours and nothing else, so that the other rules are asked once. */
  const COLOURS = ['color-contrast', 'link-in-text-block'];

  const THEMES = [
    ['dark', { colorScheme: 'dark', forcedColors: 'none' }],
    ['forced colours', { colorScheme: 'light', forcedColors: 'active' }],
  ] as const;

  it('gives axe nothing to report in light, dark and forced colours, in every state', async () => {
    const { page } = await openPage(visit.browser, visit.server.url, { colorScheme: 'light' });
    await atRest(page);
    await page.evaluate(axe);
    await lookEverywhere(page, async (state, within) => {
      expect(await violations(page, undefined, within), state).toEqual([]);
      // What an open menu lies over is in part no target while it is open; everything else holds of the whole page.
      if (within) expect(await violations(page, undefined, 'html', ['target-size']), state).toEqual([]);
      for (const [name, media] of THEMES) {
        await page.emulateMedia(media);
        expect(await violations(page, COLOURS), `${state}, ${name}`).toEqual([]);
      }
      await page.emulateMedia({ colorScheme: 'light', forcedColors: 'none' });
    });
    await page.context().close();
  });

  it.each([
    [1280, 720],
    [1024, 768],
  ])(
    'shows two views at most on a projector of %i × %i, all of them in the window',
    async (width, height) => {
      const address = `${visit.server.url}#/plan?view=projector`;
      const { page } = await openJudged(visit.browser, address, { viewport: { width, height } });
      const views = () =>
        page.evaluate(() => {
          const regions = ['trace', 'margin', 'ring', 'mat', 'path', 'shelf', 'clock', 'verdict'];
          const boxes = regions.map((name) => {
            const box = document.querySelector(`[data-region=${name}]`)!.getBoundingClientRect();
            return {
              name,
              seen: box.height > 0,
              inside: box.bottom <= innerHeight && box.right <= innerWidth,
            };
          });
          return {
            seen: boxes.filter(({ seen }) => seen).map(({ name }) => name),
            outside: boxes.filter(({ seen, inside }) => seen && !inside).map(({ name }) => name),
            scrolls: document.documentElement.scrollHeight > innerHeight,
            text: parseFloat(getComputedStyle(document.documentElement).fontSize),
          };
        });
      const shown: readonly (readonly [button: string, region: string])[] = [
        ['the mat', 'mat'],
        ['the core', 'ring'],
        ['the margin', 'margin'],
      ];
      for (const [button, region] of shown) {
        // A menu shuts when something in it is chosen.
        await page.locator('.view-menu > summary').click();
        await page.getByRole('button', { name: button, exact: true }).click();
        await nextFrame(page);
        const { seen, outside, scrolls, text } = await views();
        expect(seen).toEqual(['trace', region, 'clock', 'verdict']);
        expect({ outside, scrolls }).toEqual({ outside: [], scrolls: false });
        expect(text).toBeGreaterThanOrEqual(20);
      }
      await page.context().close();
    },
  );

  it('takes the reader’s scheme, and the toggle goes before it', async () => {
    const { page } = await openJudged(visit.browser, visit.server.url, { colorScheme: 'dark' });
    const ground = () => page.evaluate(() => getComputedStyle(document.body).backgroundColor);
    expect(await ground()).toBe('rgb(26, 31, 38)');
    await page.locator('.view-menu > summary').click();
    await page.getByLabel('Paper').selectOption('light');
    await expect.poll(ground).toBe('rgb(243, 240, 232)');
    await page.context().close();
  });

  it.each([
    ['320 px wide', { viewport: { width: 320, height: 640 } }, 1],
    ['with text of 200 %', { viewport: { width: 1280, height: 900 } }, 2],
    ['320 px wide with text of 200 %', { viewport: { width: 320, height: 640 } }, 2],
  ] as const)('never scrolls sideways %s', async (_name, options, text) => {
    const { page } = await openPage(visit.browser, visit.server.url, options);
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
    // With large text a wide window is laid out like a narrow one.
    const narrow = await page.locator('.narrow-tabs').isVisible();
    const fits = async (state: string) => {
      const [wide, shown] = await page.evaluate(
        () => [document.documentElement.scrollWidth, document.documentElement.clientWidth] as const,
      );
      expect(wide, state).toBeLessThanOrEqual(shown);
    };
    await fits('at rest');
    if (narrow && text === 1) {
      // Of the first screen the answer takes no more than a row, and its cells unfold under it.
      for (const region of ['name', 'verdict'])
        expect((await boxOf(page.locator(`[data-region=${region}]`))).height, region).toBeLessThan(53);
      const corners = page.locator('.cell[data-set=corners]');
      expect(await corners.isVisible()).toBe(false);
      await page.getByRole('button', { name: 'All of the verdict' }).click();
      await corners.waitFor();
      await fits('with the verdict unfolded');
    }
    for (const drawer of narrow ? [] : DRAWERS) {
      await openDrawer(page, drawer);
      await openAll(page);
      await fits(drawer);
    }
    for (const tab of narrow ? await page.locator('.narrow-tabs button').all() : []) {
      await tab.click();
      await nextFrame(page);
      await openAll(page);
      await fits(await tab.innerText());
    }
    for (const place of ['Bench', 'Learn', 'Words'] as const) {
      await goTo(page, place);
      await fits(place);
    }
    await page.context().close();
  });

  it('can be worked by keyboard alone, and always shows where the focus is', async () => {
    const { page } = await openJudged(visit.browser, visit.server.url);
    const names: string[] = [];
    for (let i = 0; i < 66; i++) {
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
    for (const wanted of ['Strobe', 'Threshold', 'Zoom in', 'Instant', 'Drivers', 'As designed'])
      expect(names.join('\n')).toContain(wanted);
    await page.context().close();
  });

  it('toggles a bit and selects another core without a pointer', async () => {
    const { page } = await openJudged(visit.browser, visit.server.url);
    await page.getByLabel('Row', { exact: true }).fill('2');
    // Another size draws the mat anew, as an answer does that comes while one types: what was typed stays.
    const wide = await page.locator('.mat svg').first().boundingBox();
    await page.setViewportSize({ width: 1600, height: 1000 });
    await expect
      .poll(async () => (await page.locator('.mat svg').first().boundingBox())!.width)
      .not.toBe(wide!.width);
    await page.getByLabel('Row', { exact: true }).press('Tab');
    const told = page.locator('.mat [aria-live]');
    const before = await told.innerText();
    await page.getByRole('button', { name: 'Turn its bit' }).press('Enter');
    await expect.poll(() => told.innerText()).not.toBe(before);
    await page.getByRole('button', { name: 'Read it' }).press('Enter');
    await expect.poll(() => told.innerText()).toMatch(/row 2.*selected/i);
    await page.context().close();
  });

  it('says every chart in one paragraph and shows its numbers as a table', async () => {
    const { page } = await openPage(visit.browser, visit.server.url);
    await openDrawer(page, 'cases');
    for (const summary of await page.locator('details.more > summary').all()) await summary.click();
    const behind = await page.locator('details.behind:has(.summary)').all();
    expect(behind.length).toBeGreaterThanOrEqual(8);
    for (const figure of behind) {
      await figure.locator('> summary').evaluate((summary) => (summary as HTMLElement).click());
      await expect.poll(() => figure.locator('.summary').innerText()).toMatch(/^[A-Z].{40,}\.$/s);
      await expect.poll(() => figure.locator('tbody tr').count()).toBeGreaterThan(1);
      await figure.evaluate((details) => ((details as HTMLDetailsElement).open = false));
    }
    await page.context().close();
  });

  it('prints one white page with inputs and uncertainty', async () => {
    const { page } = await openPage(visit.browser, visit.server.url, { colorScheme: 'dark' });
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
