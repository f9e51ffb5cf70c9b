import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import {
  browserPath,
  goTo,
  judged,
  judgedAfter,
  nextFrame,
  openDemo,
  openDrawer,
  openJudged,
  openPart,
  typeInput,
} from './chromium.ts';
import { visiting } from './visiting.ts';

describe.skipIf(browserPath === undefined)('addresses and what is kept', () => {
  const visit = visiting();

  const kept = (page: Page) => expect.poll(() => page.locator('.kept').innerText()).toContain('Kept');
  const temperature = (page: Page) => page.locator('#part-temperature').inputValue();
  const place = (page: Page) => page.locator('main').getAttribute('data-place');

  it('brings back design, undo, place and instant after a reload', async () => {
    const { page } = await openJudged(
      visit.browser,
      `${visit.server.url}#/plan?d=@single-core-jig&open=drivers`,
    );
    await typeInput(page, 'Temperature', '30 degC');
    await judgedAfter(page);
    await typeInput(page, 'Temperature', '35 degC');
    await judgedAfter(page);
    for (let i = 0; i < 3; i++) await page.getByRole('button', { name: 'Step on' }).click();
    await nextFrame(page);
    const caption = await page.locator('.clock-caption').innerText();
    await openDrawer(page, 'warnings');
    await expect.poll(() => page.url()).toMatch(/#\/plan\/warnings\?d=~[a-z0-9]{6}.*t=/);
    await kept(page);
    // What was written last names the drawer; only then is a reload told apart from a fresh start.
    await expect
      .poll(async () => {
        await page.reload();
        await judged(page);
        return page.locator('.clock-caption').innerText();
      })
      .toBe(caption);
    expect(await page.locator('[data-drawer=warnings]').count()).toBe(1);
    expect(await temperature(page)).toBe('35 degC');
    await page.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(() => temperature(page)).toBe('30 degC');
    await page.getByRole('button', { name: 'Redo' }).click();
    await expect.poll(() => temperature(page)).toBe('35 degC');
    await page.context().close();
  });

  it('goes back and forth between places, drawers among them, without losing the design', async () => {
    const { page } = await openJudged(
      visit.browser,
      `${visit.server.url}#/plan?d=@single-core-jig&open=drivers`,
    );
    // Going on at once: the address has not rested yet.
    await typeInput(page, 'Temperature', '31 degC');
    await openDrawer(page, 'inputs');
    await goTo(page, 'Bench');
    await page.goBack();
    await expect.poll(() => place(page)).toBe('plan');
    await expect.poll(() => page.locator('[data-drawer=inputs]').count()).toBe(1);
    await page.goBack();
    await expect.poll(() => page.locator('.drawer').count()).toBe(0);
    expect(await temperature(page)).toBe('31 degC');
    await page.goForward();
    await page.goForward();
    await expect.poll(() => place(page)).toBe('bench');
    await page.context().close();
  });

  it('writes a gesture into the address in place, so that Back does not walk through it', async () => {
    const { page } = await openJudged(visit.browser, `${visit.server.url}#/plan`);
    const steps = () => page.evaluate(() => history.length);
    const before = await steps();
    for (let i = 0; i < 30; i++) await page.getByRole('button', { name: 'Step on' }).click();
    await expect.poll(() => page.url()).toContain('t=');
    expect(await steps()).toBe(before);
    await page.context().close();
  });

  it('names a demo that is as it was by its name, and what was made of it by what is kept', async () => {
    const { page } = await openJudged(visit.browser, visit.server.url);
    await openDemo(page, 'classroom-board-first-try-4x4');
    await expect.poll(() => page.url()).toContain('d=@classroom-board-first-try-4x4');
    await openPart(page, 'drivers');
    await typeInput(page, 'Temperature', '29 degC');
    await expect.poll(() => page.url()).toMatch(/d=~[a-z0-9]{6}/);
    await page.context().close();
  });

  it('says when another tab has changed the same design, and takes it or keeps a copy', async () => {
    const { page } = await openJudged(
      visit.browser,
      `${visit.server.url}#/plan?d=@single-core-jig&open=drivers`,
    );
    await typeInput(page, 'Temperature', '28 degC');
    await judgedAfter(page);
    await kept(page);
    await expect.poll(() => page.url()).toContain('d=~');
    const other = await page.context().newPage();
    await other.goto(page.url());
    await judged(other);
    expect(await temperature(other)).toBe('28 degC');
    await typeInput(other, 'Temperature', '33 degC');
    const take = page.getByRole('button', { name: 'Take it' });
    await take.waitFor();
    await take.click();
    await expect.poll(() => temperature(page)).toBe('33 degC');
    await typeInput(page, 'Temperature', '34 degC');
    await other.getByRole('button', { name: 'Keep mine as a copy' }).click();
    await expect.poll(() => other.url() === page.url()).toBe(false);
    expect(await temperature(other)).toBe('33 degC');
    await page.context().close();
  });

  it('says that nothing is kept where the browser refuses storage, and works on', async () => {
    const context = await visit.browser.newContext({ reducedMotion: 'reduce' });
    const page = await context.newPage();
    await page.addInitScript(() => {
      indexedDB.open = () => {
        throw new DOMException('refused', 'SecurityError');
      };
    });
    await page.goto(visit.server.url);
    await judged(page);
    await nextFrame(page);
    await expect
      .poll(() => page.locator('.kept').innerText())
      .toMatch(/^Not kept: .*Save the design as a file/);
    await context.close();
  });
});
