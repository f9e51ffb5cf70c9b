import {
  checkDesign,
  checkHandbook,
  compareCapture,
  coreReport,
  fitDesign,
  lineUp,
  observedTrace,
  readCapture,
  simulate,
  strobeWindow,
  type Simulate,
} from '../../engine/index.ts';
import { withValueAt, type RawDesign } from '../pointer.ts';
import { asJson, changesFor, toFitCapture, type BenchCapture } from './bench-capture.ts';
import type { BenchJob, BenchJobs, Laid, Larger } from './bench-messages.ts';

type Jobs = {
  readonly [K in BenchJob]: (
    ask: BenchJobs[K]['ask'],
    onProgress: (runs: number) => void,
  ) => BenchJobs[K]['answer'];
};

/** Everything that the bench computes: the engine's own functions, and what stands between them and the page. */
export const BENCH_JOBS: Jobs = {
  read: ({ content, options }) => readCapture(content, options),
  compare: ({ raw, capture }) => layOver(raw, capture),
  fit: ({ raw, captures, unknowns }, onProgress) =>
    fitDesign({
      design: asJson(raw),
      captures: captures.map((capture) => toFitCapture(raw, capture)),
      unknowns,
      simulate: noLongerThan(coveredBy(raw, captures)),
      onRun: onProgress,
    }),
  larger: ({ raw, rows, columns }) => compareSizes(raw, rows, columns),
  core: ({ handbook }) => coreReport(checkHandbook(handbook).handbook),
};

const patched = (raw: RawDesign, capture: BenchCapture): RawDesign =>
  changesFor(raw, capture).reduce((file, { path, value }) => withValueAt(file, path, value), raw);

function layOver(raw: RawDesign, capture: BenchCapture): Laid {
  const run = simulate(checkDesign(patched(raw, capture)), { estimateError: false });
  const line = lineUp(observedTrace(run, capture.observed), capture.trace, {
    gain: capture.probeGain === 'free',
  });
  const comparison = compareCapture(run, capture.trace, line, capture.observed);
  const part = run.contributions?.selectedCore ?? run.senseVoltage;
  const peak = part.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  const { divider, gain } = run.design.amplifier;
  return { line, comparison, signal: capture.observed === 'sense' ? peak : peak * divider * gain };
}

/** What a fit may shift a capture by, s, before its end would be missed. */
const ROOM = 200e-9;

/** Time up to which a cycle must be run to reach the end of every capture, s. */
function coveredBy(raw: RawDesign, captures: readonly BenchCapture[]): number {
  const ends = captures.map((capture) => {
    const run = simulate(checkDesign(patched(raw, capture)), { estimateError: false, contributions: false });
    const { delay } = lineUp(observedTrace(run, capture.observed), capture.trace, {
      gain: capture.probeGain === 'free',
    });
    return capture.trace.time.at(-1)! - delay;
  });
  return Math.max(...ends) + ROOM;
}

const noLongerThan =
  (until: number): Simulate =>
  (design, options) =>
    simulate(design, { ...options, until });

function compareSizes(raw: RawDesign, rows: number, columns: number): Larger {
  const design = checkDesign(raw);
  const next = withValueAt(withValueAt(raw, '/mat/rows', rows), '/mat/columns', columns);
  const larger = checkDesign(next);
  return {
    now: { rows: design.mat.rows, columns: design.mat.columns, window: strobeWindow(design) },
    next: { rows, columns, window: strobeWindow(larger) },
    raw: next,
  };
}
