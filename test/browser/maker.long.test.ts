import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { writeCode, type Coded } from '../../web/lessons/made/answer-code.ts';
import type { MadeLesson, OwnStep } from '../../web/lessons/made/lesson.ts';
import { readLesson } from '../../web/lessons/made/read-lesson.ts';
import { lessonNumber, shapesOf } from '../../web/lessons/made/shapes.ts';
import { valueIndex } from '../../web/lessons/made/variants.ts';
import { ownLesson } from '../web/own-lesson.ts';
import { browserPath, drag, nextFrame, openJudged } from './chromium.ts';
import { visiting } from './visiting.ts';

const axePath = createRequire(import.meta.url).resolve('axe-core/axe.min.js');

const violations = (page: Page): Promise<string[]> =>
  page.evaluate(async () => {
    const { axe } = globalThis as unknown as {
      readonly axe: {
        run(within: string): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }>;
      };
    };
    const found = await axe.run('html');
    return found.violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' | ')}`);
  });

const button = (page: Page, name: string) => page.locator('.other-place').getByRole('button', { name });

/** Checks all, and waits until this is said of it; what was said before may stand for a moment. */
async function checkAll(page: Page, said: string): Promise<void> {
  await button(page, 'Check all').click();
  await expect.poll(() => page.locator('.maker [role=status]').innerText()).toContain(said);
}

/** Sets a text field or list of the maker, and leaves it. */
async function fill(page: Page, id: string, text: string): Promise<void> {
  await page.locator(`#${id}`).fill(text);
  await page.locator(`#${id}`).press('Tab');
}

describe.skipIf(browserPath === undefined)('the lesson maker', () => {
  const visit = visiting();
  const start = async (part: string, options: object = {}): Promise<{ page: Page; errors: string[] }> => {
    const url = `${visit.server.url}#/plan?d=@single-core-jig`;
    const { page, errors } = await openJudged(visit.browser, url, options);
    await page.evaluate((to) => {
      location.hash = `#/learn/${to}`;
    }, part);
    await page.locator('.learn-place h1').waitFor();
    return { page, errors };
  };

  it('makes a lesson by keys and pointer, refuses what nobody can reach, saves it, and opens it again', async () => {
    const { page, errors } = await start('make', { acceptDownloads: true });
    await fill(page, 'lesson-title', 'Strobe and bell');
    await button(page, 'Add a question of my own').click();
    await fill(page, 'step-title', 'Put the strobe');
    await page.locator('.maker-editor').getByRole('button', { name: 'placing' }).click();
    await fill(page, 'ask-least', '40 mV');
    await fill(page, 'ask-low', 'The spike is still there.');
    await page.getByRole('checkbox', { name: 'margin' }).check();
    await checkAll(page, '1 question cannot be answered');
    expect(await page.locator('.checked').innerText()).toMatch(
      /at least 40 mV is asked for, but the best that can be reached on this board is 14\.1 mV, at \d+ ns/,
    );
    await fill(page, 'ask-least', '8');
    await expect.poll(() => page.locator('.maker').innerText()).toContain('must be a voltage with its unit');
    await fill(page, 'ask-least', '8 mV');
    await page.locator('#add-course').selectOption('loop');
    await page.locator('.maker-steps li').nth(1).waitFor();
    await page.locator('.maker-step').nth(1).focus();
    await page.keyboard.press('Alt+ArrowUp');
    await expect
      .poll(() => page.locator('.maker-step').first().innerText())
      .toContain('One core and its loop');
    await button(page, 'Undo in the lesson').click();
    await expect.poll(() => page.locator('.maker-step').first().innerText()).toContain('Put the strobe');
    // And by its grip.
    await drag(page, page.locator('.maker-grip').nth(1), { y: -120 });
    await expect
      .poll(() => page.locator('.maker-step').first().innerText())
      .toContain('One core and its loop');
    await button(page, 'Undo in the lesson').click();
    await expect.poll(() => page.locator('.maker-step').first().innerText()).toContain('Put the strobe');
    await checkAll(page, 'Every question can be answered.');
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      button(page, 'Save as a file').click(),
    ]);
    const text = await readFile((await download.path())!, 'utf8');
    const saved = readLesson(JSON.parse(text));
    expect(saved).toMatchObject({
      title: 'Strobe and bell',
      steps: [{ covered: ['margin'] }, { course: 'loop' }],
    });
    // Kept over a reload, and opened again from its file as it was.
    await page.reload();
    await expect.poll(() => page.locator('#lesson-title').inputValue()).toBe('Strobe and bell');
    await button(page, 'New lesson').click();
    await expect.poll(() => page.locator('.maker-steps li').count()).toBe(0);
    const file = page.locator('#lesson-file');
    await file.setInputFiles({
      name: 'bad.json',
      mimeType: 'application/json',
      buffer: Buffer.from('{"a":1}'),
    });
    await expect
      .poll(() => page.locator('.maker-head .field-error').innerText())
      .toContain('This is not a lesson');
    await file.setInputFiles({ name: 'good.json', mimeType: 'application/json', buffer: Buffer.from(text) });
    await expect.poll(() => page.locator('.maker-steps li').count()).toBe(2);
    expect(errors).toEqual([]);
    await page.context().close();
  });

  it('gives it out as a link that is answered right and wrong, told by codes, and counted', async () => {
    const { page, errors } = await start('make');
    const lesson = { format: 'strobewright lesson', version: 1, ...ownLesson };
    await page.locator('#lesson-file').setInputFiles({
      name: 'x.json',
      mimeType: 'application/json',
      buffer: Buffer.from(JSON.stringify(lesson)),
    });
    await expect.poll(() => page.locator('.maker-steps li').count()).toBe(3);
    await button(page, 'Copy the link').click();
    await page.locator('#lesson-link').waitFor();
    const link = await page.locator('#lesson-link').inputValue();
    expect(link.length).toBeLessThan(8000);

    const codes = [
      await answer(visit.browser, link, { number: '1', strobe: '200', bell: '40' }),
      await answer(visit.browser, link, { number: '2', strobe: '20', bell: '40' }),
    ];
    // One strobe in the spike.
    expect(codes.map(({ strobe }) => strobe)).toEqual(['right', 'wrong']);

    await button(page, 'Count the answers').click();
    const [first, second] = codes.map(({ code }) => code) as [string, string];
    const pasted = [first, second, ...othersOf(ownLesson, 22)];
    // Two given in twice, two damaged, one of another lesson, one with an answer to nothing.
    const changed = { ...ownLesson, seed: ownLesson.seed + 1 };
    pasted.push(first.toLowerCase(), pasted[5]!, second.slice(0, -1), `${pasted[6]!}A`);
    pasted.push(...othersOf(changed, 1), codeOf(ownLesson, 77, 77, []));
    expect(pasted).toHaveLength(30);
    await page.locator('#codes').fill(pasted.join('\n'));
    await button(page, 'Count them').click();
    await page.locator('.tally-step').nth(2).waitFor();
    expect(await page.locator('.tally-codes').innerText()).toContain('25 of 30 codes count');
    const standings = (kind: string): Promise<number> => page.locator(`[data-standing=${kind}]`).count();
    expect(await Promise.all(['again', 'damaged', 'otherLesson'].map(standings))).toEqual([2, 2, 1]);
    // Of the others every second has its strobe in the spike, and every third has the bell of 370 mA.
    const [strobes, bells] = [1, 2].map((place) => page.locator(`[data-step="${place}"]`));
    expect(await strobes!.innerText()).toContain('12 right of 24 answered, 25 students');
    expect(await strobes!.locator('.tally-dot').count()).toBe(24);
    const played = codes.filter(({ bell }) => bell === 'right').length;
    expect(await bells!.innerText()).toContain(
      `${played + bellsRight(22)} right of 24 answered, 25 students`,
    );
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      button(page, 'Save as CSV').click(),
    ]);
    const csv = await readFile((await download.path())!, 'utf8');
    expect(csv.trim().split('\n').slice(3)).toHaveLength(2 * 24);
    expect(errors).toEqual([]);
    await page.context().close();
  });

  it('covers and locks the stage until the question is answered, and comes back to the lesson', async () => {
    const { page } = await start('make');
    const lesson = { format: 'strobewright lesson', version: 1, ...ownLesson, steps: [ownLesson.steps[0]] };
    await page.locator('#lesson-file').setInputFiles({
      name: 'x.json',
      mimeType: 'application/json',
      buffer: Buffer.from(JSON.stringify(lesson)),
    });
    await expect.poll(() => page.locator('.maker-steps li').count()).toBe(1);
    await button(page, 'Try it as a student').click();
    await page.locator('#made-1').waitFor();
    await button(page, 'Open this board in Plan').click();
    await page.locator('.lesson-bar').waitFor();
    expect(await page.getByRole('heading', { level: 1 }).first().innerText()).toBe('Learning board');
    expect(await page.locator('.margin > .region-head').isVisible()).toBe(false);
    expect(await page.getByRole('heading', { name: 'Where the margin goes' }).count()).toBe(0);
    expect(await page.locator('[data-part=drivers]').isDisabled()).toBe(true);
    // The strobe may be moved, and does not stand where the answer is; nothing says what it leaves there.
    const strobe = page.locator('.handle-strobe');
    await expect.poll(() => strobe.getAttribute('aria-valuetext')).toBe('20 ns');
    expect(await page.locator('.margin-brackets, .zone-strobe, .strobe-flag').count()).toBe(0);
    await strobe.press('ArrowRight');
    await expect.poll(() => strobe.getAttribute('aria-valuetext')).toBe('21 ns');
    await page.getByRole('button', { name: 'Back to the lesson' }).click();
    const slider = page.locator('#made-1').getByRole('slider');
    await expect.poll(() => slider.isEnabled()).toBe(true);
    await slider.press('End');
    await button(page, 'Reveal').click();
    await expect.poll(() => page.locator('#made-1 .step-answer').innerText()).toContain('The bell has gone.');
    await button(page, 'Open this board in Plan').click();
    await page.getByRole('heading', { name: 'Where the margin goes' }).waitFor();
    expect(await page.locator('[data-part=drivers]').isDisabled()).toBe(false);
    await page.getByRole('button', { name: 'Back to the lesson' }).click();
    await page.getByRole('link', { name: 'Plan', exact: true }).click();
    await expect
      .poll(() => page.getByRole('heading', { level: 1 }).first().innerText())
      .not.toBe('Learning board');
    await page.context().close();
  });

  it('fits a narrow page in every room', async () => {
    const { page } = await start('make', { viewport: { width: 390, height: 800 } });
    const lesson = { format: 'strobewright lesson', version: 1, ...ownLesson };
    await page.locator('#lesson-file').setInputFiles({
      name: 'x.json',
      mimeType: 'application/json',
      buffer: Buffer.from(JSON.stringify(lesson)),
    });
    await expect.poll(() => page.locator('.maker-steps li').count()).toBe(3);
    for (const [name, seen] of [
      ['Try it as a student', '#class-number'],
      ['Count the answers', '#codes'],
    ] as const) {
      expect(await widest(page)).toBeLessThanOrEqual(390);
      await button(page, name).click();
      await page.locator(seen).waitFor();
      await nextFrame(page);
      expect(await widest(page), name).toBeLessThanOrEqual(390);
      await page.goBack();
      await page.locator('.maker').waitFor();
    }
    await page.context().close();
  });

  it('gives axe nothing to report in maker, lesson, tally and sheets, in light and dark', async () => {
    const { page } = await start('make', { colorScheme: 'light' });
    await page.evaluate(await readFile(axePath, 'utf8'));
    const lesson = { format: 'strobewright lesson', version: 1, ...ownLesson };
    await page.locator('#lesson-file').setInputFiles({
      name: 'x.json',
      mimeType: 'application/json',
      buffer: Buffer.from(JSON.stringify(lesson)),
    });
    await expect.poll(() => page.locator('.maker-steps li').count()).toBe(3);
    const look = async (room: string): Promise<void> => {
      for (const colorScheme of ['light', 'dark'] as const) {
        await page.emulateMedia({ colorScheme });
        await nextFrame(page);
        if (process.env['ROOM_SHOTS'])
          await page.screenshot({
            path: `${process.env['ROOM_SHOTS']}/${room}-${colorScheme}.png`,
            fullPage: true,
          });
        expect(await violations(page), `${room}, ${colorScheme}`).toEqual([]);
      }
    };
    await look('make');
    await button(page, 'Try it as a student').click();
    await page.locator('#class-number').fill('2');
    await page.locator('#class-number').press('Enter');
    await page.locator('#made-2-answer').fill('20');
    await page.locator('#made-2').getByRole('button', { name: 'Reveal' }).click();
    await expect.poll(() => page.locator('#made-2 .step-answer').innerText()).toMatch(/As you said|Not so/);
    await look('lesson');
    const code = await page.locator('.answer-code').innerText();
    await page.goBack();
    await button(page, 'Count the answers').click();
    await page.locator('#codes').fill(`${code}\nNOT A CODE`);
    await button(page, 'Count them').click();
    await page.locator('.tally-step').nth(2).waitFor();
    await look('tally');
    await page.goBack();
    await button(page, 'Sheets to print').click();
    await page.locator('.paper-key').first().waitFor();
    await look('sheets');
    await page.context().close();
  });
});

const widest = (page: Page): Promise<number> => page.evaluate(() => document.documentElement.scrollWidth);

const codeOf = (lesson: MadeLesson, student: number, ticket: number, answers: readonly Coded[]): string =>
  writeCode(lessonNumber(lesson), shapesOf(lesson), { student, ticket, answers });

/** mV: what every other student says that the bell has; right for whoever has 370 mA. */
const SAID = 40;
const numberOf = (k: number): number => 11 + k;

/** Codes of so many more students: strobes at 20 and 230 ns in turn, and one bell for all. */
const othersOf = (lesson: MadeLesson, count: number): readonly string[] =>
  Array.from({ length: count }, (_, k) =>
    codeOf(lesson, numberOf(k), 500_000 + k, [
      { kind: 'index', index: k % 2 === 0 ? 20 : 230 },
      { kind: 'number', value: SAID },
    ]),
  );

/** How many of them have the value for which that bell is right. */
const bellsRight = (count: number): number => {
  const { values } = (ownLesson.steps[1] as OwnStep).varied!;
  return Array.from({ length: count }, (_, k) => values[valueIndex(ownLesson, 1, numberOf(k))]).filter(
    (value) => value === '370 mA',
  ).length;
};

/** Plays the first two steps in a page of its own, as another student would. */
async function answer(
  browser: Parameters<typeof openJudged>[0],
  link: string,
  given: { number: string; strobe: string; bell: string },
): Promise<{ code: string; strobe: string; bell: string }> {
  const context = await browser.newContext({ serviceWorkers: 'block' });
  const page = await context.newPage();
  page.setDefaultTimeout(45_000);
  await page.goto(link);
  await page.locator('#class-number').fill(given.number);
  await page.locator('#class-number').press('Enter');
  const told = async (step: number): Promise<string> => {
    const node = page.locator(`#made-${step}`);
    await node.getByRole('button', { name: 'Reveal' }).click();
    await expect.poll(() => node.locator('.step-answer').innerText()).toMatch(/As you said|Not so/);
    return (await node.locator('.step-answer').innerText()).includes('As you said') ? 'right' : 'wrong';
  };
  const slider = page.locator('#made-1').getByRole('slider');
  await expect.poll(() => slider.isEnabled()).toBe(true);
  await slider.fill(given.strobe);
  const strobe = await told(1);
  await page.locator('#made-2-answer').fill(given.bell);
  const bell = await told(2);
  const code = await page.locator('.answer-code').innerText();
  await context.close();
  return { code, strobe, bell };
}
