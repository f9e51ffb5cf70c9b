import { checkDesign } from '../check/check-design.ts';
import type { Design } from '../design/design.ts';
import { applyPatches } from '../base/json-patch.ts';
import type { Json, Patch } from '../studies/shared/shape.ts';
import { FitError } from './bench-runs.ts';
import type { BenchRuns } from './bench-runs.ts';
import { observedTrace } from './compare.ts';
import type { Observed } from './compare.ts';
import { lineUp, readOf } from './align/line-up.ts';
import type { LineUp, Placing } from './align/line-up.ts';
import { cutTrace, thinTrace, throughPole, traceNoise, valueAt } from './align/trace-tools.ts';
import type { Trace } from './align/trace-tools.ts';
import { judgeCapture } from './judge/judge-capture.ts';
import type { Judgement } from './judge/judgement.ts';
import { rangeOf } from './unknowns.ts';
import type { UnknownName } from './unknown-table.ts';

/** One capture and how its conditions differ from the design. */
export interface FitCapture extends Placing {
  readonly label: string;
  /** s and V, as read. */
  readonly trace: Trace;
  readonly unit?: 'V' | 'A';
  readonly observed?: Observed;
  /** Changes of the design file under which it was taken: another bit, other currents, inhibited or not. */
  readonly changes?: readonly Patch[];
  /** What the file says over what is there, where it is known: 0.1 for a x10 probe that was not told. Left out: judged. */
  readonly probe?: number;
  /** Hz of instrument and probe, 'free' to find it; left out: judged. */
  readonly bandwidth?: number | 'free';
  /** Take it although the judge calls it not usable. */
  readonly accept?: boolean;
}

/** What each capture has of its own in a fit. */
export type Extra = 'shift' | 'offset' | 'gain' | 'pole';

/** A capture ready to be fitted: judged, lined up with the design as it stands, thinned, its noise known. */
export interface Prepared {
  readonly capture: FitCapture;
  readonly observed: Observed;
  readonly start: Design;
  readonly judgement: Judgement;
  readonly line: LineUp;
  /** What was recorded, without the samples that are clipped. */
  readonly whole: Trace;
  /** The same, thinned. */
  readonly trace: Trace;
  readonly sigma: number;
  readonly extras: readonly Extra[];
  /** Relative standard deviation within which its gain is believed; undefined: nothing is known of it. */
  readonly gainSpread: number | undefined;
  /** s from the start of read: nothing after it need be run. */
  readonly until: number;
}

/** Samples of one capture that enter the fit; more are averaged. */
const MOST_SAMPLES = 1500;
/** s that a capture may still be shifted by before its end would be missed. */
const ROOM = 200e-9;
/** Start of a bandwidth that is to be found where the judge sees none, Hz. */
const FAST = 100e6;
/** A probe's divider is good to this, as a standard deviation. */
const PROBE_SPREAD = 0.03;

/** The design under which a capture was taken. Throws DesignError. */
export const designOf = (file: Json, { changes = [] }: FitCapture): Design =>
  checkDesign(applyPatches(file, changes));

/** What a capture is expected to be by its design, and how it is judged. Throws FitError where it is not usable. */
export function judgeBy(design: Design, capture: FitCapture, prediction: Trace): Judgement {
  const { x, y } = design.drive;
  const edge = Math.min(x.rise, x.fall, y.rise, y.fall);
  const judgement = judgeCapture(
    capture.trace,
    { prediction, edge, read: readOf(design) },
    { unit: capture.unit, placing: capture, probe: capture.probe },
  );
  if (judgement.verdict !== 'not usable' || capture.accept === true) return judgement;
  throw new FitError('/captures', `${capture.label}: ${judgement.statement}`);
}

/** Places a capture on what its design predicts. Throws LineUpError, FitError. */
export function placeCapture(
  design: Design,
  capture: FitCapture,
  runs: BenchRuns,
): Pick<Prepared, 'line' | 'until' | 'judgement' | 'whole' | 'extras' | 'gainSpread'> {
  const first = runs.run(design);
  if (first === undefined) throw noPrediction(capture);
  const prediction = observedTrace(first, capture.observed ?? 'sense');
  const judgement = judgeBy(design, capture, prediction);
  const believed = capture.probe === undefined && judgement.probe !== 1;
  const probe = capture.probe ?? judgement.probe;
  const extras: Extra[] = ['shift', 'offset'];
  if (capture.probeGain === 'free' || believed) extras.push('gain');
  if (capture.bandwidth === 'free' || (capture.bandwidth === undefined && judgement.bandwidth < Infinity))
    extras.push('pole');
  const seen = judgement.bandwidth < Infinity ? judgement.bandwidth : FAST;
  const bandwidth =
    typeof capture.bandwidth === 'number' ? capture.bandwidth : extras.includes('pole') ? seen : Infinity;
  const kept = (_: number, i: number): boolean => judgement.clipped[i] === 0;
  const whole = { time: capture.trace.time.filter(kept), value: capture.trace.value.filter(kept) };
  const scaled = { time: whole.time, value: whole.value.map((v) => v / probe) };
  const line = lineUp(throughPole(prediction, bandwidth), scaled, { ...capture, read: readOf(design) });
  const end = whole.time[whole.time.length - 1] - line.delay;
  return {
    line: { ...line, gain: line.gain * probe, offset: line.offset * probe, bandwidth },
    until: Math.max(0, end) + ROOM,
    judgement,
    whole,
    extras,
    gainSpread: capture.probeGain === 'free' ? undefined : PROBE_SPREAD,
  };
}

export function prepareCapture(file: Json, capture: FitCapture, runs: BenchRuns): Prepared {
  const start = designOf(file, capture);
  const placed = placeCapture(start, capture, runs);
  const kept = thinTrace(
    cutTrace(placed.whole, -Infinity, start.cycle.period + placed.line.delay),
    MOST_SAMPLES,
  );
  const noise = traceNoise(capture.trace.value).sigma;
  const peak = kept.value.reduce((m, v) => Math.max(m, Math.abs(v)), 0);
  return {
    ...placed,
    capture,
    observed: capture.observed ?? 'sense',
    start,
    trace: kept,
    // A capture without any noise is computed, not measured; a millionth of its peak stands in.
    sigma: Math.max(noise / Math.sqrt(kept.block), 1e-6 * peak),
  };
}

const noPrediction = ({ label }: FitCapture): FitError =>
  new FitError(
    '/design',
    `The design gives no finite prediction for ${label}: the solution left the range of numbers; make numerics.step smaller or its wire values less extreme.`,
  );

/** A capture under other conditions keeps its ratio to the base: half the drive stays half the drive. */
export function shareOf(
  p: Prepared,
  base: Design,
  names: readonly UnknownName[],
  values: ArrayLike<number>,
): Float64Array {
  return Float64Array.from(values, (value, i) => {
    const [own, shared] = [rangeOf(p.start, names[i])?.start ?? 0, rangeOf(base, names[i])?.start ?? 0];
    return shared === 0 ? value : (value * own) / shared;
  });
}

/** Where the observation of a capture stands at a parameter vector; its extras begin at `at`. */
export function lineOf(c: Prepared, p: Float64Array, at: number): LineUp {
  const extra = (kind: Extra, absent: number): number => {
    const k = c.extras.indexOf(kind);
    return k < 0 ? absent : p[at + k];
  };
  const gain = extra('gain', c.line.gain);
  return {
    ...c.line,
    delay: c.line.delay + extra('shift', 0),
    offset: c.line.offset + extra('offset', 0),
    gain,
    polarity: gain < 0 ? -1 : 1,
    bandwidth: (c.line.bandwidth ?? Infinity) * Math.exp(extra('pole', 1) - 1),
  };
}

/** Prediction minus capture, in standard deviations of the noise. */
export function residualsOf(c: Prepared, model: Trace, line: LineUp): Float64Array {
  const seen = throughPole(model, line.bandwidth ?? Infinity);
  const end = seen.time[seen.time.length - 1];
  return Float64Array.from(c.trace.time, (t, i) => {
    const predicted = valueAt(seen, Math.min(end, t - line.delay));
    return (line.gain * predicted + line.offset - c.trace.value[i]) / c.sigma;
  });
}

/** Where each capture's extra parameters begin. */
export function extraPlaces(prepared: readonly Prepared[], first: number): number[] {
  let at = first;
  return prepared.map((c) => {
    const place = at;
    at += c.extras.length;
    return place;
  });
}
