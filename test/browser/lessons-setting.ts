import type { Locator, Page } from 'playwright-core';
import { expect } from 'vitest';
import { lineCores, setIndex } from '../../web/lessons/moved.ts';
import type { Truth } from '../../web/lessons/step.ts';
import { en } from '../../web/lessons/words/en/en.ts';
import { boxOf } from './chromium.ts';
import { asking, POINTER, stepOn, TOUCH, type Played } from './lessons-playing.ts';

type So<K extends Truth['kind']> = Extract<Truth, { readonly kind: K }>;

/** How what is set on a board is set, and how a button is pressed. */
export interface Setting {
  readonly press: (target: Locator) => Promise<void>;
  /** Brings a slider to one of its places, 0 to `last`. */
  readonly slideTo: (slider: Locator, place: number, last: number) => Promise<void>;
}

/** px: half the thumb of a slider, which never leaves its track. */
const THUMB = 8;
/** Presses on the track, and again a little beside that until the slider stands at the place that is meant, or next to it. */
const pressing =
  (hand: typeof POINTER): Setting['slideTo'] =>
  async (slider, place, last) => {
    await slider.scrollIntoViewIfNeeded();
    const { x, y, width, height } = await boxOf(slider);
    let at = x + THUMB + ((width - 2 * THUMB) * place) / last;
    for (let tries = 0; tries < 20; tries++) {
      // A press on the thumb itself moves nothing: from the far end it comes to the place.
      await hand.pressAt(slider.page(), place < last / 2 ? x + width - 1 : x + 1, y + height / 2);
      await hand.pressAt(slider.page(), at, y + height / 2);
      const off = Number(await slider.inputValue()) - place;
      if (Math.abs(off) < 1) return;
      at -= Math.sign(off) / 2;
    }
    expect(Math.abs(Number(await slider.inputValue()) - place)).toBeLessThanOrEqual(1);
  };
export const BY_POINTER: Setting = { press: POINTER.press, slideTo: pressing(POINTER) };
export const BY_TOUCH: Setting = { press: TOUCH.press, slideTo: pressing(TOUCH) };
export const BY_KEYS: Setting = {
  press: async (target) => {
    await target.focus();
    await target.page().keyboard.press('Enter');
  },
  slideTo: async (slider, place, last) => {
    await slider.focus();
    const near = place < last / 2;
    await slider.page().keyboard.press(near ? 'Home' : 'End');
    for (let k = near ? place : last - place; k > 0; k--)
      await slider.page().keyboard.press(near ? 'ArrowRight' : 'ArrowLeft');
  },
};

const [ENOUGH_SAID, NOT_YET] = [en.scores.enough.trim(), en.scores.notEnough.trim()];

async function reveal(step: Locator, { press }: Setting): Promise<string> {
  const answer = step.locator('.step-answer');
  const before = await answer.innerText();
  await press(step.getByRole('button', { name: 'Reveal' }));
  await expect.poll(() => answer.innerText()).toMatch(new RegExp(`${ENOUGH_SAID}|${NOT_YET}`));
  await expect.poll(() => answer.innerText()).not.toBe(before);
  return answer.innerText();
}

/** A slider too low, too high, and where the engine finds most. */
export async function playSlider(page: Page, step: Played<'set'>, how: Setting): Promise<void> {
  const node = stepOn(page, step);
  const slider = node.getByRole('slider');
  const { index } = step.compute().truth as So<'set'>;
  const last = step.ask.places - 1;
  expect(setIndex(step.design, step.ask)).not.toBe(index);
  for (const [place, said, whyNot] of [
    [0, NOT_YET, step.told.whyNot!.low!],
    [last, NOT_YET, step.told.whyNot!.high!],
    [index, ENOUGH_SAID, ''],
  ] as const) {
    await how.slideTo(slider, place, last);
    const told = await reveal(node, how);
    expect(told, step.id).toContain(said);
    expect(told, step.id).toContain(whyNot);
  }
}

/** One bit alone, then those of the worst pattern. */
export async function playBits(page: Page, step: Played<'bits'>, how: Setting): Promise<void> {
  const node = stepOn(page, step);
  const { bits } = step.compute().truth as So<'bits'>;
  const button = (k: number): Locator => node.locator('.bit-button').nth(k);
  expect(await node.locator('.bit-button').count()).toBe(lineCores(step.ask).length);
  const first = bits.indexOf(0);
  await how.press(button(first));
  const told = await reveal(node, how);
  expect(told).toContain(NOT_YET);
  expect(told).toContain(step.told.whyNot!.low!);
  await how.press(button(first));
  for (const [k, bit] of bits.entries()) if (bit === 1) await how.press(button(k));
  expect(await reveal(node, how)).toContain(ENOUGH_SAID);
}

/** Places of the slider over the current of each line, and what comes of them: 380, 340 and some 354 mA. */
const [MUCH, LITTLE, ENOUGH_PLACE, PLACES] = [104, 88, 94, 200] as const;

/** A board on the stage: nothing changed, too much current, too little, fewer cores, then a margin that is enough. */
export async function playBoard(page: Page, how: Setting): Promise<void> {
  const [step] = asking('board') as [Played<'board'>];
  const node = page.locator(`.lesson-rail #step-${step.id}`);
  await node.waitFor();
  await how.press(node.getByRole('button', { name: 'Reveal' }));
  await expect.poll(() => node.locator('.step-answer').innerText()).toContain(en.onStage.changeFirst);
  const { one, zero, fewer } = step.told.whyNot as { one: string; zero: string; fewer: string };
  const open = async (part: string): Promise<Locator> => {
    await how.press(page.locator(`[data-part=${part}]`));
    const card = page.locator('.part-card');
    await card
      .locator(part === 'mat' ? 'select' : 'input')
      .first()
      .waitFor();
    return card;
  };
  const current = (card: Locator): Locator =>
    card.getByRole('slider', { name: 'Current of each line, slider' });
  const drivers = current(await open('drivers'));
  await how.slideTo(drivers, MUCH, PLACES);
  expect(await reveal(node, how)).toContain(zero);
  await how.slideTo(drivers, LITTLE, PLACES);
  expect(await reveal(node, how)).toContain(one);
  await how.slideTo(drivers, ENOUGH_PLACE, PLACES);
  const size = (await open('mat')).getByLabel('Size', { exact: true });
  await size.selectOption('16');
  const few = await reveal(node, how);
  expect(few).toContain(NOT_YET);
  expect(few).toContain(fewer);
  await size.selectOption('32');
  expect(await reveal(node, how)).toContain(ENOUGH_SAID);
}
