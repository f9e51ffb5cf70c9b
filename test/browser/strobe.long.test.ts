import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { boxOf, browserPath, drag, judgedAfter, nextFrame, openJudged, typeInput } from './chromium.ts';
import { visiting } from './visiting.ts';

describe.skipIf(browserPath === undefined)('the strobe and the threshold', () => {
  const visit = visiting();

  const strobe = (page: Page) => page.getByRole('slider', { name: 'Strobe', exact: true });
  const readouts = (page: Page) => page.locator('.cell[data-set=nominal] .figure').innerText();
  const typeStrobe = async (page: Page, text: string) => {
    await page.locator('#part-strobe-time').fill(text);
    await page.locator('#part-strobe-time').press('Enter');
    await page.locator('#part-strobe-time').blur();
  };
  const at = (page: Page) => strobe(page).getAttribute('aria-valuetext');
  const waitFor = async (page: Page, text: RegExp) => {
    await expect.poll(() => at(page), { timeout: 10_000 }).toMatch(text);
  };

  it('move by the slider of their card too, over the band that reads, as one step of undo', async () => {
    const { page } = await openJudged(
      visit.browser,
      `${visit.server.url}#/plan?d=@classroom-board-first-try-4x4&open=latch`,
    );
    await typeStrobe(page, '110 ns');
    await waitFor(page, /^110 ns/);
    const slider = page.getByRole('slider', { name: 'Strobe, slider', exact: true });
    await slider.press('ArrowRight');
    await waitFor(page, /^111 ns/);
    expect(await slider.getAttribute('aria-valuetext')).toMatch(/^111 ns; /u);
    expect(await page.locator('#part-strobe-time').inputValue()).toBe('111 ns');
    const words = page.locator('.part-card .band-words');
    await expect.poll(() => words.innerText(), { timeout: 30_000 }).toMatch(/^reads /u);
    await page.getByRole('button', { name: 'Undo', exact: true }).click();
    await waitFor(page, /^110 ns/);
    await page.context().close();
  });

  it('reach the same state by number field, arrow keys, Page keys, click and drag', async () => {
    const { page } = await openJudged(visit.browser, `${visit.server.url}#/plan?open=latch`);
    // On the flank of the bell, where the margin follows the strobe.
    await typeStrobe(page, '110 ns');
    await waitFor(page, /^110 ns, margin /);
    await judgedAfter(page);
    const wanted = await readouts(page);

    await strobe(page).focus();
    for (let i = 0; i < 3; i++) await page.keyboard.press('ArrowRight');
    await waitFor(page, /^113 ns/);
    await expect.poll(() => readouts(page)).not.toBe(wanted);
    for (let i = 0; i < 3; i++) await page.keyboard.press('ArrowLeft');
    await waitFor(page, /^110 ns/);
    await expect.poll(() => readouts(page)).toBe(wanted);

    await page.keyboard.press('PageUp');
    await waitFor(page, /^120 ns/);
    await page.keyboard.press('PageDown');
    await waitFor(page, /^110 ns/);
    await expect.poll(() => readouts(page)).toBe(wanted);

    await page.keyboard.press('Home');
    await waitFor(page, /^0 s/);
    await typeStrobe(page, '110 ns');
    await waitFor(page, /^110 ns/);

    // Where 110 ns lies on the screen follows from where the grip is.
    const box = await boxOf(strobe(page));
    const x = box.x + box.width / 2;
    const y = box.y - 80;
    await typeStrobe(page, '300 ns');
    await waitFor(page, /^300 ns/);
    await page.mouse.click(x, y);
    await waitFor(page, /^110 ns/);
    await expect.poll(() => readouts(page)).toBe(wanted);

    await typeStrobe(page, '300 ns');
    await waitFor(page, /^300 ns/);
    const grip = await boxOf(strobe(page));
    await page.mouse.move(grip.x + grip.width / 2, grip.y + grip.height / 2);
    await page.mouse.down();
    await page.mouse.move(x + 60, y, { steps: 4 });
    await page.mouse.move(x, y, { steps: 4 });
    await page.mouse.up();
    await waitFor(page, /^110 ns/);
    await expect.poll(() => readouts(page)).toBe(wanted);
    await page.context().close();
  });

  it('take a drag back in one step of undo', async () => {
    const { page } = await openJudged(visit.browser, `${visit.server.url}#/plan?open=latch`);
    await typeStrobe(page, '300 ns');
    await waitFor(page, /^300 ns/);
    await drag(page, strobe(page), { x: -114 });
    await expect.poll(() => at(page)).not.toMatch(/^300 ns/);
    await page.getByRole('button', { name: 'Undo' }).click();
    await waitFor(page, /^300 ns/);
    await page.getByRole('button', { name: 'Redo' }).click();
    await expect.poll(() => at(page)).not.toMatch(/^300 ns/);
    await page.context().close();
  });

  it('have grips of at least 24 px that say their value and margin', async () => {
    const { page } = await openJudged(visit.browser, `${visit.server.url}#/plan?open=latch`);
    for (const name of ['Strobe', 'Threshold']) {
      const grip = page.getByRole('slider', { name, exact: true });
      const box = await boxOf(grip);
      expect(Math.min(box.width, box.height)).toBeGreaterThanOrEqual(24);
      expect(await grip.getAttribute('aria-valuetext')).toMatch(/^[−\d.]+ \S+, margin .*V$/);
    }
    await page.context().close();
  });

  it('move the threshold by keys and by typing to the same state', async () => {
    const { page } = await openJudged(visit.browser, `${visit.server.url}#/plan?open=detector`);
    const grip = page.getByRole('slider', { name: 'Threshold', exact: true });
    await page.locator('#part-detector-threshold').fill('20 mV');
    await page.locator('#part-detector-threshold').press('Enter');
    await expect.poll(() => grip.getAttribute('aria-valuetext')).toMatch(/^20 mV/);
    await judgedAfter(page);
    const wanted = await readouts(page);
    await grip.focus();
    await page.keyboard.press('ArrowUp');
    await expect.poll(() => grip.getAttribute('aria-valuetext')).toMatch(/^20\.1 mV/);
    await page.keyboard.press('ArrowDown');
    await expect.poll(() => grip.getAttribute('aria-valuetext')).toMatch(/^20 mV/);
    await expect.poll(() => readouts(page)).toBe(wanted);
    await page.context().close();
  });

  it('say beside the field what is wrong with a bad value, and keep the state', async () => {
    const { page } = await openJudged(visit.browser, `${visit.server.url}#/plan?open=latch`);
    await typeStrobe(page, '150 ns');
    await waitFor(page, /^150 ns/);
    await typeStrobe(page, '150');
    await expect
      .poll(() => page.locator('#part-strobe-time-error').innerText())
      .toContain('bare number without a unit');
    expect(await page.locator('#part-strobe-time').getAttribute('aria-invalid')).toBe('true');
    expect(await at(page)).toMatch(/^150 ns/);
    await page.context().close();
  });

  it('keep the last valid chart, marked as of before, while an input is refused', async () => {
    const { page } = await openJudged(visit.browser, `${visit.server.url}#/plan?open=drivers`);
    const line = () => page.locator('.lane-signal .line-one .stroke').getAttribute('d');
    const before = await line();
    await typeInput(page, 'Edge time', '40');
    await expect
      .poll(() => page.locator('.part-card .field-error:visible').innerText())
      .toMatch(/must be a time from .* to .*bare number.*write for example/s);
    await expect
      .poll(() => page.locator('.cell[data-set=nominal]').innerText())
      .toContain('before this change');
    expect(await line()).toBe(before);
    await typeInput(page, 'Edge time', '50 ns');
    await judgedAfter(page);
    await expect.poll(line).not.toBe(before);
    await page.context().close();
  });

  it('never write over what the reader is typing', async () => {
    const { page } = await openJudged(visit.browser, `${visit.server.url}#/plan?open=detector`);
    const field = page.locator('#part-detector-threshold');
    await field.fill('19 m');
    await page.getByRole('button', { name: 'Zoom in' }).evaluate((button) => (button as HTMLElement).click());
    await nextFrame(page);
    expect(await field.inputValue()).toBe('19 m');
    await page.context().close();
  });

  it('show progress and a way to stop while a long run is computed', async () => {
    const { page } = await openJudged(visit.browser, `${visit.server.url}#/plan?open=mat`);
    await page.locator('.part-card').getByLabel('Size').selectOption('128');
    const stop = page.getByRole('button', { name: 'Stop' });
    await stop.waitFor();
    expect(await page.locator('.work-line').innerText()).toMatch(/Computing: \w+/);
    expect(await page.getByRole('progressbar').isVisible()).toBe(true);
    await stop.click();
    await expect.poll(() => page.locator('.work-line').innerText()).toContain('Stopped');
    expect(await page.getByRole('button', { name: 'Compute again' }).isVisible()).toBe(true);
    await page.context().close();
  });

  it('move the core along its loop by plain buttons of the one clock', async () => {
    const { page } = await openJudged(visit.browser, visit.server.url);
    const dot = page.locator('.ring .loop-now');
    const before = await dot.getAttribute('cy');
    for (let i = 0; i < 5; i++) await page.getByRole('button', { name: 'Step on' }).click();
    await expect.poll(() => dot.getAttribute('cy')).not.toBe(before);
    await page.context().close();
  });

  it('let a wheel over the chart scroll the page', async () => {
    const { page } = await openJudged(visit.browser, visit.server.url, {
      viewport: { width: 820, height: 700 },
    });
    const box = await boxOf(page.locator('.lane-signal svg.chart'));
    await page.mouse.move(box.x + 200, box.y + 100);
    await page.mouse.wheel(0, 300);
    await expect.poll(() => page.evaluate(() => window.scrollY)).toBeGreaterThan(100);
    await page.context().close();
  });
});
