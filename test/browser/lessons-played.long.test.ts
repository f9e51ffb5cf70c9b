import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { LESSONS } from '../../web/lessons/course/lessons.ts';
import { browserPath, openJudged } from './chromium.ts';
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
import { BY_KEYS, BY_POINTER, BY_TOUCH, playBits, playBoard, playSlider } from './lessons-setting.ts';
import { openLearn, visiting } from './visiting.ts';

describe.skipIf(browserPath === undefined)('every step of the course is played right and wrong', () => {
  const visit = visiting();
  const open = (options: object = {}): Promise<Page> => openLearn(visit, options);

  it('leaves none out: every way of asking is played below', () => {
    const played = (['choose', 'number', 'place', 'draw', 'set', 'bits', 'board'] as const).flatMap(asking);
    expect(played).toHaveLength(LESSONS.flatMap(({ steps }) => steps).length);
    expect(asking('board')).toHaveLength(1);
  });

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

  for (const [how, setting, options] of [
    ['a pointer', BY_POINTER, {}],
    ['touch', BY_TOUCH, { hasTouch: true }],
    ['keys', BY_KEYS, {}],
  ] as const) {
    it(`by sliders and bits with ${how}: too little, too much, and most`, async () => {
      const page = await open(options);
      for (const step of asking('set')) await playSlider(page, step, setting);
      for (const step of asking('bits')) await playBits(page, step, setting);
      await page.context().close();
    });

    it(`by a board on the stage with ${how}: each way to fall short, and enough`, async () => {
      const url = `${visit.server.url}#/plan?d=@single-core-jig`;
      const { page, errors } = await openJudged(visit.browser, url, options);
      await page.evaluate(() => {
        location.hash = '#/plan/lesson/own-board';
      });
      await playBoard(page, setting);
      expect(errors).toEqual([]);
      await page.context().close();
    });
  }
});
