import type { Browser, Page } from 'playwright-core';
import { LESSONS } from '../../web/lessons/course/lessons.ts';
import { en } from '../../web/lessons/words/en/en.ts';
import { browserPath, launch } from '../browser/chromium.ts';
import { servePage } from '../browser/page-server.ts';
import { figureOf, measure } from './measure.ts';
import type { BenchContext } from './table.ts';

/** A machine so many times slower: the page's own thread, that is; what a worker computes is told apart. */
const SLOWER = 4;
/** ms that a reader at least takes over a question before asking for what is so. */
const THOUGHT = 5000;
/** ms from Reveal to what is so. */
const AIM = 500;

interface Reveal {
  readonly id: string;
  /** ms to the picture of what is so. */
  readonly shown: number;
  /** ms of the longest task meanwhile that let nothing else happen. */
  readonly blocked: number;
}

const STEPS = LESSONS.flatMap(({ steps }) => steps);

/** What a reader of the lessons waits for, on a page that is four times slower, in Learn and beside the stage. */
export async function benchLessons(bench: BenchContext): Promise<void> {
  bench.heading('Lessons: what a step computes beside the page, CPU');
  for (const { id, compute } of bench.quick ? STEPS.slice(0, 8) : STEPS)
    bench.row(id, await measure(() => void compute(), { time: 50 }));
  if (browserPath === undefined) {
    bench.note('The rest skipped: no browser at hand.');
    return;
  }
  bench.heading(`Lessons: from Reveal to what is so, the page's thread ${SLOWER} times slower, wall time`);
  const server = await servePage();
  const browser = await launch();
  try {
    for (const [where, to] of [
      ['in Learn', inLearn],
      ['beside the stage', onStage],
    ] as const) {
      const reveals = await to(browser, server.url, bench.quick ? STEPS.slice(0, 4) : STEPS);
      for (const { id, shown, blocked } of reveals)
        bench.note(
          `${where}, ${id}: shown after ${shown.toFixed(0)} ms, longest task ${blocked.toFixed(0)} ms`,
        );
      const shown = figureOf(reveals.map((each) => each.shown));
      bench.row(`${where}, all ${reveals.length} steps`, shown);
      bench.aim('18.6', `the slowest reveal ${where}`, Math.max(...reveals.map((each) => each.shown)), AIM);
      bench.aim('18.6', `the longest task ${where}`, Math.max(...reveals.map((each) => each.blocked)), AIM);
    }
  } finally {
    await browser.close();
    await server.close();
  }
}

async function open(browser: Browser, url: string): Promise<Page> {
  const context = await browser.newContext({
    viewport: { width: 1440, height: 900 },
    reducedMotion: 'reduce',
  });
  const page = await context.newPage();
  page.setDefaultTimeout(120_000);
  await page.goto(url);
  const cdp = await context.newCDPSession(page);
  await cdp.send('Emulation.setCPUThrottlingRate', { rate: SLOWER });
  return page;
}

async function inLearn(browser: Browser, url: string, steps: typeof STEPS): Promise<Reveal[]> {
  const page = await open(browser, `${url}#/learn`);
  const reveals: Reveal[] = [];
  for (const { id } of steps) {
    const step = page.locator(`.learn #step-${id}`);
    await step.scrollIntoViewIfNeeded();
    await page.waitForTimeout(THOUGHT);
    reveals.push(await reveal(page, `.learn #step-${id}`, id));
  }
  await page.context().close();
  return reveals;
}

async function onStage(browser: Browser, url: string, steps: typeof STEPS): Promise<Reveal[]> {
  const page = await open(browser, `${url}#/plan?d=@single-core-jig`);
  const reveals: Reveal[] = [];
  for (const { id } of steps) {
    await page.evaluate((to) => {
      location.hash = `#/plan/lesson/${to}`;
    }, id);
    await page.locator(`.lesson-rail #step-${id}`).waitFor();
    await page.waitForTimeout(THOUGHT);
    reveals.push(await reveal(page, `.lesson-rail #step-${id}`, id));
  }
  await page.context().close();
  return reveals;
}

/** Shows what is so without an answer, which waits for the same. */
const reveal = (page: Page, step: string, id: string): Promise<Reveal> =>
  page.evaluate(
    async ({ of, name, show }) => {
      let blocked = 0;
      const watch = new PerformanceObserver((list) => {
        for (const { duration } of list.getEntries()) blocked = Math.max(blocked, duration);
      });
      watch.observe({ type: 'longtask' });
      const node = document.querySelector(of)!;
      const from = performance.now();
      [...node.querySelectorAll('button')].find(({ textContent }) => textContent === show)!.click();
      while (!node.querySelector('.step-answer svg.chart path.stroke'))
        await new Promise((resolve) => requestAnimationFrame(resolve));
      await new Promise((resolve) => requestAnimationFrame(resolve));
      const shown = performance.now() - from;
      // What the stage does with it is a task of the moment after.
      await new Promise((resolve) => setTimeout(resolve, 1500));
      watch.disconnect();
      return { id: name, shown, blocked };
    },
    { of: step, name: id, show: en.learn.show },
  );
