import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { boxOf, browserPath, drag, nextFrame, openDrawer, openJudged, openPage } from './chromium.ts';
import { visiting } from './visiting.ts';

/** px: how far two drawn lines lie apart at most; there and back again rounds to a tenth. */
function apart(one: string | null, other: string | null): number {
  const [a, b] = [one, other].map((text) => (text?.match(/[\d.]+/gu) ?? []).map(Number)) as [
    number[],
    number[],
  ];
  return a.length === 0 || a.length !== b.length
    ? Infinity
    : Math.max(...a.map((value, k) => Math.abs(value - b[k]!)));
}

describe.skipIf(browserPath === undefined)('looking and moving', () => {
  const visit = visiting();

  const path = (page: Page) => page.locator('.lane-signal .line-one .stroke').getAttribute('d');

  it('opens on a working read cycle, the answer over it, and everything else one click away', async () => {
    const { page } = await openJudged(visit.browser, visit.server.url);
    const chart = await boxOf(page.locator('.lane-signal svg.chart'));
    expect(chart.y + chart.height).toBeLessThan(700);
    // Each part of the path shows what leaves it.
    await expect.poll(() => page.locator('.path .thumbnail path').count()).toBe(6);
    for (const style of ['one', 'zero'])
      expect(await page.locator(`.lane-signal .line-${style} .stroke`).count()).toBe(1);
    expect(await page.locator('.cell[data-set=nominal] .figure').innerText()).toMatch(/[\d.]+ mV left/);
    expect(await page.locator('.sentence').innerText()).toContain('core memory');
    expect(await page.locator('.drawer').count()).toBe(0);
    for (const name of ['studies', 'pinned', 'inputs', 'cases', 'warnings'] as const) {
      const drawer = await openDrawer(page, name);
      await expect.poll(async () => (await drawer.innerText()).length).toBeGreaterThan(20);
    }
    await page.context().close();
  });

  it('holds all of Plan in a window of 1440 × 900 and of 1920 × 1080 without scrolling', async () => {
    const { page } = await openPage(visit.browser, visit.server.url, {
      viewport: { width: 1440, height: 900 },
    });
    for (const viewport of [
      { width: 1440, height: 900 },
      { width: 1920, height: 1080 },
    ]) {
      await page.setViewportSize(viewport);
      await expect
        .poll(() => page.evaluate(() => document.documentElement.scrollHeight))
        .toBe(viewport.height);
      const [clock, shelf] = [await boxOf(page.locator('.clock')), await boxOf(page.locator('.shelf'))];
      expect(clock.y + clock.height).toBeLessThanOrEqual(shelf.y + 1);
      // The answer keeps to its row, and every stair of the margin to the last sum is seen.
      expect((await boxOf(page.locator('.verdict-row'))).height).toBeLessThanOrEqual(60);
      const [chain, margin] = [
        await boxOf(page.locator('.stairs-body')),
        await boxOf(page.locator('.margin')),
      ];
      expect(chain.y + chain.height).toBeLessThanOrEqual(margin.y + margin.height + 1);
    }
    await page.context().close();
  });

  it('zooms and pans by plain buttons and comes back to the read', async () => {
    // A demo whose lines go beyond the room for the bell.
    const { page } = await openPage(
      visit.browser,
      `${visit.server.url}#/plan?d=@classroom-board-first-try-4x4`,
    );
    const before = await path(page);
    const press = async (name: string) => {
      const old = await path(page);
      await page.getByRole('button', { name, exact: true }).first().click();
      await expect.poll(() => path(page)).not.toBe(old);
      // The scale may follow the span a frame later.
      let drawn = await path(page);
      for (let last: typeof drawn = null; last !== drawn; drawn = await path(page)) {
        last = drawn;
        await nextFrame(page);
      }
    };
    await press('Zoom in');
    const zoomed = await path(page);
    await press('Later');
    await press('Earlier');
    await expect.poll(async () => apart(await path(page), zoomed)).toBeLessThan(0.15);
    await press('Zoom out');
    await press('Cycle');
    await press('Read');
    await expect.poll(async () => apart(await path(page), before)).toBeLessThan(0.15);
    const clipped = page.getByRole('button', { name: /up to \d+ mV/ });
    await clipped.click();
    await expect.poll(() => path(page)).not.toBe(before);
    await press('Hold scale');
    await expect.poll(async () => apart(await path(page), before)).toBeLessThan(0.15);
    await page.context().close();
  });

  it('undoes and redoes by keys, but leaves them to a text box', async () => {
    const { page } = await openJudged(
      visit.browser,
      `${visit.server.url}#/plan?d=@single-core-jig&open=detector`,
    );
    const grip = page.getByRole('slider', { name: 'Strobe', exact: true });
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
    const field = page.locator('#part-detector-threshold');
    await field.focus();
    await page.keyboard.type('7');
    await page.keyboard.press('Control+z');
    expect(await value()).toBe(moved);
    await page.context().close();
  });

  it('takes the strobe by touch', async () => {
    const { page } = await openJudged(visit.browser, `${visit.server.url}#/plan?d=@single-core-jig`, {
      hasTouch: true,
    });
    const grip = page.getByRole('slider', { name: 'Strobe', exact: true });
    const before = await grip.getAttribute('aria-valuetext');
    const box = await boxOf(grip);
    await page.touchscreen.tap(box.x + 90, box.y - 60);
    await expect.poll(() => grip.getAttribute('aria-valuetext')).not.toBe(before);
    await page.context().close();
  });

  it('marks what is of the inputs before at once, shows new reads next, and never an old answer as new', async () => {
    const { page } = await openPage(visit.browser, `${visit.server.url}#/plan?open=drivers`);
    const marks = await page.evaluate(async () => {
      const frame = () => new Promise((resolve) => requestAnimationFrame(resolve));
      const cell = document.querySelector('.cell[data-set=nominal]')!;
      const isOld = () => cell.classList.contains('old');
      const figure = () => cell.querySelector('.figure')!.textContent;
      const input = document.querySelector<HTMLInputElement>('#part-drive-x-readAmplitude')!;
      const before = figure();
      input.value = '352 mA';
      input.dispatchEvent(new Event('change', { bubbles: true }));
      await frame();
      await frame();
      const atOnce = isOld() && document.querySelector('.lane-signal.old') !== null;
      const seen = { fresh: false, oldAsNew: false };
      for (let i = 0; i < 6000 && document.querySelector('[data-work=idle]') === null; i++) {
        await frame();
        seen.fresh ||= document.querySelector('.lane-signal .plot.fresh') !== null;
        seen.oldAsNew ||= figure() === before && !isOld();
      }
      await frame();
      return { atOnce, ...seen, changed: figure() !== before };
    });
    expect(marks).toEqual({ atOnce: true, fresh: true, oldAsNew: false, changed: true });
    await page.context().close();
  });

  it('shows a quick judgement of a changed design before the full one', async () => {
    const { page } = await openPage(visit.browser, `${visit.server.url}#/plan?open=drivers`);
    const corners = await page.evaluate(async () => {
      const input = document.querySelector<HTMLInputElement>('#part-drive-x-readAmplitude')!;
      const told = new Set<string>();
      input.value = '356 mA';
      input.dispatchEvent(new Event('change', { bubbles: true }));
      const look = () => {
        const [nominal, atCorners] = ['nominal', 'corners'].map((set) =>
          document.querySelector(`.cell[data-set=${set}]`)!,
        );
        if (!nominal!.classList.contains('old'))
          told.add(atCorners!.classList.contains('standing-unknown') ? 'quick' : 'full');
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
    expect(corners).toEqual(['quick', 'full']);
    // What stood before lies dotted under it, with what the change has brought, until it is hidden.
    const before = page.getByRole('group', { name: 'Before the last change' });
    expect(await before.innerText()).toMatch(/as designed [+−±][\d.]+ mV, at the corners [+−±][\d.]+ mV/u);
    expect(await page.locator('.lane-signal [class*=line-before]').count()).toBe(2);
    await before.getByRole('button', { name: 'Hide' }).click();
    await expect.poll(() => page.locator('.lane-signal [class*=line-before]').count()).toBe(0);
    expect(await before.count()).toBe(0);
    await page.context().close();
  });

  it('lets time run with a button, and has none for readers who want less motion', async () => {
    const { page } = await openJudged(visit.browser, visit.server.url, { reducedMotion: 'no-preference' });
    const dot = page.locator('.ring .loop-now');
    const run = page.getByRole('button', { name: 'Play' });
    const before = await dot.getAttribute('cy');
    await run.click();
    await expect.poll(() => dot.getAttribute('cy')).not.toBe(before);
    await page.getByRole('button', { name: 'Hold', exact: true }).click();
    await page.emulateMedia({ reducedMotion: 'reduce' });
    await expect.poll(() => run.isVisible()).toBe(false);
    await page.context().close();
  });

  it('switches the causes on alone and adds them up, each line under its own name', async () => {
    const { page } = await openPage(visit.browser, visit.server.url);
    const lane = page.locator('.lane-causes');
    const last = () => lane.locator('.line-selected .stroke').getAttribute('d');
    const alone = await last();
    expect(await lane.innerHTML()).toMatch(/half-selected cores[^]*selected core/);
    await lane.getByRole('button', { name: 'added up' }).click();
    await expect.poll(last).not.toBe(alone);
    await page.context().close();
  });

  it('lets one cause be picked out by pointer and keys: its line, stair and cores stand out until it is let go', async () => {
    const { page } = await openPage(
      visit.browser,
      `${visit.server.url}#/plan?d=@classroom-board-first-try-4x4`,
    );
    const button = (name: string) => page.locator('.lane-causes').getByRole('button', { name, exact: true });
    const seen = () =>
      page.evaluate(() => {
        const strong = (what: string) =>
          [...document.querySelectorAll(what)].filter((one) => getComputedStyle(one).opacity === '1');
        return {
          pressed: [...document.querySelectorAll('.cause-list [aria-pressed=true]')].map(
            (one) => one.ariaLabel,
          ),
          lines: strong('.lane-causes .line').map((line) => line.classList[1]),
          stairs: strong('.stairs g:has(> .stair)').map(
            (stair) => stair.querySelector('.stair')!.classList[1],
          ),
          rings: strong('.mat .core-gives.near').flatMap((path) => path.getAttribute('d')!.match(/M/gu)!)
            .length,
        };
      });
    await page.locator('.mat .core-gives').first().waitFor({ state: 'attached' });
    const plain = await seen();
    expect(plain.pressed).toEqual([]);
    expect(plain.lines.length).toBeGreaterThan(1);
    expect(plain.stairs.length).toBeGreaterThan(1);
    await button('Selected core').click();
    await expect.poll(async () => (await seen()).lines).toEqual(['line-selected']);
    const selected = await seen();
    expect(selected).toMatchObject({ pressed: ['Selected core'], stairs: ['stair-core'] });
    expect([plain.rings, selected.rings]).toEqual([16, 1]);
    // Another by keys takes its place, and the same key lets it go.
    await button('Selected core').focus();
    await page.keyboard.press('ArrowLeft');
    await page.keyboard.press('Enter');
    await expect.poll(async () => (await seen()).lines).toEqual(['line-half']);
    const half = await seen();
    expect(half).toMatchObject({ pressed: ['Half-selected cores'], stairs: ['stair-half'] });
    // On one of two lines of four cores, but not on both.
    expect(half.rings).toBe(6);
    await page.keyboard.press('Enter');
    await expect.poll(seen).toEqual(plain);
    await page.context().close();
  });

  it('reads every lane at one instant, by pointer and by keys, and sets the clock there', async () => {
    const { page } = await openJudged(visit.browser, visit.server.url);
    const lanes = await boxOf(page.locator('.lanes'));
    const stop = (lane: string) => page.getByRole('slider', { name: `Reading line: ${lane}` });
    await page.mouse.move(lanes.x + 260, lanes.y + 60);
    await expect.poll(() => page.locator('.reading-flag').count()).toBe(4);
    const told = await Promise.all(
      ['signal', 'causes', 'detector', 'currents'].map((lane) => stop(lane).getAttribute('aria-valuetext')),
    );
    const times = told.map((text) => text!.split(':')[0]);
    expect(new Set(times).size).toBe(1);
    expect(told[0]).toMatch(/least ONE .*V, greatest ZERO .*V$/u);
    expect(told[3]).toMatch(/X −?[\d.]+ \S*A, Y /u);
    await page.mouse.move(2, 2);
    await expect.poll(() => page.locator('.reading-flag').count()).toBe(0);
    await stop('causes').focus();
    await page.keyboard.press('PageUp');
    await expect.poll(() => page.locator('.reading-dots').count()).toBe(1);
    const at = (await stop('causes').getAttribute('aria-valuetext'))!.split(':')[0]!;
    await page.keyboard.press('Enter');
    await expect
      .poll(() => page.locator('.clock-caption').innerText())
      .toContain(at.split(' ')[0]!.slice(0, 3));
    await page.keyboard.press('Escape');
    await expect.poll(() => page.locator('.reading-dots').count()).toBe(0);
    await page.context().close();
  });

  it('takes single letters while the stage has the focus, and none once they are switched off', async () => {
    const { page } = await openJudged(
      visit.browser,
      `${visit.server.url}#/plan?d=@classroom-board-first-try-4x4`,
    );
    const caption = page.locator('.clock-caption');
    await page.keyboard.press('b');
    expect(await page.getByRole('button', { name: 'ONE', exact: true }).getAttribute('aria-pressed')).toBe(
      'true',
    );
    await page.locator('.stage').focus();
    await page.keyboard.press('b');
    const zero = page.getByRole('button', { name: 'ZERO', exact: true });
    await expect.poll(() => zero.getAttribute('aria-pressed')).toBe('true');
    await page.keyboard.press('[');
    await expect.poll(() => caption.innerText()).not.toContain('at the strobe');
    await page.keyboard.press('2');
    await page.locator('.evidence-card').waitFor();
    await page.keyboard.press('s');
    expect(await page.evaluate(() => document.activeElement?.ariaLabel)).toBe('Strobe');
    await page.locator('.view-menu > summary').click();
    await page.getByLabel('Single letters are keys on the stage').uncheck();
    await page.locator('.stage').focus();
    await page.keyboard.press('b');
    await nextFrame(page);
    expect(await zero.getAttribute('aria-pressed')).toBe('true');
    await page.context().close();
  });

  it('draws no casing over a line, and no title over a lane', async () => {
    const { page } = await openJudged(visit.browser, visit.server.url);
    expect(await page.locator('.lanes .line .casing').count()).toBe(0);
    const apartFromPlot = await page.evaluate(() =>
      [...document.querySelectorAll('.lane-title')].map((title) => {
        const plot = title.parentElement!.querySelector('svg.chart .ground')!;
        return plot.getBoundingClientRect().top - title.getBoundingClientRect().bottom;
      }),
    );
    expect(apartFromPlot).toHaveLength(3);
    for (const gap of apartFromPlot) expect(gap).toBeGreaterThanOrEqual(-0.5);
    await page.context().close();
  });

  it('takes the bracket of the margin: strobe and threshold move, and one undo brings both back', async () => {
    const { page } = await openPage(visit.browser, visit.server.url);
    const value = (name: string) =>
      page.getByRole('slider', { name, exact: true }).getAttribute('aria-valuenow');
    const before = [await value('Strobe'), await value('Threshold')];
    await drag(page, page.locator('.bracket-grip'), { x: 24, y: 12 });
    await expect.poll(() => value('Strobe')).not.toBe(before[0]);
    await expect.poll(() => value('Threshold')).not.toBe(before[1]);
    await page.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(async () => [await value('Strobe'), await value('Threshold')]).toEqual(before);
    await page.context().close();
  });
});
