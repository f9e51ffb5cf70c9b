import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { randomNormal } from 'd3-random';
import { checkDesign, simulate, type Json } from '../engine/index.ts';
import { randomStream } from '../engine/numerics/random.ts';
import { applyPatches } from '../engine/studies/json-patch.ts';
import type { Patch } from '../engine/index.ts';

/**
 * The invented captures that the page offers to try the bench on: a simulation of a demo design that was changed
 * in secret, with noise, an offset, steps of ten bits and a time zero of its own. `write` puts them in place.
 */
export interface DemoCapture {
  readonly file: string;
  /** Demo design that they are said to be of. */
  readonly design: string;
  readonly about: string;
  /** What is different from the demo design: what a fit or a diagnosis should find. */
  readonly planted: readonly Patch[];
  readonly seed: number;
}

export const DEMO_CAPTURES: readonly DemoCapture[] = [
  {
    file: 'demo-one.csv',
    design: 'tide-recorder-16x16',
    about: 'a ONE read from the selected core',
    planted: [
      { path: '/core/parameters/remanentFlux', value: '2.9 nWb' },
      { path: '/core/parameters/switchingResistance', value: '160 mohm' },
      { path: '/wire/mutualX', value: '0.065 nH' },
      { path: '/wire/mutualY', value: '0.065 nH' },
    ],
    seed: 1,
  },
  {
    file: 'demo-zero.csv',
    design: 'tide-recorder-16x16',
    about: 'a ZERO read from the selected core',
    planted: [
      { path: '/core/parameters/remanentFlux', value: '2.9 nWb' },
      { path: '/core/parameters/switchingResistance', value: '160 mohm' },
      { path: '/wire/mutualX', value: '0.065 nH' },
      { path: '/wire/mutualY', value: '0.065 nH' },
      { path: '/selected', value: { row: 5, column: 9, bit: 0 } },
    ],
    seed: 2,
  },
  {
    file: 'demo-fault.csv',
    design: 'tide-recorder-16x16',
    about: 'a ONE read from a mat with one fault',
    planted: [{ path: '/terminations/b', value: 'open' }],
    seed: 3,
  },
];

const NOISE = 0.6e-3;
const OFFSET = 1.3e-3;
/** Ten bits over 0.8 V. */
const STEP = 0.8 / 1024;
const INTERVAL = 2e-9;
const SAMPLES = 560;
/** Where the instrument put its zero: the read starts 137.4 ns after its first sample. */
const FIRST = -137.4e-9;
const OWN_ZERO = 412e-9;

export const demoDesign = (id: string): Json =>
  JSON.parse(readFileSync(new URL(`../fixtures/designs/${id}.json`, import.meta.url), 'utf8')) as Json;

export function demoCaptureText({ design, about, planted, seed }: DemoCapture): string {
  const run = simulate(checkDesign(applyPatches(demoDesign(design), planted)), {
    contributions: false,
    estimateError: false,
    until: 1.2e-6,
  });
  const noise = randomNormal.source(randomStream(seed))(0, NOISE);
  const step = run.time[1]! - run.time[0]!;
  const rows = Array.from({ length: SAMPLES }, (_, i) => {
    const t = FIRST + i * INTERVAL;
    const at = Math.max(0, t / step);
    const k = Math.min(Math.floor(at), run.time.length - 2);
    const volts =
      run.senseVoltage[k]! + (at - k) * (run.senseVoltage[k + 1]! - run.senseVoltage[k]!) + OFFSET + noise();
    const millivolts = Math.round(volts / STEP) * STEP * 1e3;
    return `${((t - OWN_ZERO) * 1e9).toFixed(1)};${millivolts.toFixed(3)}`;
  });
  return [
    `# Invented capture, computed and not measured: ${about}.`,
    `# Design: ${design}, changed in places that are not told here; noise and steps of ten bits added.`,
    'time [ns];sense wire [mV]',
    ...rows,
    '',
  ].join('\n');
}

if (process.argv.includes('write-demo-captures'))
  for (const capture of DEMO_CAPTURES)
    writeFileSync(
      fileURLToPath(new URL(`../fixtures/captures/${capture.file}`, import.meta.url)),
      demoCaptureText(capture),
    );
