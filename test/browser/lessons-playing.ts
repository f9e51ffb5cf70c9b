import type { Locator, Page } from 'playwright-core';
import { expect } from 'vitest';
import { valueAt } from '../../engine/sense-amplifier/detector.ts';
import { LESSONS } from '../../web/lessons/course/lessons.ts';
import type { Ask, Step, Truth } from '../../web/lessons/step.ts';
import { en } from '../../web/lessons/words/en/en.ts';
import { wordFor } from '../../web/lessons/words/say.ts';
import type { LessonWords, StepWords } from '../../web/lessons/words/step-words.ts';
import { boxOf } from './chromium.ts';

type Kind = Ask['kind'];
export type Played<K extends Kind> = Step & {
  readonly ask: Extract<Ask, { readonly kind: K }>;
  readonly told: StepWords;
};

const STEPS = LESSONS.flatMap(({ id, steps }) =>
  steps.map((step) => ({ ...step, told: wordFor<LessonWords>(en.lessons, id).steps[step.id]! })),
);
export const asking = <K extends Kind>(kind: K): readonly Played<K>[] =>
  STEPS.filter((step): step is Played<K> => step.ask.kind === kind);

/** How a reader presses what is on the page. */
export interface Hand {
  readonly press: (target: Locator) => Promise<void>;
  /** At a place of the page, px. */
  readonly pressAt: (page: Page, x: number, y: number) => Promise<void>;
}
export const POINTER: Hand = {
  press: (target) => target.click(),
  pressAt: (page, x, y) => page.mouse.click(x, y),
};
export const TOUCH: Hand = {
  press: (target) => target.tap(),
  pressAt: (page, x, y) => page.touchscreen.tap(x, y),
};

export const RIGHT = 'As you said';
export const WRONG = 'Not so';

/** Asks for what is so, and gives what is told once the engine has answered. */
async function reveal(step: Locator, { press }: Hand): Promise<string> {
  const answer = step.locator('.step-answer');
  const before = await answer.innerText();
  await press(step.getByRole('button', { name: 'Reveal' }));
  await expect.poll(() => answer.innerText()).toMatch(/As you said|Not so/);
  await expect.poll(() => answer.innerText()).not.toBe(before);
  return answer.innerText();
}
export const stepOn = (page: Page, { id }: Step): Locator => page.locator(`#step-${id}`);

export async function playChoices(page: Page, step: Played<'choose'>, hand: Hand): Promise<void> {
  const node = stepOn(page, step);
  let right = 0;
  for (const key of step.ask.choices) {
    const { text, whyNot } = step.told.choices![key]!;
    await hand.press(node.getByRole('radio', { name: text, exact: true }));
    const said = await reveal(node, hand);
    if (said.includes(RIGHT)) right++;
    else expect(said).toContain(whyNot);
    expect(await node.locator('.step-answer svg.chart path.stroke').count()).toBeGreaterThan(0);
  }
  expect(right, step.id).toBe(1);
}

/** What is so, as it is told of a wrong answer. */
export const soIn = (said: string): string => /said, (\S+)/.exec(said)![1]!;

export async function playNumber(page: Page, step: Played<'number'>, hand: Hand): Promise<void> {
  const node = stepOn(page, step);
  const give = async (text: string): Promise<string> => {
    await hand.press(node.locator(`#answer-${step.id}`));
    await page.keyboard.press('Control+A');
    await page.keyboard.type(text);
    return reveal(node, hand);
  };
  const low = await give('-9999');
  expect(low, step.id).toContain(step.told.whyNot!.low!);
  const high = await give('9999');
  expect(high, step.id).toContain(step.told.whyNot!.high!);
  expect(await give(soIn(high)), step.id).toContain(RIGHT);
}

export async function playPlace(page: Page, step: Played<'place'>, hand: Hand): Promise<void> {
  const node = stepOn(page, step);
  await hand.press(node.getByRole('button', { name: 'Show the two lines' }));
  const slider = node.getByRole('slider');
  await slider.waitFor();
  /** Presses on the plot at a part of its width; the ns that the strobe then stands at. */
  const put = async (part: number): Promise<number> => {
    await node.locator('.place-answer svg.chart').scrollIntoViewIfNeeded();
    const plot = await boxOf(node.locator('.place-answer svg.chart'));
    await hand.pressAt(page, plot.x + plot.width * part, plot.y + plot.height / 2);
    return Number(await slider.inputValue());
  };
  const [left, right] = [0.15, 0.95] as const;
  const early = await put(left);
  expect(await reveal(node, hand), step.id).toContain(step.told.whyNot!.early!);
  const late = await put(right);
  const said = await reveal(node, hand);
  expect(said, step.id).toContain(step.told.whyNot!.late!);
  const best = Number(/the best instant, (\d+) ns/.exec(said)![1]);
  await put(left + ((right - left) * (best - early)) / (late - early));
  expect(await reveal(node, hand), step.id).toContain(RIGHT);
}

/** V at each point of the curve that is so. */
export function soOf(step: Played<'draw'>): readonly number[] {
  const { curve } = step.compute().truth as Extract<Truth, { kind: 'draw' }>;
  return step.ask.at.map((time) => valueAt(curve.time, curve.values, time));
}

export async function playDrawing(page: Page, step: Played<'draw'>, hand: Hand): Promise<void> {
  const node = stepOn(page, step);
  const grips = node.locator('.drawn-grip');
  const centre = async (k: number): Promise<{ x: number; y: number }> => {
    const { x, y, width, height } = await boxOf(grips.nth(k));
    return { x: x + width / 2, y: y + height / 2 };
  };
  await grips.first().scrollIntoViewIfNeeded();
  const { y: zero } = await centre(0);
  // Off by as much as it goes; the scale shows in how far that is.
  const far = 60;
  const { x: last } = await centre(step.ask.at.length - 1);
  await hand.pressAt(page, last, zero - far);
  const volts = Number(await grips.last().getAttribute('aria-valuenow')) * 1e-3;
  expect(await reveal(node, hand), step.id).toContain(WRONG);
  await grips.first().scrollIntoViewIfNeeded();
  const { y: level } = await centre(0);
  for (const [k, value] of soOf(step).entries())
    await hand.pressAt(page, (await centre(k)).x, level - (value * far) / volts);
  expect(await reveal(node, hand), step.id).toContain(RIGHT);
}
