import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import type { Locator, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { valueAt } from '../../engine/sense-amplifier/detector.ts';
import { LESSONS } from '../../web/lessons/course/lessons.ts';
import type { Ask, Truth } from '../../web/lessons/step.ts';
import { de } from '../../web/lessons/words/de/de.ts';
import { en } from '../../web/lessons/words/en/en.ts';
import { boxOf, browserPath, nextFrame, openJudged } from './chromium.ts';
import { visiting } from './visiting.ts';

const axePath = createRequire(import.meta.url).resolve('axe-core/axe.min.js');
const late = en.lessons['what-is-heard'].steps.late;

const rail = (page: Page): Locator => page.locator('.lesson-rail');
const answer = (page: Page): Locator => rail(page).locator('.step-answer');
const press = (page: Page, name: string): Promise<void> =>
  rail(page).getByRole('button', { name, exact: true }).click();
const told = async (page: Page): Promise<string> => {
  await expect.poll(() => answer(page).innerText()).toMatch(/As you said|Not so|Wie erwartet|Nicht richtig/);
  return answer(page).innerText();
};
const nameOf = (page: Page): Promise<string> => page.locator('.name-of-design summary').innerText();

describe.skipIf(browserPath === undefined)('a step beside the stage', () => {
  const visit = visiting();
  /** From a design of the reader's own, over the button of the course or straight by its address. */
  const open = async (step: string, options: object = {}): Promise<{ page: Page; errors: string[] }> => {
    const { page, errors } = await openJudged(
      visit.browser,
      `${visit.server.url}#/plan?d=@single-core-jig`,
      options,
    );
    await page.evaluate((to) => {
      location.hash = `#/plan/lesson/${to}`;
    }, step);
    await rail(page).locator(`#step-${step}`).waitFor();
    return { page, errors };
  };

  it('covers and locks the stage, tells why not, then frees both; back, forward, reload and Plan lose nothing', async () => {
    const { page, errors } = await open('late');
    const ring = page.locator('.ring .region-head');
    expect(await ring.isVisible()).toBe(false);
    expect(await page.locator('.lane-signal svg').first().isVisible()).toBe(false);
    expect(await page.getByRole('heading', { name: 'The mat' }).count()).toBe(0);
    expect(await page.locator('.path-row').isVisible()).toBe(false);
    expect(await page.locator('.cycle-strip').isVisible()).toBe(false);
    // The strobe is put aside so that it tells nothing: no instant is said to be its place.
    const clock = page.locator('.clock-caption');
    await expect.poll(() => clock.innerText()).toBe('0 s nothing flows yet');
    await rail(page).getByRole('radio', { name: late.choices.later.text }).check();
    await press(page, 'Reveal');
    expect(await told(page)).toContain(late.choices.later.whyNot);
    await ring.waitFor();
    expect(await page.locator('.lane-signal svg').first().isVisible()).toBe(true);
    await expect.poll(() => clock.innerText()).toMatch(/^2\d\d(?:\.\d)? ns at the strobe$/);
    // Free play: what was locked may be moved.
    expect(await page.locator('[data-part=drivers]').isDisabled()).toBe(false);
    const mark = page.locator('.step-mark[aria-current=step]');
    expect(await mark.textContent()).toBe('Why the bell comes late, answered, not rightly');
    await rail(page).getByRole('button', { name: 'Next: And if it held a ZERO?' }).click();
    await rail(page).locator('#step-zero').waitFor();
    expect(await ring.isVisible()).toBe(false);
    await page.goBack();
    await rail(page).locator('#step-late').waitFor();
    await page.reload();
    expect(await told(page)).toContain(late.choices.later.whyNot);
    await ring.waitFor();
    // Exactly this board in Plan, and back.
    await press(page, 'Open this board in Plan');
    await page.locator('.lesson-bar').waitFor();
    await page.getByRole('button', { name: 'Back to the lesson' }).click();
    await rail(page).locator('#step-late').waitFor();
    await page.getByRole('link', { name: 'Plan', exact: true }).click();
    await rail(page).waitFor({ state: 'hidden' });
    expect(await nameOf(page)).toContain('Single-core jig');
    expect(errors).toEqual([]);
    await page.context().close();
  });

  it('takes the strobe of the stage itself for an answer, by keys', async () => {
    const { page } = await open('strobe');
    await press(page, 'Reveal');
    await expect.poll(() => answer(page).innerText()).toContain(en.onStage.strobeAside);
    const strobe = page.locator('.handle-strobe');
    await expect.poll(() => strobe.getAttribute('aria-valuetext')).toBe('20 ns');
    expect(await page.locator('[data-region=trace] .handle-threshold').first().isVisible()).toBe(false);
    await strobe.press('ArrowRight');
    await press(page, 'Reveal');
    expect(await told(page)).toMatch(/Not so: At 21 ns .*the best instant, \d+ ns/);
    const best = Number(/the best instant, (\d+) ns/.exec(await told(page))![1]);
    for (let k = 0; k < Math.round((best - 21) / 10); k++) await strobe.press('PageUp');
    await press(page, 'Reveal');
    await expect.poll(() => answer(page).innerText()).toContain('As you said');
    await page.context().close();
  });

  it('is drawn where the trace will be, in one stroke of a pointer', async () => {
    const { page } = await open('draw', { viewport: { width: 1440, height: 900 } });
    const plot = page.locator('.lesson-plot svg.chart');
    await plot.waitFor();
    const step = LESSONS[1]!.steps.find(({ id }) => id === 'draw')!;
    const { at } = step.ask as Extract<Ask, { kind: 'draw' }>;
    const { curve } = step.compute().truth as Extract<Truth, { kind: 'draw' }>;
    const grips = page.locator('.lesson-plot .drawn-grip');
    const centre = async (k: number): Promise<{ x: number; y: number }> => {
      const { x, y, width, height } = await boxOf(grips.nth(k));
      return { x: x + width / 2, y: y + height / 2 };
    };
    const { x: first, y: zero } = await centre(0);
    await page.mouse.move(first, zero);
    await page.mouse.down();
    await page.mouse.move(first, zero - 60);
    const volts = Number(await grips.first().getAttribute('aria-valuenow')) * 1e-3;
    // The first point is where the stroke begins; from there on it runs through what is so.
    const places = await Promise.all(at.map((_, k) => centre(k)));
    for (const [k, time] of at.entries())
      await page.mouse.move(places[k]!.x + 1, zero - (valueAt(curve.time, curve.values, time) * 60) / volts);
    await page.mouse.up();
    await press(page, 'Reveal');
    expect(await told(page)).toContain('As you said');
    await page.locator('.lane-signal svg').first().waitFor();
    expect(await page.locator('.lesson-plot').isVisible()).toBe(false);
    await page.context().close();
  });

  it('is a tab among others on a phone, where a finger draws and hits nothing of under 44 px', async () => {
    const { page } = await open('draw', {
      hasTouch: true,
      isMobile: true,
      viewport: { width: 390, height: 800 },
    });
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    const small = await page
      .locator('.lesson-line, .lesson-rail, .narrow-tabs')
      .locator('button, select, input')
      .evaluateAll((nodes) =>
        nodes
          .map((node) => ({ node, box: node.getBoundingClientRect() }))
          .filter(({ box }) => box.width > 0 && (box.height < 44 || box.width < 44))
          .map(({ node, box }) => `${node.outerHTML.slice(0, 80)} ${box.width} ${box.height}`),
      );
    expect(small).toEqual([]);
    const plot = rail(page).locator('.draw-plot svg.chart');
    await plot.scrollIntoViewIfNeeded();
    const { x, y, width, height } = await boxOf(plot);
    const cdp = await page.context().newCDPSession(page);
    const touch = (
      type: 'touchStart' | 'touchMove' | 'touchEnd',
      part: number,
      up: number,
    ): Promise<unknown> =>
      cdp.send('Input.dispatchTouchEvent', {
        type,
        touchPoints: type === 'touchEnd' ? [] : [{ x: x + width * part, y: y + height * up }],
      });
    await touch('touchStart', 0.1, 0.3);
    for (let part = 0.15; part < 0.99; part += 0.05) await touch('touchMove', part, 0.3);
    await touch('touchEnd', 1, 0.3);
    const heights = await rail(page)
      .locator('.drawn-grip')
      .evaluateAll((grips) => grips.map((grip) => Number(grip.getAttribute('aria-valuenow'))));
    // One stroke has set all points but perhaps the last, to one height.
    expect(new Set(heights.slice(0, -1)).size).toBe(1);
    expect(heights[0]).toBeGreaterThan(50);
    // The browser takes a tap at once after a stroke for a part of it.
    const tab = page.locator('.narrow-tabs').getByRole('button', { name: 'Trace' });
    await expect.poll(() => tab.tap().then(() => rail(page).isVisible())).toBe(false);
    await page.locator('.narrow-tabs').getByRole('button', { name: 'Question' }).tap();
    await rail(page).waitFor();
    await page.context().close();
  });

  it('is told in German too, and gives axe nothing to report before and after the answer, in light and dark', async () => {
    const { page } = await open('hears', { colorScheme: 'light' });
    await page.goto(`${visit.server.url}#/plan/lesson/hears?lang=de`);
    const { title, choices } = de.lessons['what-is-heard'].steps.hears;
    await rail(page)
      .getByRole('heading', { name: `2.2 ${title}` })
      .waitFor();
    await page.evaluate(await readFile(axePath, 'utf8'));
    const look = async (): Promise<void> => {
      for (const colorScheme of ['light', 'dark'] as const) {
        await page.emulateMedia({ colorScheme });
        await nextFrame(page);
        const found = await page.evaluate(async () => {
          const { axe } = globalThis as unknown as {
            axe: {
              run(within: string): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }>;
            };
          };
          const { violations } = await axe.run('html');
          return violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' | ')}`);
        });
        expect(found).toEqual([]);
      }
    };
    await look();
    await rail(page).getByRole('radio', { name: choices!['selected'].text }).check();
    await press(page, de.learn.reveal);
    expect(await told(page)).toContain(choices!['selected'].whyNot);
    await look();
    await page.context().close();
  });
});
