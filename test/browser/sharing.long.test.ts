import { readFile } from 'node:fs/promises';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { VERSION } from '../../engine/base/version.ts';
import { checkDesign } from '../../engine/check/check-design.ts';
import { makeReport } from '../../engine/report/report.ts';
import { strobeWindow } from '../../engine/strobe/strobe-window.ts';
import {
  boxOf,
  browserPath,
  chooseIn,
  goTo,
  openDrawer,
  openJudged,
  openPage,
  openPart,
  openRaw,
  settled,
  settledAfter,
  typeInput,
} from './chromium.ts';
import { pack } from '../../web/state/packing.ts';
import { visiting } from './visiting.ts';

describe.skipIf(browserPath === undefined)('sharing', () => {
  const visit = visiting();

  const strobe = (page: Page) =>
    page.getByRole('slider', { name: 'Strobe', exact: true }).getAttribute('aria-valuetext');

  it('asks nothing of any other origin and breaks no rule of a strict content policy', async () => {
    const { page, requests, errors } = await openJudged(visit.browser, visit.server.url);
    for (const place of ['Learn', 'Words', 'Plan'] as const) await goTo(page, place);
    await openDrawer(page, 'inputs');
    expect(requests.length).toBeGreaterThan(2);
    for (const url of requests)
      expect(new URL(url).protocol === 'data:' || url.startsWith(visit.server.url), url).toBe(true);
    expect(errors).toEqual([]);
    await page.context().close();
  });

  it('restores the exact state from a link, in a browser that has never seen it', async () => {
    const { page } = await openPage(visit.browser, `${visit.server.url}#/plan?open=drivers&marks=90..178ns`);
    await typeInput(page, 'Temperature', '40 degC');
    await openPart(page, 'latch');
    await typeInput(page, 'Strobe', '155 ns');
    await page.getByRole('button', { name: 'Zoom in' }).click();
    await settledAfter(page);
    await page.evaluate(() => {
      Object.defineProperty(navigator, 'clipboard', {
        value: { writeText: () => Promise.reject(new Error()) },
      });
    });
    await chooseIn(page, 'share', 'Copy link');
    await expect.poll(() => page.url()).toContain('d=s2-');
    const address = page.url();
    const state = async (from: Page) => ({
      strobe: await strobe(from),
      verdict: await from.locator('.verdict-row').innerText(),
      field: await from.locator('#part-strobe-time').inputValue(),
      name: await from.locator('.name-of-design').innerText(),
      marks: await from.locator('.lane-signal .cursor-line').count(),
      chart: await from.locator('.lane-signal .line-one .stroke').getAttribute('d'),
    });
    const wanted = await state(page);
    const { page: other } = await openPage(visit.browser, address);
    await expect.poll(() => state(other)).toEqual(wanted);
    await page.context().close();
    await other.context().close();
  });

  it('shows a notice and a working page for a bad link', async () => {
    for (const fragment of ['s1-garbage', '/plan?d=s2-garbage', '/plan?t=30&d=@tide-recorder-16x16']) {
      const { page, errors } = await openJudged(visit.browser, `${visit.server.url}#${fragment}`);
      expect(await page.getByRole('alert').innerText()).toMatch(/link is damaged|could not be read: t=30/);
      expect(await page.locator('.cell[data-set=nominal] .figure').innerText()).toContain('mV');
      expect(errors).toEqual([]);
      await page.context().close();
    }
  });

  it('opens the links of before', async () => {
    const raw = { name: 'Of before', core: { preset: 'ferrite-20-mil' }, mat: { rows: 4, columns: 4 } };
    const old = `s1-${await pack({ raw, view: 'plan', span: [0, 4e-7], bit: 0 })}`;
    const { page } = await openJudged(visit.browser, `${visit.server.url}#${old}`);
    expect(await page.getByRole('heading', { level: 1 }).innerText()).toBe('Of before');
    await expect.poll(() => page.url()).toMatch(/bit=0/);
    expect(page.url()).toContain('span=0..400ns');
    await page.context().close();
  });

  async function saved(page: Page, kind: string): Promise<Buffer> {
    const waiting = page.waitForEvent('download');
    await page
      .locator('[data-region=trace] .region-head .behind')
      .getByRole('button', { name: kind, exact: true })
      .click();
    return readFile(await (await waiting).path());
  }

  it('saves CSV, SVG, PNG and JSON, each with inputs, version and seed', async () => {
    const { page } = await openJudged(visit.browser, visit.server.url);
    await page.locator('[data-region=trace] .region-head .behind > summary').click();
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
    const box = await boxOf(page.locator('.lane-signal svg.chart'));
    expect(png.readUInt32BE(16)).toBe(2 * Math.round(box.width));
    expect(png.includes('iTXtstrobewright')).toBe(true);
    expect(png.includes('"version"') && png.includes('"seed"')).toBe(true);
    await page.context().close();
  });

  it('saves the report to build from, the same as the library makes', async () => {
    const { page } = await openJudged(visit.browser, visit.server.url);
    const waiting = page.waitForEvent('download');
    await page.locator('.share-menu > summary').click();
    await page.getByRole('button', { name: 'Save report' }).click();
    const download = await waiting;
    expect(download.suggestedFilename()).toBe('tide-recorder-16-x-16-report.html');
    const html = (await readFile(await download.path())).toString();
    const file = new URL('../../fixtures/designs/tide-recorder-16x16.json', import.meta.url);
    const wanted = makeReport(checkDesign(JSON.parse(await readFile(file, 'utf8'))));
    const words = (text: string) => text.replaceAll(/<svg[^]*?<\/svg>/g, '');
    expect(words(html)).toBe(words(wanted));
    expect(html.match(/<svg/g)!.length).toBe(wanted.match(/<svg/g)!.length);
    await page.context().close();
  });

  it('saves the build pack of the design on the stage', async () => {
    const { page } = await openJudged(visit.browser, visit.server.url);
    const waiting = page.waitForEvent('download', { timeout: 120_000 });
    await page.locator('.share-menu > summary').click();
    await page.getByRole('button', { name: 'Save build pack' }).click();
    const download = await waiting;
    expect(download.suggestedFilename()).toBe('tide-recorder-16-x-16-pack.html');
    const html = (await readFile(await download.path())).toString();
    for (const sheet of ['1 Threading', '2 Timing', '3 Parts', '5 Stages of the build', '6 First power-up'])
      expect(html).toContain(sheet);
    // Its other files are saved from the document itself.
    const paper = await page.context().newPage();
    await paper.setContent(html);
    for (const name of ['timing.csv', 'timing.vcd', 'stage-1-rig.json']) {
      const file = paper.waitForEvent('download');
      await paper.getByRole('link', { name, exact: true }).click();
      const kept = await file;
      expect(kept.suggestedFilename()).toBe(name);
      expect((await readFile(await kept.path())).length).toBeGreaterThan(200);
    }
    await page.context().close();
  });

  it('shows the numbers that the library gives for the same design', async () => {
    const { page } = await openPage(visit.browser, visit.server.url);
    await page.locator('[data-region=trace] .region-head .behind > summary').click();
    const json = JSON.parse((await saved(page, 'JSON')).toString()) as { columns: Record<string, number[]> };
    const file = new URL('../../fixtures/designs/tide-recorder-16x16.json', import.meta.url);
    const { envelope } = strobeWindow(checkDesign(JSON.parse(await readFile(file, 'utf8'))));
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
    const { page } = await openPage(visit.browser, `${visit.server.url}#/plan/pinned?open=drivers`);
    const pin = page.getByRole('button', { name: 'Pin this run' });
    await pin.click();
    await typeInput(page, 'Edge time', '60 ns');
    await settledAfter(page);
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
    const { page } = await openJudged(visit.browser, visit.server.url);
    await page.evaluate(() => {
      const text = File.prototype.text;
      File.prototype.text = function () {
        if (this.size > 5_000_000) throw new Error('read');
        return text.call(this);
      };
    });
    await openRaw(page, ' '.repeat(5_000_001), 'huge.json');
    await expect.poll(() => page.getByRole('alert').innerText()).toMatch(/huge.json must be .* at most 5 MB/);
    await openRaw(page, 'not json');
    await expect
      .poll(() => page.getByRole('alert').innerText())
      .toContain('mine.json must be valid JSON; line 1');
    await openRaw(page, {
      name: 'Mine',
      core: { preset: 'ferrite-20-mil' },
      mat: { rows: 8, columns: 8 },
      winding: { kind: 'shared-one-run' },
    });
    await expect.poll(() => page.getByRole('heading', { level: 1 }).first().innerText()).toBe('Mine');
    await settled(page);
    await page.context().close();
  });

  it('prints the course as a hand-out: questions first, then every answer with its picture', async () => {
    const { page } = await openJudged(visit.browser, visit.server.url);
    await goTo(page, 'Learn');
    await page.locator('.step').last().waitFor();
    await page.evaluate(() => {
      window.print = () => undefined;
    });
    await page.getByRole('button', { name: 'Print as a hand-out' }).click();
    await page.emulateMedia({ media: 'print' });
    // Each is computed first; they come together.
    await page.locator('.solution').last().waitFor({ state: 'attached', timeout: 100_000 });
    const solutions = await page.locator('.solution').all();
    expect(solutions).toHaveLength(await page.locator('.step').count());
    for (const solution of solutions) {
      expect(await solution.locator('svg.chart path.stroke').count()).toBeGreaterThan(0);
      expect(await solution.locator('p > strong').innerText()).toMatch(/\w/);
      expect(await solution.locator('dd').count()).toBeGreaterThan(1);
    }
    expect(await page.locator('.step-answer:visible').count()).toBe(0);
    // A line for the reason under every question, and empty axes to sketch on.
    expect(await page.locator('.reason:visible').count()).toBe(solutions.length);
    expect(await page.locator('.draw-plot svg.chart:visible').count()).toBe(1);
    const pdf = (await page.pdf({ format: 'A4', preferCSSPageSize: true })).toString('latin1');
    const pages = pdf.match(/\/Type\s*\/Page\b/g)!.length;
    expect(pages).toBeGreaterThan(6);
    // Three questions or more fill a page, and two answers with their inputs and how far they may be off.
    expect(pages).toBeLessThanOrEqual(Math.ceil(solutions.length / 3) + Math.ceil(solutions.length / 2));
    await page.context().close();
  });
});
