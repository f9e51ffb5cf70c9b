import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { randomNormal } from 'd3-random';
import { writeQuantity } from '../engine/base/format-quantity.ts';
import { applyPatches, type Json, type Patch } from '../engine/base/json-patch.ts';
import { checkDesign } from '../engine/check/check-design.ts';
import { disturbedState } from '../engine/core/disturb.ts';
import { pulseDrive } from '../engine/core/drive.ts';
import { disturbTest, readFlat } from '../engine/core/handbook/answers.ts';
import { coreFromHandbook } from '../engine/core/handbook/invert.ts';
import type { CoreHandbook } from '../engine/core/handbook/values.ts';
import { runCore } from '../engine/core/single.ts';
import { restState } from '../engine/core/state.ts';
import { randomStream } from '../engine/numerics/random.ts';
import { simulate } from '../engine/simulate/simulate.ts';

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

export const demoDesign = (id: string): Json =>
  JSON.parse(readFileSync(new URL(`../fixtures/designs/${id}.json`, import.meta.url), 'utf8')) as Json;

/** By this factor the wires of the demo captures couple more than geometry says. */
export const PLANTED_FACTOR = 1.3;
const geometric = checkDesign(demoDesign('tide-recorder-first-try-16x16')).wire;
const PLANTED_COUPLING: readonly Patch[] = [
  { path: '/wire/mutualX', value: writeQuantity(PLANTED_FACTOR * geometric.mutualX, 'H') },
  { path: '/wire/mutualY', value: writeQuantity(PLANTED_FACTOR * geometric.mutualY, 'H') },
];

export const DEMO_CAPTURES: readonly DemoCapture[] = [
  {
    file: 'demo-one.csv',
    design: 'tide-recorder-first-try-16x16',
    about: 'a ONE read from the selected core',
    planted: [
      { path: '/core/parameters/remanentFlux', value: '2.9 nWb' },
      { path: '/core/parameters/switchingResistance', value: '160 mohm' },
      ...PLANTED_COUPLING,
    ],
    seed: 1,
  },
  {
    file: 'demo-zero.csv',
    design: 'tide-recorder-first-try-16x16',
    about: 'a ZERO read from the selected core',
    planted: [
      { path: '/core/parameters/remanentFlux', value: '2.9 nWb' },
      { path: '/core/parameters/switchingResistance', value: '160 mohm' },
      ...PLANTED_COUPLING,
      { path: '/selected', value: { row: 5, column: 9, bit: 0 } },
    ],
    seed: 2,
  },
  {
    file: 'demo-fault.csv',
    design: 'tide-recorder-first-try-16x16',
    about: 'a ONE read from a mat with one fault',
    planted: [{ path: '/exceptions', value: [{ row: 5, column: 9, fluxFactor: 0.62 }] }],
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

/** The invented core that the captures of a jig are of. SI. */
export const JIG_CORE: CoreHandbook = {
  fullDrive: 0.74,
  rise: 50e-9,
  peakOne: 47e-3,
  peakTime: 128e-9,
  switchTime: 238e-9,
  disturbedZero: 9e-3,
  outsideDiameter: 508e-6,
  insideDiameter: 304.8e-6,
  height: 127e-6,
};
/** Where the drive's rise starts on the instrument's own time, s. */
export const JIG_EDGE = 25e-9;
const JIG_NOISE = 0.15e-3;
/** Ten bits over 0.1 V. */
const JIG_STEP = 0.1 / 1024;

export const JIG_CAPTURES = [
  { file: 'demo-jig-one.csv', about: 'an undisturbed ONE of one core on a jig, read with 740 mA', seed: 4 },
  { file: 'demo-jig-zero.csv', about: 'a disturbed ZERO of one core on a jig, read with 740 mA', seed: 5 },
] as const;

export function jigCaptureText({ file, about, seed }: (typeof JIG_CAPTURES)[number]): string {
  const { parameters } = coreFromHandbook(JIG_CORE);
  const initial =
    file === 'demo-jig-one.csv'
      ? restState(parameters, 1)
      : disturbedState(parameters, disturbTest(JIG_CORE)).zero;
  const { rise } = JIG_CORE;
  const width = rise + readFlat(JIG_CORE);
  const read = { amplitude: -JIG_CORE.fullDrive, start: 0, width, rise, fall: rise };
  const { time, emf } = runCore(parameters, pulseDrive([read], width), { step: 0.25e-9, initial });
  const noise = randomNormal.source(randomStream(seed))(0, JIG_NOISE);
  const rows = Array.from({ length: Math.floor((width + 70e-9) / 1e-9) }, (_, i) => {
    const t = -70e-9 + i * 1e-9;
    const at = Math.min(time.length - 1, Math.max(0, Math.round(t / 0.25e-9)));
    const volts = (t < 0 ? 0 : -emf[at]!) + 0.4e-3 + noise();
    const millivolts = Math.round(volts / JIG_STEP) * JIG_STEP * 1e3;
    return `${((t + JIG_EDGE) * 1e9).toFixed(1)};${millivolts.toFixed(3)}`;
  });
  return [
    `# Invented capture, computed and not measured: ${about}.`,
    `# The drive rises for 50 ns from ${JIG_EDGE * 1e9} ns on; noise and steps of ten bits added.`,
    'time [ns];sense wire [mV]',
    ...rows,
    '',
  ].join('\n');
}

if (process.argv.includes('write-demo-captures')) {
  for (const capture of JIG_CAPTURES)
    writeFileSync(
      fileURLToPath(new URL(`../fixtures/captures/${capture.file}`, import.meta.url)),
      jigCaptureText(capture),
    );
  for (const capture of DEMO_CAPTURES)
    writeFileSync(
      fileURLToPath(new URL(`../fixtures/captures/${capture.file}`, import.meta.url)),
      demoCaptureText(capture),
    );
}
