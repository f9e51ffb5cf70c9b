import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { formatQuantity } from '../../engine/base/format-quantity.ts';
import { ensureBuild } from '../server/ensure-build.ts';
import { askPatiently } from '../server/http-client.ts';
import { startServe, type ServeProcess } from '../server/serve-process.ts';
import { browserPath, goTo, launch, openDrawer, openPage } from './chromium.ts';
import { servePage, type PageServer } from './page-server.ts';

/** Bytes on their way. */
const compressed = (script: string): number => gzipSync(script, { level: 9 }).length;

interface SimulationAnswer {
  readonly time: number[];
  readonly senseVoltage: number[];
  readonly contributions: Readonly<Record<string, number[]>>;
}

interface WindowAnswer {
  readonly strobe: { readonly start: number; readonly end: number };
  readonly margin: Readonly<Record<'one' | 'zero' | 'total', number>>;
}

describe.skipIf(browserPath === undefined)('the page from a folder of any static host', () => {
  const design = new URL('../../fixtures/designs/tide-recorder-16x16.json', import.meta.url);
  let browser: Browser;
  let page: Page;
  let opened: { readonly requests: string[]; readonly errors: string[] };
  let host: PageServer;
  let serving: ServeProcess;
  beforeAll(async () => {
    await ensureBuild();
    [host, browser, serving] = await Promise.all([
      servePage('/school/memory/'),
      launch(),
      startServe(['--workers', '1']),
    ]);
    const first = await openPage(browser, host.url);
    page = first.page;
    opened = first;
  }, 240_000);
  afterAll(async () => {
    await browser?.close();
    await host?.close();
    await serving?.end();
  });

  const ask = async (path: string): Promise<unknown> => {
    const { status, body } = await askPatiently(serving.port, path, {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: await readFile(design, 'utf8'),
    });
    expect(status, body.slice(0, 300)).toBe(200);
    return JSON.parse(body);
  };

  it('starts with at most 140 kB of scripts, compressed, and has its first trace from a worker of as much', async () => {
    const text = await readFile(join(host.folder, 'index.html'), 'utf8');
    const files = [...text.matchAll(/(?:src|href)="\.\/(assets\/[^"]+\.js)"/gu)].map(([, name]) => name!);
    // What these import is named as a preload too: nothing else is fetched before the page starts.
    const scripts = await Promise.all(files.map((name) => readFile(join(host.folder, name), 'utf8')));
    for (const [, name] of scripts.join('\n').matchAll(/(?:from|import)\s*["']\.\/([^"']+\.js)["']/gu))
      expect(files).toContain(`assets/${name}`);
    expect(files.length).toBeGreaterThan(3);
    expect(scripts.reduce((sum, script) => sum + compressed(script), 0)).toBeLessThan(140_000);
    const assets = await readdir(join(host.folder, 'assets'));
    const worker = assets.find((name) => /^run-worker-.*\.js$/u.test(name))!;
    expect(compressed(await readFile(join(host.folder, 'assets', worker), 'utf8'))).toBeLessThan(140_000);
  });

  it('finds every file beside itself, workers and later views among them', async () => {
    for (const place of ['Bench', 'Learn', 'Words', 'Plan'] as const) await goTo(page, place);
    await openDrawer(page, 'studies');
    await page.locator('.study-form').waitFor();
    expect(opened.requests.some((url) => url.includes('worker'))).toBe(true);
    for (const url of opened.requests)
      expect(url.startsWith(host.url) || url.startsWith('data:'), url).toBe(true);
    expect(opened.errors).toEqual([]);
  });

  it('gives the traces that the server gives, part by part', async () => {
    const served = (await ask('/api/v1/simulations')) as SimulationAnswer;
    await page.locator('.drawer').getByRole('button', { name: 'Close' }).click();
    await page.locator('.lane-causes .behind > summary').click();
    const waiting = page.waitForEvent('download');
    await page.locator('.lane-causes .behind').getByRole('button', { name: 'JSON', exact: true }).click();
    const { columns } = JSON.parse((await readFile(await (await waiting).path())).toString()) as {
      columns: Record<string, number[]>;
    };
    const peak = served.senseVoltage.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
    // Browser and Node differ in the last digit of exp and tanh, hence the hair's breadth of 1e-9 of the peak.
    const pairs = [
      ['total / V', served.senseVoltage],
      ['direct coupling / V', served.contributions['directCoupling']!],
      ['half-selected, reversible / V', served.contributions['halfSelectedReversible']!],
      ['selected core / V', served.contributions['selectedCore']!],
    ] as const;
    for (const [name, wanted] of pairs) {
      expect(columns[name]).toHaveLength(wanted.length);
      const off = wanted.map((value, i) => Math.abs(value - columns[name]![i]!));
      expect(Math.max(...off), name).toBeLessThan(1e-9 * peak);
    }
  });

  it('gives the window and the margins that the server gives', async () => {
    const { strobe, margin } = (await ask('/api/v1/windows')) as WindowAnswer;
    await page.locator('.cell[data-set=nominal]').click();
    await page.locator('.evidence-card .readouts').waitFor();
    const shown = await page.locator('.readouts').first().innerText();
    const volts = (value: number) => formatQuantity(value, 'V', 3);
    const seconds = (value: number) => formatQuantity(value, 's', 4);
    for (const [name, value] of [
      ['Margin ONE', volts(margin.one)],
      ['Margin ZERO', volts(margin.zero)],
      ['Margin total', volts(margin.total)],
      ['Window start', seconds(strobe.start)],
      ['Window end', seconds(strobe.end)],
    ] as const)
      expect(shown).toContain(`${name}\n${value}`);
  });
});
