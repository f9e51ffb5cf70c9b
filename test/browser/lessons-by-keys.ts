import type { Locator, Page } from 'playwright-core';
import { expect } from 'vitest';
import { nextFrame } from './chromium.ts';
import { RIGHT, soIn, soOf, stepOn, WRONG, type Played } from './lessons-playing.ts';

/** Asks for what is so by keys alone, from a field of the question on, and gives what is told. */
async function revealByKeys(page: Page, step: Locator): Promise<string> {
  const answer = step.locator('.step-answer');
  const before = await answer.innerText();
  for (let i = 0; i < 8; i++) {
    await page.keyboard.press('Tab');
    if (
      await step.getByRole('button', { name: 'Reveal' }).evaluate((node) => node === document.activeElement)
    )
      break;
  }
  await page.keyboard.press('Enter');
  await expect.poll(() => answer.innerText()).toMatch(/As you said|Not so/);
  await expect.poll(() => answer.innerText()).not.toBe(before);
  // The address has followed, and the page has brought the step into view, with the focus on it if need be.
  await nextFrame(page);
  return answer.innerText();
}

export async function keyChoices(page: Page, step: Played<'choose'>): Promise<void> {
  const node = stepOn(page, step);
  const radios = node.getByRole('radio');
  let right = 0;
  for (const [k, key] of step.ask.choices.entries()) {
    await radios.nth(Math.max(0, k - 1)).focus();
    await page.keyboard.press(k === 0 ? 'Space' : 'ArrowDown');
    const said = await revealByKeys(page, node);
    if (said.includes(RIGHT)) right++;
    else expect(said).toContain(step.told.choices![key]!.whyNot);
  }
  expect(right, step.id).toBe(1);
}

export async function keyNumber(page: Page, step: Played<'number'>): Promise<void> {
  const node = stepOn(page, step);
  const type = async (text: string): Promise<string> => {
    await node.locator(`#answer-${step.id}`).focus();
    await page.keyboard.press('Control+A');
    await page.keyboard.type(text);
    return revealByKeys(page, node);
  };
  expect(await type('-9999'), step.id).toContain(step.told.whyNot!.low!);
  const wrong = await type('9999');
  expect(wrong, step.id).toContain(step.told.whyNot!.high!);
  expect(await type(soIn(wrong)), step.id).toContain(RIGHT);
}

export async function keyPlace(page: Page, step: Played<'place'>): Promise<void> {
  const node = stepOn(page, step);
  await node.getByRole('button', { name: 'Show the two lines' }).focus();
  await page.keyboard.press('Enter');
  const slider = node.getByRole('slider');
  await slider.waitFor();
  await slider.focus();
  await page.keyboard.press('Home');
  expect(await revealByKeys(page, node), step.id).toContain(step.told.whyNot!.early!);
  await slider.focus();
  await page.keyboard.press('End');
  const late = await revealByKeys(page, node);
  expect(late, step.id).toContain(step.told.whyNot!.late!);
  await slider.focus();
  await page.keyboard.press('Home');
  const best = Number(/the best instant, (\d+) ns/.exec(late)![1]);
  for (let k = 0; k < best; k++) await page.keyboard.press('ArrowRight');
  expect(await revealByKeys(page, node), step.id).toContain(RIGHT);
}

export async function keyDrawing(page: Page, step: Played<'draw'>): Promise<void> {
  const node = stepOn(page, step);
  const grips = node.locator('.drawn-grip');
  await grips.last().focus();
  await page.keyboard.press('PageUp');
  expect(await revealByKeys(page, node), step.id).toContain(WRONG);
  await grips.last().focus();
  await page.keyboard.press('PageDown');
  for (const [k, value] of soOf(step).entries()) {
    await grips.nth(k).focus();
    const tens = Math.round(value / 10e-3);
    for (let i = 0; i < Math.abs(tens); i++) await page.keyboard.press(tens > 0 ? 'PageUp' : 'PageDown');
  }
  expect(await revealByKeys(page, node), step.id).toContain(RIGHT);
}
