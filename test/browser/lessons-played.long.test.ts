import type { Page } from 'playwright-core';
import { describe, it } from 'vitest';
import { browserPath } from './chromium.ts';
import { keyChoices, keyDrawing, keyNumber, keyPlace } from './lessons-by-keys.ts';
import {
  asking,
  playChoices,
  playDrawing,
  playNumber,
  playPlace,
  POINTER,
  TOUCH,
} from './lessons-playing.ts';
import { openLearn, visiting } from './visiting.ts';

describe.skipIf(browserPath === undefined)('every step of the course is played right and wrong', () => {
  const visit = visiting();
  const open = (options: object = {}): Promise<Page> => openLearn(visit, options);

  const PHONE = { hasTouch: true, isMobile: true, viewport: { width: 390, height: 800 } };
  for (const [how, hand, options] of [
    ['a pointer', POINTER, {}],
    ['touch, on a phone', TOUCH, PHONE],
  ] as const) {
    it(`by choosing with ${how}: each wrong answer with its own why-not`, async () => {
      const page = await open(options);
      for (const step of asking('choose')) await playChoices(page, step, hand);
      await page.context().close();
    });

    it(`by numbers, places and drawings with ${how}: too little, too much, too early, too late, and right`, async () => {
      const page = await open(options);
      for (const step of asking('number')) await playNumber(page, step, hand);
      for (const step of asking('place')) await playPlace(page, step, hand);
      for (const step of asking('draw')) await playDrawing(page, step, hand);
      await page.context().close();
    });
  }

  it('by keys alone: choices, numbers, places and drawings', async () => {
    const page = await open();
    for (const step of asking('choose')) await keyChoices(page, step);
    for (const step of asking('number')) await keyNumber(page, step);
    for (const step of asking('place')) await keyPlace(page, step);
    for (const step of asking('draw')) await keyDrawing(page, step);
    await page.context().close();
  });
});
