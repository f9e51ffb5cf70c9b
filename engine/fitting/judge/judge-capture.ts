import { wholeGain } from '../../sense-amplifier/referred.ts';
import type { Simulation } from '../../solver/result.ts';
import { readOf } from '../align/line-up.ts';
import { throughPole, type Trace } from '../align/trace-tools.ts';
import { observedTrace } from '../compare.ts';
import type { FitCapture } from '../fit-captures.ts';
import { judgeSignal } from './judge-signal.ts';
import { concludeJudgement, type Finding, type Judgement } from './judgement.ts';
import { layOn, predictedAt, type Laid } from './laid.ts';
import { twoLevel } from './level-findings.ts';
import { readSignal, type Signal } from './signal.ts';
import {
  ALIKE,
  likeACurrent,
  linear,
  otherPlace,
  probeFactor,
  rectified,
  type Readings,
} from './size-findings.ts';
import { bandwidthOf, tooCoarse } from './speed-findings.ts';
import { tooShort } from './span-findings.ts';
import { clipped, clippedOf, limited, standing, without } from './standing.ts';

/**
 * Judges a capture before any of its physics: by itself, and by its size, its speed and its length beside what its
 * design predicts (a finished run of the design under the capture's conditions).
 */
export function judgeCapture(run: Simulation, capture: FitCapture): Judgement {
  const alone = judgeSignal(capture.trace, capture.unit);
  const codes = alone.findings.map(({ code }) => code);
  if (codes.some((code) => ['current', 'flat', 'no-signal'].includes(code))) return alone;
  const signal = readSignal(capture.trace);
  const stands = standing(signal);
  const readings = readingsOf(run, capture, without(capture.trace, stands));
  if (readings === undefined || (codes.includes('two-level') && !predictedTwoLevel(readings.stated, signal)))
    return alone;
  const basics = alone.findings.filter(({ code }) => code !== 'two-level');
  const wrong = wrongReading(capture, readings);
  if (wrong !== undefined) return { ...alone, ...concluded([wrong, ...basics]) };
  return besidePrediction(run, capture, signal, readings, basics, stands);
}

/** A trace that has no more than two levels by its prediction too is a sense voltage for all that. */
const predictedTwoLevel = (laid: Laid, { trace }: Signal): boolean =>
  twoLevel(readSignal({ time: trace.time, value: predictedAt(laid, trace) })) !== undefined;

/** Is the size of the probe open, so that it may be looked for? */
const openSize = ({ probe, probeGain }: FitCapture): boolean => probe === undefined && probeGain !== 'free';

const wrongReading = (capture: FitCapture, readings: Readings): Finding | undefined =>
  likeACurrent(readings) ??
  linear(readings) ??
  rectified(readings) ??
  (openSize(capture) ? otherPlace(readings) : undefined);

function besidePrediction(
  run: Simulation,
  capture: FitCapture,
  signal: Signal,
  readings: Readings,
  basics: readonly Finding[],
  stands: Uint8Array,
): Judgement {
  const { drive } = run.design;
  const laid = readings.stated;
  const edge = Math.min(drive.x.rise, drive.y.rise);
  const flags = clippedOf(signal, stands, laid);
  const kept = without(capture.trace, flags);
  const probe = openSize(capture) ? probeFactor(readings) : undefined;
  const cut = clipped(signal, flags) ?? limited(signal, laid);
  // What is cut off looks slow too.
  const speed =
    capture.bandwidth === undefined && cut === undefined ? bandwidthOf(kept, laid, edge) : undefined;
  const findings = [
    probe?.finding,
    cut,
    ...basics,
    speed?.finding,
    tooCoarse(kept, edge) ?? spanOf(run, capture, kept, laid, probe?.factor ?? 1),
  ].filter((f) => f !== undefined);
  return {
    ...concluded(findings),
    probe: probe?.factor ?? 1,
    bandwidth: speed?.bandwidth ?? Infinity,
    clipped: flags,
  };
}

/** Of the span something can be said where the capture lies in one place, much like its prediction, by shape and by size. */
function spanOf(
  run: Simulation,
  capture: FitCapture,
  kept: Trace,
  open: Laid,
  probe: number,
): Finding | undefined {
  if ((capture.part ?? 'read') !== 'read') return undefined;
  const read = readOf(run.design);
  const sized = { time: kept.time, value: kept.value.map((v) => v / probe) };
  const laid = layOn(predictionOf(run, capture), sized, { ...capture, read }, 'as stated');
  if (laid === undefined || Math.abs(laid.coefficient) < ALIKE) return undefined;
  const { rise } = run.design.drive.x;
  return Math.abs(laid.delay - open.delay) < rise ? tooShort(kept, laid.delay, read) : undefined;
}

const predictionOf = (run: Simulation, { observed = 'sense', bandwidth = Infinity }: FitCapture): Trace =>
  throughPole(observedTrace(run, observed), bandwidth);

const concluded = (findings: readonly Finding[]) => ({ ...concludeJudgement(findings), findings });

/** A prediction whose lesser sign is under this share of the greater one says nothing of folding. */
const BOTH_SIGNS = 0.2;

function readingsOf(run: Simulation, capture: FitCapture, kept: Trace): Readings | undefined {
  const { time, design } = run;
  const observed = capture.observed ?? 'sense';
  const options = { ...capture, read: readOf(design) };
  const lay = (value: Float64Array, more = {}) => layOn({ time, value }, kept, { ...options, ...more });
  const own = predictionOf(run, capture).value;
  const stated = lay(own);
  if (stated === undefined) return undefined;
  const other = observedTrace(run, observed === 'sense' ? 'amplifier' : 'sense').value;
  const folded = [own, other].filter(hasBothSigns).map((v) => v.map(Math.abs));
  const { x, y } = run.currents;
  const currents = [x, y, x.map((i, k) => i + y[k])];
  const some = (all: readonly (Laid | undefined)[]): Laid[] => all.filter((laid) => laid !== undefined);
  return {
    stated,
    other: best(some([other, ...linearOutput(run, observed)].map((v) => lay(v)))),
    folded: some(folded.map((v) => lay(v, { part: 'any', polarity: 'as-predicted' }))),
    currents: some(currents.map((v) => lay(v, { part: 'any', polarity: 'either' }))),
    amplification: wholeGain(design.amplifier),
    observed,
  };
}

/** The amplifier's output as it is before its rectifier, roughly: one pole, and no limit. */
function linearOutput(
  { time, design: { amplifier }, senseVoltage }: Simulation,
  observed: string,
): Float64Array[] {
  if (observed === 'amplifier') return [];
  const value = senseVoltage.map((v) => v * wholeGain(amplifier));
  return [throughPole({ time, value }, amplifier.bandwidth).value];
}

const best = (all: readonly Laid[]): Laid | undefined => all.toSorted((a, b) => a.left - b.left).at(0);

function hasBothSigns(value: Float64Array): boolean {
  const most = value.reduce((m, v) => Math.max(m, v), 0);
  const least = -value.reduce((m, v) => Math.min(m, v), 0);
  return Math.min(most, least) >= BOTH_SIGNS * Math.max(most, least);
}
