import type { Browser, Page } from 'playwright-core';
import { decimate } from '../../web/charts/decimate.ts';
import { pack } from '../../web/state/packing.ts';
import { atRest, browserPath, launch } from '../browser/chromium.ts';
import { servePage } from '../browser/page-server.ts';
import { figureOf, measure, wallClock } from './measure.ts';
import type { BenchContext } from './table.ts';

/** What a reader waits for in the page (F3, F5), in a real browser. */
export async function benchPage(bench: BenchContext): Promise<void> {
  bench.heading('Page, wall time in the browser');
  const values = Float64Array.from({ length: 100_000 }, (_, i) => Math.sin(i / 50));
  const thin = (): unknown => decimate({ start: 0, step: 1, values }, 0, 100_000, 1200);
  bench.row('100,000 samples thinned for drawing, CPU', await measure(thin, { time: 200 }));
  if (browserPath === undefined) {
    bench.note('The rest skipped: no browser at hand.');
    return;
  }
  const server = await servePage();
  const browser = await launch();
  const times = bench.quick ? 2 : 5;
  try {
    const opened: number[] = [];
    const whole: number[] = [];
    for (let i = 0; i <= times; i++) {
      const from = wallClock();
      const page = await openAt(browser, server.url);
      await page.waitForSelector('.lane-signal svg .line path', { state: 'attached' });
      if (i > 0) opened.push(wallClock() - from);
      await atRest(page);
      if (i > 0) whole.push(wallClock() - from);
      await page.context().close();
    }
    bench.row('opening to the first trace', figureOf(opened));
    bench.aim('F5', 'the first trace after opening', figureOf(opened).median, 1000);
    bench.row('opening to the whole strobe analysis', figureOf(whole));

    for (const [words, raw] of [
      ['32 x 32', { mat: { rows: 32, columns: 32 } }],
      ['8 x 8, 100,000 samples', { mat: { rows: 8, columns: 8 }, numerics: { output: '30 ps' } }],
    ] as const) {
      const page = await openAt(browser, `${server.url}#/plan?open=drivers&d=s2-${await pack(raw)}`);
      await atRest(page);
      bench.row(`${words}: strobe moved a step, script`, figureOf(await moveStrobe(page, 4 * times)));
      bench.row(
        `${words}: all charts over time drawn again, no run`,
        figureOf(await redraw(page, 4 * times)),
      );
      const first: number[] = [];
      const all: number[] = [];
      for (let i = 0; i < times; i++) {
        const { answer, idle } = await changeDrive(page, `${371 + i} mA`);
        first.push(answer);
        all.push(idle);
      }
      bench.row(`${words}: drive current changed, new traces`, figureOf(first));
      if (words === '32 x 32') bench.aim('F3', 'a changed current drawn', figureOf(first).median, 100);
      bench.row(`${words}: drive current changed, all worst cases`, figureOf(all));
      await page.context().close();
    }
  } finally {
    await browser.close();
    await server.close();
  }
}

async function openAt(browser: Browser, url: string): Promise<Page> {
  const context = await browser.newContext({
    viewport: { width: 1280, height: 900 },
    reducedMotion: 'reduce',
  });
  const page = await context.newPage();
  page.setDefaultTimeout(120_000);
  await page.goto(url);
  return page;
}

/** ms from a key to the end of the frame that shows the strobe where the key put it. */
const moveStrobe = (page: Page, times: number): Promise<number[]> =>
  page.evaluate(async (count) => {
    const spent: number[] = [];
    const strobe = (): Element => document.querySelector('[role=slider][aria-label^=Strobe]')!;
    for (let i = 0; i < count; i++) {
      const before = strobe().getAttribute('aria-valuetext');
      const from = performance.now();
      strobe().dispatchEvent(
        new KeyboardEvent('keydown', { key: i % 2 === 0 ? 'ArrowRight' : 'ArrowLeft', bubbles: true }),
      );
      while (strobe().getAttribute('aria-valuetext') === before && performance.now() - from < 5000)
        await new Promise((resolve) => requestAnimationFrame(resolve));
      spent.push(performance.now() - from);
      await new Promise((resolve) => setTimeout(resolve, 30));
    }
    return spent;
  }, times);

/** ms of script and layout for the same traces on another time axis. */
const redraw = (page: Page, times: number): Promise<number[]> =>
  page.evaluate(async (count) => {
    const spent: number[] = [];
    const path = (): string | null =>
      document.querySelector('.lane-signal .line-one .stroke')!.getAttribute('d');
    const buttons = [...document.querySelectorAll<HTMLButtonElement>('.zoom button')];
    for (let i = 0; i < count; i++) {
      const before = path();
      const from = performance.now();
      buttons.find((button) => button.textContent!.trim() === (i % 2 === 0 ? 'Cycle' : 'Read'))!.click();
      while (path() === before && performance.now() - from < 5000)
        await new Promise((resolve) => requestAnimationFrame(resolve));
      void document.documentElement.scrollHeight;
      spent.push(performance.now() - from);
      await new Promise((resolve) => setTimeout(resolve, 30));
    }
    return spent;
  }, times);

/** ms from a new drive current to fresh traces, and to the end of all work. */
const changeDrive = (page: Page, text: string): Promise<{ answer: number; idle: number }> =>
  page.evaluate(async (value) => {
    const frame = (): Promise<number> => new Promise((resolve) => requestAnimationFrame(resolve));
    const stale = (): boolean => document.querySelector('main[data-run-old=true]') !== null;
    const busy = (): boolean => document.querySelector('[data-work=idle]') === null;
    const input = document.querySelector<HTMLInputElement>('#part-drive-x-readAmplitude')!;
    input.value = value;
    const from = performance.now();
    input.dispatchEvent(new Event('change', { bubbles: true }));
    while (!stale() && performance.now() - from < 1000) await frame();
    while (stale()) await frame();
    const answer = performance.now() - from;
    while (stale() || busy()) await frame();
    return { answer, idle: performance.now() - from };
  }, text);
