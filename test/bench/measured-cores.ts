/**
 * The core model held against measured traces, as a table: model, trace, whether the fit saw it, and measured beside
 * modelled peak, its time, area and what is left (rms over the spans). Run by `npm run cores`. The source of the traces
 * stands in test/physics/measured-core.ts.
 */
import type { CoreParameters, CoreProperty } from '../../engine/design/core.ts';
import { fitTraces, type TraceFit } from '../../engine/fitting/jig/fit-traces.ts';
import { modelTrace, type CoreCapture } from '../../engine/fitting/jig/trace-model.ts';
import {
  BELL,
  disturbedReads,
  driveAndSense,
  fullSelects,
  NEAR,
  RINGS_AND_TAIL,
} from '../physics/measured-core.ts';

const MODELS: readonly (readonly [string, CoreParameters, readonly CoreProperty[]])[] = [
  ['one bell', { ...NEAR, ringSpread: 0, decayResistance: 0 }, BELL],
  ['rings', { ...NEAR, decayResistance: 0 }, [...BELL, 'ringSpread']],
  ['rings, decaying part', NEAR, RINGS_AND_TAIL],
];
const all = [driveAndSense(), ...fullSelects(), ...disturbedReads()];
/** Which captures each fit sees. */
const SEEN: readonly (readonly [string, readonly number[]])[] = [
  ['all', [0, 1, 2, 3, 4]],
  ['current known', [0]],
  ['no half pulses', [0, 1, 2]],
];

interface Reading {
  readonly peak: number;
  readonly at: number;
  readonly area: number;
  readonly rms: number;
}

/** Reads a trace over one span of its capture. */
function readSpan(
  { drive, sense }: CoreCapture,
  trace: Float64Array,
  [from, to]: readonly [number, number],
): Reading {
  let [peak, at, area, square, count] = [0, 0, 0, 0, 0];
  for (let k = 0; k < trace.length; k++) {
    const t = drive.start + (k + 0.5) * drive.step;
    if (t < from || t >= to) continue;
    if (Math.abs(trace[k]) > Math.abs(peak)) [peak, at] = [trace[k], t];
    area += trace[k] * drive.step;
    square += (trace[k] - sense[k]) ** 2;
    count++;
  }
  return { peak, at, area, rms: Math.sqrt(square / count) };
}

/** A trace that no fit has seen has its start and scale as labelled. */
const traceOf = (fit: TraceFit, seen: readonly number[], i: number): Float64Array =>
  seen.includes(i) ? fit.captures[seen.indexOf(i)].model : modelTrace(fit.parameters, all[i]);

const line = (...cells: readonly string[]): void =>
  void process.stdout.write(
    `${cells.map((cell, i) => cell.padEnd([22, 44, 10, 9, 9, 7, 7, 8, 8, 6][i])).join('')}\n`,
  );
const mV = (volts: number): string => (1e3 * volts).toFixed(1);
for (const [fitted, seen] of SEEN) {
  process.stdout.write(`\nFitted to: ${fitted}\n`);
  line('model', 'trace (span)', '', 'mV', 'model', 'us', 'model', 'nWb', 'model', 'rms mV');
  for (const [model, start, unknowns] of MODELS) {
    const fit = fitTraces(
      start,
      seen.map((i) => all[i]),
      { unknowns, sigma: 3e-3, maxIterations: 40 },
    );
    all.forEach((capture, i) => {
      const trace = traceOf(fit, seen, i);
      capture.spans.forEach((span, n) => {
        const real = readSpan(capture, capture.sense, span);
        const made = readSpan(capture, trace, span);
        line(
          model,
          `${capture.name} (${n + 1})`,
          seen.includes(i) ? 'fitted' : 'predicted',
          mV(real.peak),
          mV(made.peak),
          (1e6 * real.at).toFixed(2),
          (1e6 * made.at).toFixed(2),
          (1e9 * real.area).toFixed(1),
          (1e9 * made.area).toFixed(1),
          mV(made.rms),
        );
      });
    });
  }
}
