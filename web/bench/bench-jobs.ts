import {
  checkDesign,
  checkHandbook,
  compareCapture,
  coreReport,
  diagnose,
  fitDesign,
  lineUp,
  observedTrace,
  readCapture,
  simulate,
  strobeWindow,
  type Design,
  type LineUp,
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
  diagnose: ({ raw, captures, strobeAt }, onProgress) =>
    diagnose({
      design: asJson(raw),
      captures: captures.map((capture) => toFitCapture(raw, capture)),
      strobeAt,
      onRun: onProgress,
    }),
  core: ({ handbook }) => coreReport(checkHandbook(handbook).handbook),
};

const patched = (raw: RawDesign, capture: BenchCapture): RawDesign =>
  changesFor(raw, capture).reduce((file, { path, value }) => withValueAt(file, path, value), raw);

/** Lines a capture up; one that holds the read is looked for no later in the cycle than it is long. */
function lineOf(design: Design, { part, trace, observed, probeGain }: BenchCapture): LineUp {
  const { readWidth, gap } = design.cycle;
  const long = trace.time.at(-1)! - trace.time[0]!;
  const run = simulate(design, {
    estimateError: false,
    contributions: false,
    until: part === 'read' ? Math.max(readWidth + gap, long) : undefined,
  });
  return lineUp(observedTrace(run, observed), trace, { gain: probeGain === 'free' });
}

function layOver(raw: RawDesign, capture: BenchCapture): Laid {
  const design = checkDesign(patched(raw, capture));
  const line = lineOf(design, capture);
  const run = simulate(design, { estimateError: false, until: endOf(capture, line) });
  const comparison = compareCapture(run, capture.trace, line, capture.observed);
  const part = run.contributions?.selectedCore ?? run.senseVoltage;
  const at = part.reduce((best, value, i) => (Math.abs(value) > Math.abs(part[best]!) ? i : best), 0);
  const peak = Math.abs(part[at]!);
  const { divider, gain } = design.amplifier;
  return {
    line,
    comparison,
    signalTime: run.time[at]!,
    signal: capture.observed === 'sense' ? peak : peak * divider * gain,
  };
}

/** What a fit may shift a capture by, s, before its end would be missed. */
const ROOM = 200e-9;

/** Time from the start of read up to which a cycle must be run to reach the end of a capture, s. */
const endOf = ({ trace }: BenchCapture, { delay }: LineUp): number => trace.time.at(-1)! - delay + ROOM;

const coveredBy = (raw: RawDesign, captures: readonly BenchCapture[]): number =>
  Math.max(...captures.map((capture) => endOf(capture, lineOf(checkDesign(patched(raw, capture)), capture))));

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
