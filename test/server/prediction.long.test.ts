import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Patch } from '../../engine/base/json-patch.ts';
import type { FitCapture } from '../../engine/fitting/fit-captures.ts';
import { fitDesign } from '../../engine/fitting/fit-design.ts';
import { knowledgeOf, type Knowledge } from '../../engine/predict/knowledge.ts';
import { predict } from '../../engine/predict/predict.ts';
import { nextSheet, PROCEDURE } from '../../engine/predict/next/next-words.ts';
import { whatNext } from '../../engine/predict/next/what-next.ts';
import { escapeText } from '../../engine/report/markup.ts';
import { nextText } from '../../server/print/next-text.ts';
import { MAT_CANDIDATES, predictionRuns } from '../../engine/predict/price.ts';
import { perform } from '../../server/perform.ts';
import { capture, SMALL } from '../independent/builds.ts';
import { captureCsv } from '../independent/instrument.ts';
import { predictionCsv, predictionText } from '../../server/print/prediction-text.ts';
import { callCli, exceptProgress } from './call-cli.ts';
import { countingRuns } from './counting-runs.ts';
import { startTestServer, type TestServer } from './http-client.ts';

/** A mat of four cores: every door computes the whole of it. */
const SMALLEST = {
  ...(SMALL as object),
  mat: { rows: 2, columns: 2 },
  tolerances: { drive: 0, supply: 0, temperature: '0 K' },
  selected: { row: 1, column: 0, bit: 1 },
} as const;
const CHANGES: readonly Patch[] = [{ path: '/temperature', value: '35 degC' }];

let server: TestServer;
let folder: string;
let file: string;
let known: Knowledge;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'strobewright-prediction-'));
  server = await startTestServer({
    runner: { threads: 1, run: async (task) => perform(task, () => false), close: async () => {} },
  });
  const design = join(folder, 'design.json');
  writeFileSync(design, JSON.stringify(SMALLEST));
  const { time, value } = capture(SMALLEST, [], { until: 500e-9 });
  writeFileSync(join(folder, 'one.csv'), captureCsv(time, { 'sense [V]': value }));
  file = join(folder, 'fit.json');
  const words = ['fit', design, join(folder, 'one.csv'), '--unknown', 'coreFlux', '--format', 'json'];
  const ended = await callCli([...words, '--output', file]);
  expect(exceptProgress(ended)).toBe('');
  known = (JSON.parse(readFileSync(file, 'utf8')) as { known: Knowledge }).known;
});
afterAll(async () => {
  await server?.close();
  rmSync(folder, { recursive: true, force: true });
});

/** A job's result, as it is. */
async function resultOf(path: string, body: unknown): Promise<string> {
  const accepted = await server.postJson(path, body);
  expect(accepted.status, accepted.body).toBe(202);
  const job = String(accepted.headers['location']);
  for (;;) {
    const { state } = JSON.parse((await server.ask(job)).body) as { state: string };
    if (state === 'failed') throw new Error((await server.ask(job)).body);
    if (state === 'done') return (await server.ask(`${job}/result`)).body;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}

describe('a prediction from a fit', () => {
  it('is the same over HTTP and on the command line, and its figures are those of the library', async () => {
    const line = await callCli(['predict', file, '--set', '/temperature=35 degC', '--format', 'json']);
    expect(exceptProgress(line)).toBe('');
    expect(await resultOf('/api/v1/predictions', { known, changes: CHANGES })).toBe(line.stdout);
    const told = JSON.parse(line.stdout) as Record<string, unknown>;
    const count = countingRuns();
    const found = predict({ known, changes: CHANGES, simulate: count.simulate });
    const { corners, peak, outside } = found;
    expect(told).toMatchObject({ corners, peak, outside: outside.map(({ what }) => ({ what })) });
    expect(outside.map(({ what }) => what)).toContain('temperature');
    expect(predictionText(found)).toContain('The temperature lies outside what was measured');
    expect(predictionCsv(found).split('\n')[0]).toContain('one_low_V');
    // No more cycles than it is priced at.
    const { design, capture: each } = predictionRuns(known.values.length);
    expect(count.cycles()).toBeGreaterThan(100);
    expect(count.cycles()).toBeLessThanOrEqual(design + each * known.captures.length);
  });
});

describe('what to measure next', () => {
  it('is the same over HTTP and on the command line, ranked, and no dearer than its price', async () => {
    const line = await callCli(['next', file, '--format', 'json']);
    expect(exceptProgress(line)).toBe('');
    expect(await resultOf('/api/v1/next-captures', { known })).toBe(line.stdout);
    const count = countingRuns();
    const found = whatNext({ known, simulate: count.simulate });
    const told = JSON.parse(line.stdout) as { margin: unknown; ranked: { narrows: number; what: string }[] };
    expect(told.margin).toEqual(found.margin);
    expect(told.ranked.map(({ narrows }) => narrows)).toEqual(found.ranked.map(({ narrows }) => narrows));
    for (const [i, { narrows, width }] of found.ranked.entries()) {
      expect(narrows).toBeLessThanOrEqual(found.ranked[Math.max(0, i - 1)]!.narrows);
      expect(width).toBeLessThanOrEqual((found.margin.high - found.margin.low) * 1.001);
    }
    expect(found.ranked[0]!.narrows).toBeGreaterThan(0);
    const { design, capture: each } = predictionRuns(known.values.length);
    const mat = found.ranked.filter(({ take }) => take.where === 'mat').length;
    expect(mat).toBeLessThanOrEqual(MAT_CANDIDATES);
    expect(count.cycles()).toBeLessThanOrEqual(design + each * (known.captures.length + MAT_CANDIDATES));
    const sheet = nextSheet('', found);
    for (const words of [...PROCEDURE, told.ranked[0]!.what]) expect(sheet).toContain(escapeText(words));
    expect(nextText(found)).toContain(told.ranked[0]!.what);
  });
});

describe('what a fit answers as known', () => {
  it('is what the library makes of the same fit', () => {
    const captures: FitCapture[] = [{ label: 'one', trace: capture(SMALLEST, [], { until: 500e-9 }) }];
    const own = knowledgeOf(fitDesign({ design: SMALLEST, captures, unknowns: ['coreFlux'] }), captures);
    expect(known.values[0]!.name).toBe('coreFlux');
    expect(known.values[0]!.value / own.values[0]!.value).toBeCloseTo(1, 4);
    expect(known.captures).toHaveLength(1);
  });
});
