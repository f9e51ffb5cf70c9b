import { readFile } from 'node:fs/promises';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkDesign, makeReport, strobeWindow, VERSION } from '../../engine/index.ts';
import { boxOf, browserPath, launch, openPage, settled } from './chromium.ts';
import { servePage, type PageServer } from './page-server.ts';

describe.skipIf(browserPath === undefined)('sharing', () => {
  let browser: Browser;
  let server: PageServer;
  beforeAll(async () => {
    [server, browser] = await Promise.all([servePage(), launch()]);
  });
  afterAll(async () => {
    await browser?.close();
    await server?.close();
  });

  const strobe = (page: Page) => page.getByRole('slider', { name: 'Strobe' }).getAttribute('aria-valuetext');

  it('asks nothing of any other origin and breaks no rule of a strict content policy', async () => {
    const { page, requests, errors } = await openPage(browser, server.url);
    for (const view of ['Learn', 'Terms', 'Plan'])
      await page.getByRole('button', { name: view, exact: true }).click();
    await page.locator('#editor > summary').click();
    expect(requests.length).toBeGreaterThan(2);
    for (const url of requests)
      expect(new URL(url).protocol === 'data:' || url.startsWith(server.url), url).toBe(true);
    expect(errors).toEqual([]);
    await page.context().close();
  });

  it('restores the exact state from a link', async () => {
    const { page } = await openPage(browser, server.url);
    await page.getByLabel('Temperature').fill('40 degC');
    await page.getByLabel('Temperature').press('Enter');
    await page.locator('#strobe-field').fill('155 ns');
    await page.locator('#strobe-field').press('Enter');
    await page.locator('#cursors').check();
    await page.getByRole('button', { name: 'Zoom in' }).click();
    await settled(page);
    await page.getByRole('button', { name: 'Copy link' }).click();
    await page.waitForFunction(() => location.hash.length > 10);
    const state = async (from: Page) => ({
      strobe: await strobe(from),
      readouts: await from.locator('.readouts').first().innerText(),
      inputs: await from
        .locator('.key-inputs input')
        .evaluateAll((all) => all.map((input) => (input as HTMLInputElement).value)),
      cursors: await from.locator('.cursor-table').innerText(),
      chart: await from.locator('.main-panel svg.chart .line-one .stroke').getAttribute('d'),
    });
    const wanted = await state(page);
    const { page: other } = await openPage(browser, page.url());
    await expect.poll(() => state(other)).toEqual(wanted);
    await page.context().close();
    await other.context().close();
  });

  it('shows a notice and a working page for a bad link', async () => {
    const { page, errors } = await openPage(browser, `${server.url}#s1-garbage`);
    expect(await page.getByRole('alert').innerText()).toMatch(/link is damaged/);
    expect(await page.locator('.readouts dd').count()).toBeGreaterThan(4);
    expect(errors).toEqual([]);
    await page.context().close();
  });

  async function saved(page: Page, kind: string): Promise<Buffer> {
    const waiting = page.waitForEvent('download');
    await page.locator('.main-panel .behind').getByRole('button', { name: kind, exact: true }).click();
    return readFile(await (await waiting).path());
  }

  it('saves CSV, SVG, PNG and JSON, each with inputs, version and seed', async () => {
    const { page } = await openPage(browser, server.url);
    await page.locator('.main-panel .behind > summary').click();
    const csv = (await saved(page, 'CSV')).toString();
    expect(csv).toContain(`# strobewright ${VERSION}`);
    expect(csv).toMatch(/# seed 16\n# design \{.*"rows":16/);
    expect(csv.split('\n').length).toBeGreaterThan(1000);

    const json = JSON.parse((await saved(page, 'JSON')).toString()) as {
      version: string;
      seed: number;
      design: { mat: { rows: number } };
    };
    expect([json.version, json.seed, json.design.mat.rows]).toEqual([VERSION, 16, 16]);

    const svg = (await saved(page, 'SVG')).toString();
    expect(svg).toMatch(/<metadata>\{.*version.*seed.*rows/s);
    expect(svg).not.toContain('var(--');

    const png = await saved(page, 'PNG');
    expect(png.subarray(1, 4).toString()).toBe('PNG');
    const box = await boxOf(page.locator('.main-panel svg.chart'));
    expect(png.readUInt32BE(16)).toBe(2 * Math.round(box.width));
    expect(png.includes('iTXtstrobewright')).toBe(true);
    expect(png.includes('"version"') && png.includes('"seed"')).toBe(true);
    await page.context().close();
  });

  it('saves the report to build from, the same as the library makes', async () => {
    const { page } = await openPage(browser, server.url);
    const waiting = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Save report' }).click();
    const download = await waiting;
    expect(download.suggestedFilename()).toBe('tide-recorder-16-x-16-report.html');
    const html = (await readFile(await download.path())).toString();
    const file = new URL('../../fixtures/designs/tide-recorder-16x16.json', import.meta.url);
    const wanted = makeReport(checkDesign(JSON.parse(await readFile(file, 'utf8'))));
    const words = (text: string) => text.replaceAll(/<svg[^]*?<\/svg>/g, '');
    expect(words(html)).toBe(words(wanted));
    expect(html.match(/<svg/g)!.length).toBe(wanted.match(/<svg/g)!.length);
    expect(await page.getByRole('button', { name: 'Save report' }).getAttribute('aria-busy')).toBe('false');
    await page.context().close();
  });

  it('shows the numbers that the library gives for the same design', async () => {
    const { page } = await openPage(browser, server.url);
    await page.locator('.main-panel .behind > summary').click();
    const json = JSON.parse((await saved(page, 'JSON')).toString()) as { columns: Record<string, number[]> };
    const file = new URL('../../fixtures/designs/tide-recorder-16x16.json', import.meta.url);
    const { envelope } = strobeWindow(checkDesign(JSON.parse(await readFile(file, 'utf8'))), {
      wholeCycle: true,
    });
    // Browser and Node differ in the last digit of exp and tanh, hence the hair's breadth of 1e-9 of the peak.
    const pairs = [
      [json.columns['least ONE / V']!, envelope.one],
      [json.columns['greatest ZERO / V']!, envelope.zero],
    ] as const;
    for (const [shown, wanted] of pairs) {
      const peak = wanted.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
      expect(shown).toHaveLength(wanted.length);
      const worst = shown.reduce((most, value, i) => Math.max(most, Math.abs(value - wanted[i]!)), 0);
      expect(worst).toBeLessThan(1e-9 * peak);
    }
    await page.context().close();
  });

  it('pins runs and shows only the inputs in which they differ', async () => {
    const { page } = await openPage(browser, server.url);
    const pin = page.getByRole('button', { name: 'Pin this run' });
    await pin.click();
    await page.getByLabel('Edge time').fill('60 ns');
    await page.getByLabel('Edge time').press('Enter');
    await settled(page);
    await pin.click();
    const inputs = async () =>
      (await page.locator('.pins tbody th').allInnerTexts()).filter((row) => row.includes('›'));
    await expect
      .poll(inputs)
      .toEqual(['drive › x › rise', 'drive › x › fall', 'drive › y › rise', 'drive › y › fall']);
    await pin.click();
    await pin.click();
    await expect.poll(() => pin.isDisabled()).toBe(true);
    await page.context().close();
  });

  it('opens a design file, and says plainly what is wrong with one that is none', async () => {
    const { page } = await openPage(browser, server.url);
    const open = (text: string) =>
      page
        .locator('#open-file')
        .setInputFiles({ name: 'mine.json', mimeType: 'application/json', buffer: Buffer.from(text) });
    await open('not json');
    await expect
      .poll(() => page.getByRole('alert').innerText())
      .toContain('mine.json must be valid JSON; line 1');
    await open(
      JSON.stringify({
        name: 'Mine',
        core: { preset: 'ferrite-20-mil' },
        mat: { rows: 8, columns: 8 },
        winding: { kind: 'shared-one-run' },
      }),
    );
    await expect.poll(() => page.getByRole('heading', { level: 1 }).first().innerText()).toBe('Mine');
    await settled(page);
    await page.context().close();
  });

  it('prints the guided sequence as a hand-out: questions first, then every answer with its picture', async () => {
    const { page } = await openPage(browser, server.url);
    await page.getByRole('button', { name: 'Learn', exact: true }).click();
    await page.locator('.step').last().waitFor();
    await page.evaluate(() => {
      window.print = () => undefined;
    });
    await page.getByRole('button', { name: 'Print as a hand-out' }).click();
    await page.emulateMedia({ media: 'print' });
    const solutions = await page.locator('.solution').all();
    expect(solutions).toHaveLength(10);
    for (const solution of solutions) {
      expect(await solution.locator('svg.chart path.stroke').count()).toBeGreaterThan(0);
      expect(await solution.locator('p > strong').innerText()).toMatch(/\w/);
      expect(await solution.locator('dd').count()).toBeGreaterThan(1);
    }
    expect(await page.locator('.step-answer:visible').count()).toBe(0);
    const pdf = (await page.pdf({ format: 'A4', preferCSSPageSize: true })).toString('latin1');
    const pages = pdf.match(/\/Type\s*\/Page\b/g)!.length;
    expect(pages).toBeGreaterThan(3);
    expect(pages).toBeLessThan(8);
    await page.context().close();
  });

  it('computes every step of the guided sequence and tells right from wrong', async () => {
    const { page } = await openPage(browser, server.url);
    await page.getByRole('button', { name: 'Learn', exact: true }).click();
    await page.locator('.step').last().waitFor();
    const steps = await page.locator('.step').all();
    expect(steps).toHaveLength(10);
    await steps[0]!.getByRole('button', { name: 'Reveal' }).click();
    expect(await steps[0]!.locator('.step-answer').innerText()).toContain('Predict first');
    for (const step of steps) {
      await step.getByRole('radio').first().check();
      await step.getByRole('button', { name: 'Reveal' }).click();
      await expect.poll(() => step.locator('.step-answer svg.chart path.stroke').count()).toBeGreaterThan(0);
      expect(await step.locator('.step-answer').innerText()).toMatch(/As you said|Not so/);
    }
    await page.context().close();
  });
});
