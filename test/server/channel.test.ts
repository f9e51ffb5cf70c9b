import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { formatQuantity } from '../../engine/base/format-quantity.ts';
import { channelReport } from '../../engine/channel/channel-report.ts';
import { checkDesign } from '../../engine/check/check-design.ts';
import { buildNumbers } from '../../engine/estimates/build-numbers.ts';
import { channelJson } from '../../engine/export/serialise.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { spectrumOfOne } from '../../engine/strobe/spectrum.ts';
import { callCli } from './call-cli.ts';
import { ensureBuild, ROOT } from './ensure-build.ts';
import { askPort } from './http-client.ts';
import type { ServeProcess } from './serve-process.ts';
import { startServe } from './serve-process.ts';

const file = (name: string): string => join(ROOT, 'fixtures/designs', name);
const text = (name: string): string => readFileSync(file(name), 'utf8');

let serving: ServeProcess;
beforeAll(async () => {
  await ensureBuild();
  serving = await startServe(['--workers', '1']);
});
afterAll(async () => {
  await serving?.end();
});
const post = (path: string, body: string) =>
  askPort(serving.port, path, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body });

describe('channel', () => {
  it('gives the same bytes through library, command line and HTTP', async () => {
    // In long steps: only bytes are compared.
    const raw = {
      ...(JSON.parse(text('minimal.json')) as object),
      numerics: { output: '5 ns', step: '5 ns' },
    };
    const input = JSON.stringify(raw);
    const library = channelJson(channelReport(checkDesign(raw), { simulate }));
    const line = await callCli(['channel', '-', '--format', 'json'], { input });
    const http = await post('/api/v1/channels', input);
    expect(http.status).toBe(200);
    expect(line.stdout === library).toBe(true);
    expect(http.body === library).toBe(true);
    const { stdout } = await callCli(['channel', '-', '--format', 'csv'], { input });
    const { disturb } = JSON.parse(library) as { disturb: { uV1: { peak: number } } };
    expect(stdout.split('\n')[2]).toBe('quantity,value_SI');
    expect(stdout).toContain(`\ndisturb.uV1.peak,${disturb.uV1.peak}\n`);
    expect(stdout).toMatch(/\nsupply\.0\.allOnes,[\d.e-]+\n/);
  });

  it('reads as text with every part of it', async () => {
    const { stdout, status } = await callCli(['channel', file('supply-rig-first-try-8x8x8.json')]);
    expect(status).toBe(0);
    for (const part of ['uV1, undisturbed ONE', 'Inhibit and the next read', 'Words', 'out of cycle time'])
      expect(stdout).toContain(part);
  });

  it('tells the baseline that endless cycles leave, and the worst duty, where the amplifier is AC coupled', async () => {
    const design = {
      ...(JSON.parse(text('minimal.json')) as object),
      amplifier: { highPass: '50 kHz' },
      numerics: { output: '5 ns', step: '5 ns' },
      cycle: { period: '4 us', inhibitedShare: 0.5 },
    };
    const input = JSON.stringify(design);
    const run = simulate(checkDesign(design), { estimateError: false });
    const simulated = await callCli(['simulate', '-'], { input });
    const level = formatQuantity(Math.abs(run.baseline!), 'V');
    expect(simulated.stdout).toContain(
      `50 % of them inhibited, the AC-coupled amplifier's baseline lies ${level} too`,
    );
    const plain = await callCli(['simulate', file('minimal.json')]);
    expect(plain.stdout).not.toContain('baseline');
    const { worst } = channelReport(checkDesign(design), { simulate }).recovery.duty;
    const channel = await callCli(['channel', '-'], { input });
    expect(channel.stdout).toContain('Through AC coupling, by the share of cycles that were inhibited');
    expect(channel.stdout).toContain(`Worst for a ONE: ${100 * worst!.one.inhibitedShare} % inhibited`);
    const http = await post('/api/v1/channels', input);
    const told = JSON.parse(http.body) as { recovery: { duty: { worst: { one: { one: number } } } } };
    expect(told.recovery.duty.worst.one.one).toBe(worst!.one.one);
  });

  it('refuses what is no design in one sentence, and parameters it does not know', async () => {
    const bad = await post('/api/v1/channels', '{"mat": {"rows": 0}}');
    expect(bad.status).toBe(422);
    expect((JSON.parse(bad.body) as { field: string }).field).toBe('/mat/rows');
    expect((await post('/api/v1/channels?depth=3', '{}')).status).toBe(400);
    expect((await askPort(serving.port, '/api/v1/channels')).status).toBe(405);
  });
});

describe('check', () => {
  it('prints drivers, supply current, highest rate and recovery', async () => {
    const build = buildNumbers(checkDesign(JSON.parse(text('supply-rig-first-try-8x8x8.json'))));
    const { stdout } = await callCli(['check', file('supply-rig-first-try-8x8x8.json'), '--format', 'json']);
    const told = JSON.parse(stdout) as { build: unknown; recovery: { shortestCycle: number } };
    expect(told.build).toEqual(build);
    expect(1 / told.recovery.shortestCycle).toBeCloseTo(build.highestRate, 3);
    const plain = await callCli(['check', file('supply-rig-first-try-8x8x8.json')]);
    expect(plain.stdout).toMatch(/drivers with inhibit +24\n +drivers without inhibit +128\n/u);
    expect(plain.stdout).toMatch(/inhibit recovery, by estimate/u);
  });
});

describe('spectrum', () => {
  it('comes with a run when it is asked for, from either door, and not otherwise', async () => {
    const { one } = spectrumOfOne(simulate(checkDesign(JSON.parse(text('minimal.json')))));
    const spectrumIn = (body: string): { one: number[] } | undefined =>
      (JSON.parse(body) as { spectrum?: { one: number[] } }).spectrum;
    const line = await callCli(['simulate', file('minimal.json'), '--format', 'json', '--spectrum']);
    const http = await post('/api/v1/simulations?spectrum=true', text('minimal.json'));
    expect(spectrumIn(line.stdout)!.one).toEqual([...one]);
    expect(http.body === line.stdout).toBe(true);
    expect(spectrumIn((await post('/api/v1/simulations', text('minimal.json'))).body)).toBeUndefined();
  });
});
