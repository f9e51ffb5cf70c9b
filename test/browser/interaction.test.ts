import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { boxOf, browserPath, launch, openPage, settled } from './chromium.ts';
import { servePage, type PageServer } from './page-server.ts';

describe.skipIf(browserPath === undefined)('looking and moving', () => {
  let browser: Browser;
  let server: PageServer;
  beforeAll(async () => {
    [server, browser] = await Promise.all([servePage(), launch()]);
  });
  afterAll(async () => {
    await browser?.close();
    await server?.close();
  });

  const path = (page: Page) => page.locator('.main-panel .line-one .stroke').getAttribute('d');

  it('opens on a working read cycle with six inputs, the rest one click away', async () => {
    const { page } = await openPage(browser, server.url);
    expect(await page.locator('.key-inputs :is(input, select)').count()).toBe(6);
    const chart = await boxOf(page.locator('.main-panel svg.chart'));
    expect(chart.y).toBeLessThan(600);
    expect(await page.locator('.main-panel .line-one .stroke').count()).toBe(1);
    expect(await page.locator('.main-panel .line-zero .stroke').count()).toBe(1);
    expect(await page.locator('.readouts').first().innerText()).toMatch(/Margin ONE\n[\d.]+ mV/);
    const away = page.locator('.plan details.editor');
    expect(await away.count()).toBeGreaterThan(5);
    expect(await page.locator('.plan details.editor[open]').count()).toBe(0);
    await page.locator('#editor > summary').click();
    expect(await page.locator('#field-drive-x-rise').isVisible()).toBe(true);
    await page.context().close();
  });

  it('zooms and pans by plain buttons and comes back to the read', async () => {
    const { page } = await openPage(browser, server.url);
    const before = await path(page);
    const press = async (name: string) => {
      const old = await path(page);
      await page.getByRole('button', { name, exact: true }).first().click();
      await expect.poll(() => path(page)).not.toBe(old);
    };
    await press('Zoom in');
    const zoomed = await path(page);
    await press('Later');
    await press('Earlier');
    expect(await path(page)).toBe(zoomed);
    await press('Zoom out');
    await press('Whole cycle');
    await press('Read');
    expect(await path(page)).toBe(before);
    await press('The spikes');
    await press('The bell');
    expect(await path(page)).toBe(before);
    await page.context().close();
  });

  it('places two cursors in view and tells both and their difference', async () => {
    const { page } = await openPage(browser, server.url);
    await page.locator('#cursors').check();
    const table = page.locator('.cursor-table tbody');
    const rows = async () =>
      (await table.locator('tr').allInnerTexts()).map((row) => row.split('\t').map((cell) => cell.trim()));
    await expect.poll(async () => (await rows()).map(([name]) => name)).toEqual(['A', 'B', 'B − A']);
    const chart = await boxOf(page.locator('.main-panel svg.chart'));
    for (const name of ['Cursor A', 'Cursor B']) {
      const box = await boxOf(page.getByRole('slider', { name }));
      expect(box.x).toBeGreaterThan(chart.x);
      expect(box.x + box.width).toBeLessThan(chart.x + chart.width - 40);
    }
    const ns = (text: string) => Number(/^(−?[\d.]+) ns$/.exec(text)![1]!.replace('−', '-'));
    await page.getByRole('slider', { name: 'Cursor B' }).focus();
    const [, before] = await rows();
    await page.keyboard.press('PageUp');
    await page.keyboard.press('ArrowLeft');
    await expect.poll(async () => ns((await rows())[1]![1]!)).toBeCloseTo(ns(before![1]!) + 9, 3);
    const [a, b, difference] = await rows();
    expect(ns(difference![1]!)).toBeCloseTo(ns(b![1]!) - ns(a![1]!), 3);
    await page.getByLabel('cursor A', { exact: true }).check();
    const now = await boxOf(page.locator('.main-panel svg.chart'));
    await page.mouse.click(now.x + now.width / 2, now.y + 120);
    await expect.poll(async () => (await rows())[0]![1]).not.toBe(a![1]);
    await page.context().close();
  });

  it('undoes and redoes by keys, but leaves them to a text box', async () => {
    const { page } = await openPage(browser, server.url);
    const grip = page.getByRole('slider', { name: 'Strobe' });
    const value = () => grip.getAttribute('aria-valuenow');
    const before = await value();
    await grip.focus();
    await page.keyboard.press('PageUp');
    await expect.poll(value).not.toBe(before);
    const moved = await value();
    await page.keyboard.press('End');
    await expect.poll(value).toBe(await grip.getAttribute('aria-valuemax'));
    await page.keyboard.press('Control+z');
    await expect.poll(value).toBe(moved);
    await page.keyboard.press('Control+z');
    await expect.poll(value).toBe(before);
    await page.keyboard.press('Control+Shift+Z');
    await expect.poll(value).toBe(moved);
    const field = page.locator('#threshold-field');
    await field.focus();
    await page.keyboard.type('7');
    await page.keyboard.press('Control+z');
    expect(await value()).toBe(moved);
    await page.context().close();
  });

  it('takes the strobe by touch', async () => {
    const { page } = await openPage(browser, server.url, { hasTouch: true });
    const grip = page.getByRole('slider', { name: 'Strobe' });
    const before = await grip.getAttribute('aria-valuetext');
    const box = await boxOf(grip);
    await page.touchscreen.tap(box.x + 90, box.y - 60);
    await expect.poll(() => grip.getAttribute('aria-valuetext')).not.toBe(before);
    await page.context().close();
  });

  it('marks what is of the inputs before at once, shows new reads next, and never an old analysis as new', async () => {
    const { page } = await openPage(browser, server.url);
    const marks = await page.evaluate(async () => {
      const frame = () => new Promise((resolve) => requestAnimationFrame(resolve));
      const plan = document.querySelector('.plan')!;
      const stale = (place: string) => document.querySelector(place)!.classList.contains('stale');
      const input = document.querySelector<HTMLInputElement>('#key-2')!;
      const readout = () => document.querySelector('.readouts dd')!.textContent;
      const old = readout();
      input.value = '352 mA';
      input.dispatchEvent(new Event('change', { bubbles: true }));
      await frame();
      await frame();
      const atOnce = plan.classList.contains('stale') && stale('.readout-panel');
      const seen = { fresh: false, oldAsNew: false };
      for (let i = 0; i < 6000 && document.querySelector('[data-work=idle]') === null; i++) {
        await frame();
        seen.fresh ||= document.querySelector('.main-panel .plot.fresh') !== null;
        seen.oldAsNew ||= readout() === old && !stale('.readout-panel');
      }
      return { atOnce, ...seen, changed: readout() !== old };
    });
    expect(marks).toEqual({ atOnce: true, fresh: true, oldAsNew: false, changed: true });
    await page.context().close();
  });

  it('shows a quick judgement of a changed design before the full one', async () => {
    const { page } = await openPage(browser, server.url);
    const sizes = await page.evaluate(async () => {
      const input = document.querySelector<HTMLInputElement>('#key-2')!;
      const told = new Set<string>();
      input.value = '356 mA';
      input.dispatchEvent(new Event('change', { bubbles: true }));
      const look = () => {
        const panel = document.querySelector('.readout-panel')!;
        const rests = panel.querySelector('.note.small')!.textContent!;
        if (!panel.classList.contains('stale'))
          told.add(/patterns and disturb states so far|addresses, history/.exec(rests)![0]);
      };
      const frame = () => new Promise((resolve) => requestAnimationFrame(resolve));
      do {
        await frame();
        look();
      } while (document.querySelector('[data-work=idle]') === null);
      await frame();
      await frame();
      look();
      return [...told];
    });
    expect(sizes).toEqual(['patterns and disturb states so far', 'addresses, history']);
    await page.context().close();
  });

  it('lets time run with a button, and has none for readers who want less motion', async () => {
    const { page } = await openPage(browser, server.url, { reducedMotion: 'no-preference' });
    const dot = page.locator('.loop-now');
    const run = page.getByRole('button', { name: 'Let time pass' });
    const before = await dot.getAttribute('cy');
    await run.click();
    await expect.poll(() => dot.getAttribute('cy')).not.toBe(before);
    await page.getByRole('button', { name: 'Hold', exact: true }).click();
    await page.emulateMedia({ reducedMotion: 'reduce' });
    await expect.poll(() => run.isVisible()).toBe(false);
    await page.context().close();
  });

  it('switches the causes on alone and adds them up to the total', async () => {
    const { page } = await openPage(browser, server.url);
    const titles = () => page.locator('.small-panel figcaption').allInnerTexts();
    expect(await titles()).toEqual(['Direct coupling', 'Half-selected cores', 'Selected core', 'Inhibit']);
    await page.getByLabel('added up').check();
    await expect.poll(async () => (await titles()).at(-1)).toBe('+ Inhibit = total');
    const last = page.locator('.small-panel').last();
    const [total, sum] = await Promise.all([
      last.locator('.line-total .stroke').getAttribute('d'),
      last.locator('.line-inhibit .stroke').getAttribute('d'),
    ]);
    expect(sum).toBe(total);
    await settled(page);
    await page.context().close();
  });
});
