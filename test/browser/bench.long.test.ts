import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { browserPath, goTo, nextFrame, openDemo, openJudged, settled } from './chromium.ts';
import { constantRunner, startTestServer } from '../server/http-client.ts';
import { visiting } from './visiting.ts';

const axePath = createRequire(import.meta.url).resolve('axe-core/axe.min.js');
const captureFile = (name: string): string =>
  fileURLToPath(new URL(`../../fixtures/captures/${name}`, import.meta.url));

interface AxeWindow {
  readonly axe: {
    run(options: object): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }>;
  };
}

describe.skipIf(browserPath === undefined)('the bench on the page', () => {
  const visit = visiting();

  const open = async (state = '') => {
    const opened = await openJudged(visit.browser, `${visit.server.url}${state}`);
    await goTo(opened.page, 'Bench');
    return opened;
  };
  const region = (page: Page, name: string) => page.getByRole('region', { name, exact: true });
  const choose = (page: Page, name: string) => page.locator('#bench-file').setInputFiles(captureFile(name));
  const take = async (page: Page) => {
    await page.getByRole('button', { name: 'Take this capture' }).click();
    await page.locator('#bench-both-clip').waitFor({ state: 'attached' });
  };
  const lineUpStatus = (page: Page) => region(page, 'Against the prediction').locator('.status');

  it('fits one core to several captures, says what they do not show, and puts it into the design', async () => {
    const { page, errors } = await open();
    const list = {
      name: 'core by captures',
      core: { preset: 'measured-1.3-mm' },
      unknowns: ['remanentFlux', 'switchingResistance', 'coerciveDrive'],
      captures: [{ file: 'drive-and-sense.csv', bit: 1 }],
    };
    const csv = await readFile(
      fileURLToPath(new URL('../../fixtures/cores/measured-1.3-mm/drive-and-sense.csv', import.meta.url)),
    );
    const several = region(page, 'One core, several captures');
    const json = {
      name: 'list.json',
      mimeType: 'application/json',
      buffer: Buffer.from(JSON.stringify(list)),
    };
    await page.locator('#several-files').setInputFiles([json]);
    await several.getByText('drive-and-sense.csv, which is not among the files').waitFor();
    await page
      .locator('#several-files')
      .setInputFiles([json, { name: 'drive-and-sense.csv', mimeType: 'text/csv', buffer: csv }]);
    await several.getByText('core by captures is found from one capture.').waitFor();
    expect(await several.innerText()).toContain('1,024 half-select pulses');
    await several.getByRole('button', { name: 'Use it in the design' }).click();
    await several.getByText('The design in the planning view now has core by captures').waitFor();
    expect(errors).toEqual([]);
    await page.context().close();
  });

  it('opens a capture, lines it up, fits, and predicts the next build from the fit', async () => {
    // The design of which the file is.
    const { page, errors, requests } = await open('#/plan?d=@tide-recorder-first-try-16x16');
    await choose(page, 'demo-one.csv');
    await page.locator('.bench-preview tbody tr').first().waitFor();
    await page.getByLabel('Name it').fill('first build');
    await take(page);
    await lineUpStatus(page).filter({ hasText: 'close, but more than noise' }).waitFor();
    expect(await region(page, 'Against the prediction').locator('dl').innerText()).toMatch(
      /Read starts at\s+−41\d\.?\d* ns/u,
    );

    await page.getByRole('button', { name: 'Fit', exact: true }).click();
    const fit = region(page, 'Fit what is not known');
    await fit.getByText('noise alone explains what is left').first().waitFor();
    const row = fit.getByRole('row', { name: /^core flux 2\.7 nWb/u });
    expect(await row.innerText()).toMatch(/2\.7 nWb\s+2\.9\d* nWb|2\.7 nWb\s+2\.89\d* nWb/u);
    await page.getByRole('button', { name: 'Use the fitted design' }).click();
    await lineUpStatus(page).filter({ hasText: 'noise alone explains it' }).waitFor();

    const ahead = region(page, 'Predict the next build, and measure next');
    await ahead.getByText(/^From .* as last fitted, to one capture\.$/u).waitFor();
    await ahead.getByLabel('Rows').fill('12');
    await ahead.getByLabel('Columns').fill('12');
    await ahead.getByRole('button', { name: 'Predict with intervals' }).click();
    await ahead.getByText('Predicted for 12 × 12').waitFor({ timeout: 240_000 });
    // Both traces stand in bands.
    await ahead.getByRole('img', { name: /with 95 % bands/u }).waitFor();
    await ahead.getByRole('button', { name: 'Open it in the planning view' }).click();
    await settled(page);
    expect(await page.locator('[data-part=mat]').innerText()).toContain('12 × 12');
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByRole('button', { name: 'Undo' }).click();
    await settled(page);
    expect(await page.locator('.name-of-design').innerText()).not.toContain('Fitted');
    expect(errors).toEqual([]);
    expect(
      requests.every(
        (url) => url.startsWith(visit.server.url) || url.startsWith('data:') || url.startsWith('blob:'),
      ),
    ).toBe(true);
    await page.context().close();
  });

  it('asks what a text leaves open, and reads on with the answer', async () => {
    const { page } = await open();
    await choose(page, 'ask-value-unit.csv');
    const question = page.locator('.bench-question');
    await question.waitFor();
    expect(await page.getByRole('button', { name: 'Take this capture' }).count()).toBe(0);
    await question.getByRole('button', { name: 'mV', exact: true }).click();
    await page.getByRole('button', { name: 'Take this capture' }).waitFor();
    expect(await question.count()).toBe(0);
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('Take this capture');

    await choose(page, 'ask-interval.csv');
    await page.getByLabel(/how long is one sample/u).fill('ten');
    await page.getByRole('button', { name: 'Read with it' }).click();
    await page.locator('.bench-question .field-error').filter({ hasText: 'with its unit' }).waitFor();
    await page.getByLabel(/how long is one sample/u).fill('10 ns');
    await page.getByLabel(/how long is one sample/u).press('Enter');
    await page.getByRole('button', { name: 'Take this capture' }).waitFor();
    await page.context().close();
  });

  it('says where a text is wrong, and lets it be read another way', async () => {
    const { page } = await open();
    await choose(page, 'error-text-cell.csv');
    const status = region(page, 'Capture').locator('.status');
    await status.filter({ hasText: 'Line 12, column 2' }).waitFor();
    await page.getByText('Paste its text').click();
    await page.getByLabel('Text of the capture').fill('time ns;sense mV\n0;1\n2;1.5\n4;2\n6;1\n');
    await page.getByRole('button', { name: 'Read the text' }).click();
    await page.getByRole('button', { name: 'Take this capture' }).waitFor();
    await page.getByText('Read it another way').click();
    await page.getByLabel('Unit of the times').selectOption('us');
    await page.locator('.bench-preview .note').filter({ hasText: '2 µs apart' }).first().waitFor();
    await page.context().close();
  });

  it('a capture dropped on the page is read', async () => {
    const { page } = await open();
    const text = await readFile(captureFile('demo-zero.csv'), 'utf8');
    const data = await page.evaluateHandle((content) => {
      const transfer = new DataTransfer();
      transfer.items.add(new File([content], 'dropped.csv', { type: 'text/csv' }));
      return transfer;
    }, text);
    await page.dispatchEvent('.bench-drop', 'drop', { dataTransfer: data });
    await page.getByText('dropped.csv is read').waitFor();
    await page.context().close();
  });

  it('keeps a measured trace in the main panel until it is taken out', async () => {
    const { page } = await open();
    await page.getByRole('button', { name: 'a ONE', exact: true }).click();
    await take(page);
    await page.getByRole('button', { name: 'Keep it in the planning view' }).click();
    await goTo(page, 'Plan');
    const line = page.locator('.lane-signal .line-measured path.stroke');
    await line.waitFor({ state: 'attached' });
    expect((await line.getAttribute('d'))!.length).toBeGreaterThan(500);
    await page.locator('[data-region=trace] .region-head details.behind > summary').click();
    await page
      .locator('[data-region=trace] .region-head th')
      .filter({ hasText: 'measured, as the latch sees it / mV' })
      .waitFor();
    await page.locator('[data-region=trace] .region-head details.behind > summary').click();
    await page.getByRole('button', { name: 'Take it out' }).click();
    await line.waitFor({ state: 'detached' });
    await page.context().close();
  });

  it('ranks single faults with their evidence', async () => {
    const { page } = await open();
    await page.getByRole('button', { name: 'a ONE of a mat with a fault' }).click();
    await take(page);
    await page.getByRole('button', { name: 'Look for a fault' }).click();
    const part = region(page, 'Which single fault?');
    await part.getByText('One fault explains it.').waitFor();
    expect(await part.locator('.bench-ranked tbody tr').first().innerText()).toContain(
      'The selected core is weak',
    );
    expect(await part.getByRole('row', { name: /Nothing is wrong/u }).count()).toBe(1);
    await part.locator('#bench-explained-clip').waitFor({ state: 'attached' });
    await page.context().close();
  });

  it('a fit can be cancelled and changes nothing', async () => {
    const { page } = await open();
    await page.getByRole('button', { name: 'a ONE', exact: true }).click();
    await take(page);
    for (const name of [
      'core threshold',
      'termination',
      'wire capacitance',
      'drive rise',
      'coupling capacitance',
    ])
      await page
        .getByRole('checkbox', { name: new RegExp(`^${name}`, 'u') })
        .first()
        .check();
    await page.getByRole('button', { name: 'Fit', exact: true }).click();
    await region(page, 'Fit what is not known').getByRole('button', { name: 'Cancel' }).click();
    await page.getByText('Cancelled; nothing was changed.').waitFor();
    expect(await page.getByRole('button', { name: 'Use the fitted design' }).count()).toBe(0);
    await page.context().close();
  });

  it('start and bounds of an unknown can be typed, and what is wrong with them is told beside them', async () => {
    const { page } = await open();
    await page.getByRole('button', { name: 'a ONE', exact: true }).click();
    await take(page);
    const fit = region(page, 'Fit what is not known');
    expect(await page.getByLabel('Upper bound of core threshold').isDisabled()).toBe(true);
    await page.getByLabel('Upper bound of core flux').fill('2.8');
    await page.getByRole('button', { name: 'Fit', exact: true }).click();
    await fit.locator('.field-error').filter({ hasText: 'a bare number without a unit' }).waitFor();
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('bench-unknown-coreFlux-high');
    await page.getByLabel('Upper bound of core flux').fill('2.6 nWb');
    await page.getByLabel('Start of core flux').fill('2.65 nWb');
    await page.getByRole('button', { name: 'Fit', exact: true }).click();
    await fit.locator('.field-error').filter({ hasText: 'must lie within its bounds' }).waitFor();
    await page.getByLabel('Start of core flux').fill('');
    await page.getByRole('button', { name: 'Fit', exact: true }).click();
    await fit.getByText('held at its upper bound, 2.6 nWb').waitFor();
    await page.context().close();
  });

  it('a core is read off its captures, kept in the list with where its values come from, and used', async () => {
    const { page, errors } = await open();
    await page.getByText('Read uV1, t_p, t_s and dVz off captures').click();
    await page.getByRole('button', { name: 'Read them off' }).click();
    await page.getByText('Choose the capture of a ONE').waitFor();
    await page.getByRole('button', { name: 'Try two invented captures' }).click();
    await page.getByText(/Read off: uV1 4[67]\.\d+ mV ± \d+ µV/u).waitFor();
    expect(await page.locator('#jig-peakTime').inputValue()).toMatch(/^128\.\d+ ns$/u);
    await page.getByRole('button', { name: 'Find its parameters' }).click();
    await page.getByText('Parameters of core from the jig are found.').waitFor();
    await page.getByRole('button', { name: 'Keep it in my list' }).click();
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Save the list' }).click(),
    ]);
    const { cores } = JSON.parse(await readFile((await download.path())!, 'utf8')) as {
      cores: { handbook: { grades: Record<string, string> } }[];
    };
    expect(cores[0]!.handbook.grades['peakOne']).toBe('measured, read off a capture');
    await page.getByRole('button', { name: 'Use it in the design' }).click();
    expect(errors).toEqual([]);
    await page.context().close();
  });

  it('keeps captures and designs on the server, version by version, and brings them back', async () => {
    const kept = await startTestServer({ runner: constantRunner('{}'), pageFolder: visit.server.folder });
    const { page, errors } = await openJudged(visit.browser, `http://127.0.0.1:${kept.port}/`);
    await goTo(page, 'Bench');
    await choose(page, 'demo-one.csv');
    await page.getByRole('button', { name: 'Keep the file on the server' }).click();
    await page.getByText('demo-one.csv is kept on the server, version 1.').waitFor();
    const part = region(page, 'Kept by the server');
    await part.getByLabel('Keep the design of the planning view as').fill('Mole 3');
    await part.getByRole('button', { name: 'Keep the design', exact: true }).click();
    await part.getByText('The design is kept as Mole 3, version 1.').waitFor();
    // Another design under the same name is a version more; the first comes back.
    await goTo(page, 'Plan');
    await openDemo(page, 'classroom-board-first-try-4x4');
    await goTo(page, 'Bench');
    await part.getByRole('button', { name: 'Keep the design', exact: true }).click();
    await part.getByText('The design is kept as Mole 3, version 2.').waitFor();
    await part.getByLabel('Version of Mole 3').selectOption('1');
    await part.getByRole('button', { name: 'Open: Mole 3' }).click();
    await part.getByText('Mole 3, version 1, is in the planning view').waitFor();
    await region(page, 'Predict the next build, and measure next')
      .getByText(/^From Tide recorder, 16 x 16/u)
      .waitFor();
    await part.getByRole('button', { name: 'Open: demo-one.csv' }).click();
    await page.getByText('demo-one.csv is read: look it over, then take it.').waitFor();
    await part.getByRole('button', { name: 'Remove: demo-one.csv' }).click();
    await part.getByRole('button', { name: 'Remove for good: demo-one.csv' }).click();
    await part.getByText('demo-one.csv is removed with all its versions.').waitFor();
    expect(await part.getByRole('button', { name: 'Open: demo-one.csv' }).count()).toBe(0);
    expect(errors).toEqual([]);
    await page.context().close();
    await kept.close();
  });

  it('says plainly that nothing can be kept where no server is, and asks for none until told to', async () => {
    const { page, requests } = await open();
    expect(requests.some((url) => url.includes('/api/'))).toBe(false);
    const part = region(page, 'Kept by the server');
    await part.getByRole('button', { name: 'Look what is kept' }).click();
    await part.getByText('Nothing can be kept here: this page was opened without the server').waitFor();
    await page.context().close();
  });

  it('a core measured alone goes into the design and into a list that the browser keeps', async () => {
    const { page, errors } = await open();
    await page.getByRole('button', { name: 'Find its parameters' }).click();
    await page.locator('#jig-fullDrive-error').filter({ hasText: 'is missing' }).waitFor();
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('jig-fullDrive');
    await page.getByRole('button', { name: 'Fill in an invented core' }).click();
    await page.getByLabel('Name of the core').fill('jig core 7');
    await page.getByRole('button', { name: 'Find its parameters' }).click();
    await page.getByText('Parameters of jig core 7 are found.').waitFor();
    await page.getByRole('button', { name: 'Keep it in my list' }).click();
    await page.getByRole('button', { name: 'Use it in the design' }).click();
    await page.reload();
    await goTo(page, 'Bench');
    await page.getByRole('button', { name: 'Edit: jig core 7' }).click();
    await expect.poll(() => page.getByLabel('Name of the core').inputValue()).toBe('jig core 7');
    expect(await page.locator('#jig-peakTime').inputValue()).toBe('120 ns');
    expect(errors).toEqual([]);
    await page.context().close();
  });

  it('can be worked by keyboard alone', async () => {
    const { page } = await open();
    const button = (name: string) => page.getByRole('button', { name, exact: true });
    await button('a ONE').focus();
    await page.keyboard.press('Enter');
    await button('Take this capture').waitFor();
    await button('Take this capture').focus();
    await page.keyboard.press('Space');
    await page.locator('#bench-both-clip').waitFor({ state: 'attached' });
    await page.locator('#bench-unknown-mutual').focus();
    await page.keyboard.press('Space');
    expect(await page.locator('#bench-unknown-mutual').isChecked()).toBe(false);
    await button('Fit').focus();
    await page.keyboard.press('Enter');
    await button('Use the fitted design').waitFor();
    await button('Use the fitted design').focus();
    const outline = await page.evaluate(() => getComputedStyle(document.activeElement!).outlineStyle);
    expect(outline).not.toBe('none');
    await page.context().close();
  });

  it('gives axe nothing to report and never scrolls sideways in light, dark, forced colours and 320 px', async () => {
    const { page } = await open();
    await choose(page, 'ask-value-unit.csv');
    await page.locator('.bench-question').waitFor();
    await check(page);
    await page.getByRole('button', { name: 'a ONE', exact: true }).click();
    await take(page);
    await page.getByRole('button', { name: 'Fit', exact: true }).click();
    await page.getByRole('button', { name: 'Use the fitted design' }).waitFor();
    await page.getByRole('button', { name: 'Look for a fault' }).click();
    await page.locator('.bench-ranked').waitFor();
    await page.getByRole('button', { name: 'Fill in an invented core' }).click();
    await page.getByRole('button', { name: 'Find its parameters' }).click();
    await page.getByRole('button', { name: 'Keep it in my list' }).click();
    await page.evaluate(() => {
      for (const details of document.querySelectorAll<HTMLDetailsElement>('.bench details'))
        details.open = true;
    });
    await page.locator('.bench .behind tbody tr').first().waitFor();
    await check(page);
    await page.context().close();
  });

  /** The same state in every theme, since going to it is what takes the time. */
  async function check(page: Page): Promise<void> {
    await page.evaluate(await readFile(axePath, 'utf8'));
    await checkNow(page);
    await page.emulateMedia({ colorScheme: 'dark' });
    await checkNow(page);
    await page.emulateMedia({ colorScheme: 'light', forcedColors: 'active' });
    await checkNow(page);
    await page.emulateMedia({ forcedColors: 'none' });
    await page.setViewportSize({ width: 320, height: 800 });
    await nextFrame(page);
    await checkNow(page);
    await page.setViewportSize({ width: 1280, height: 900 });
    await nextFrame(page);
  }

  async function checkNow(page: Page): Promise<void> {
    const found = await page.evaluate(() =>
      (globalThis as unknown as AxeWindow).axe.run({
        runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
      }),
    );
    expect(found.violations.map(({ id, nodes }) => `${id}: ${nodes.map((n) => n.html).join(' | ')}`)).toEqual(
      [],
    );
    const [wide, shown] = await page.evaluate(
      () => [document.documentElement.scrollWidth, document.documentElement.clientWidth] as const,
    );
    expect(wide).toBeLessThanOrEqual(shown);
  }
});
