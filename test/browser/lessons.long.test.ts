import type { Locator, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { de } from '../../web/lessons/words/de/de.ts';
import { en } from '../../web/lessons/words/en/en.ts';
import { browserPath, goTo } from './chromium.ts';
import { openLearn, visiting } from './visiting.ts';

describe.skipIf(browserPath === undefined)('the lessons', () => {
  const visit = visiting();

  const open = (options: object = {}): Promise<Page> => openLearn(visit, options);
  const reveal = (step: Locator): Promise<void> => step.getByRole('button', { name: 'Reveal' }).click();
  /** Once the engine has answered. */
  const told = async (step: Locator): Promise<string> => {
    const answer = step.locator('.step-answer');
    await expect.poll(() => answer.innerText()).not.toMatch(/^(?:Being computed\.|Wird berechnet\.)?$/);
    return answer.innerText();
  };

  it('ask for a prediction first, and show what is so to who wants none', async () => {
    const page = await open();
    const step = page.locator('#step-loop');
    await reveal(step);
    expect(await told(step)).toContain('Predict first');
    await step.getByRole('button', { name: 'Show me' }).click();
    await expect.poll(() => step.locator('.step-answer svg.chart path.stroke').count()).toBeGreaterThan(0);
    expect(await told(step)).not.toMatch(/As you said|Not so/);
    await page.context().close();
  });

  it('keep a reason of one line in this tab, show it again, print it with its question, and send it nowhere', async () => {
    const page = await open();
    const sent: string[] = [];
    page.on('request', (request) => sent.push(`${request.url()} ${request.postData() ?? ''}`));
    const line = page.locator('#reason-loop');
    await page.locator('#step-loop').getByRole('radio').first().check();
    await reveal(page.locator('#step-loop'));
    await told(page.locator('#step-loop'));
    await line.fill('Its drive is gone');
    await page.reload();
    await page.locator('.step').last().waitFor();
    expect(await line.inputValue()).toBe('Its drive is gone');
    expect(await page.locator('#reason-late').inputValue()).toBe('');
    await page.getByRole('button', { name: 'Deutsch', exact: true }).click();
    await page.getByRole('heading', { level: 1, name: de.learn.title }).waitFor();
    expect(await line.inputValue()).toBe('Its drive is gone');
    await page.emulateMedia({ media: 'print' });
    expect(await line.isVisible()).toBe(true);
    expect(sent.filter((text) => /drive.?is.?gone/.test(decodeURIComponent(text)))).toEqual([]);
    await page.context().close();
  });

  it('take a number with a comma or a minus sign, and say which way it is off', async () => {
    const page = await open();
    const step = page.locator('#step-repeats');
    await step.locator('#answer-repeats').fill('a lot');
    await reveal(step);
    expect(await told(step)).toContain('type a plain number of %');
    await step.locator('#answer-repeats').fill('2,6');
    await reveal(step);
    expect(await told(step)).toContain('As you said');
    await step.locator('#answer-repeats').fill('9.5');
    await reveal(step);
    expect(await told(step)).toContain('Not five times the first loss');
    await page.context().close();
  });

  it('are resumed by their address, go back and forth, and come back from the stage', async () => {
    const page = await open();
    await page.locator('#step-late').getByRole('button', { name: 'Show me' }).click();
    await expect.poll(() => page.url()).toContain('#/learn/what-is-heard/late');
    await page.locator('#step-magnet').getByRole('button', { name: en.onStage.play }).click();
    await expect.poll(() => page.url()).toContain('#/plan/lesson/magnet');
    await page.locator('.lesson-rail #step-magnet').waitFor();
    await page.goBack();
    await expect.poll(() => page.url()).toContain('#/learn/what-is-heard/late');
    const seen = async (): Promise<boolean> => {
      const { top } = await page.locator('#step-late').evaluate((step) => step.getBoundingClientRect());
      return top >= -2 && top < 500;
    };
    await expect.poll(seen).toBe(true);
    await page.getByRole('button', { name: 'Many cores on one wire' }).click();
    await expect.poll(() => page.url()).toContain('#/learn/many-cores');
    await page.goBack();
    await page.reload();
    await page.locator('.step').last().waitFor();
    await expect.poll(seen).toBe(true);
    await page.context().close();
  });

  it('are told in German from the choice on, there and in Words, and after a reload without the address saying so', async () => {
    const page = await open();
    await page.getByRole('button', { name: 'Deutsch', exact: true }).click();
    await page.getByRole('heading', { level: 1, name: de.learn.title }).waitFor();
    expect(await page.locator('.in-language').getAttribute('lang')).toBe('de');
    await expect.poll(() => page.url()).toContain('lang=de');
    const step = page.locator('#step-repeats');
    await step.locator('#answer-repeats').fill('9,5');
    await step.getByRole('button', { name: de.learn.reveal }).click();
    expect(await told(step)).toContain('erwartet 9,5 %, richtig sind 2,6 %');
    const text = await page.locator('.in-language').innerText();
    for (const { title, steps } of Object.values(en.lessons))
      for (const words of [title, ...Object.values(steps).map((each) => each.question)])
        expect(text).not.toContain(words);
    await goTo(page, 'Words');
    await page.getByText('Ungünstigstes Muster').waitFor();
    await page.goto(`${visit.server.url}#/learn`);
    await page.reload();
    await page.getByRole('heading', { level: 1, name: de.learn.title }).waitFor();
    await page.getByRole('button', { name: 'English', exact: true }).click();
    await page.getByRole('heading', { level: 1, name: en.learn.title }).waitFor();
    await page.context().close();
  });
});
