import { checkDesign } from '../check-design.ts';
import type { Design } from '../design.ts';
import { leastSquares } from '../numerics/levenberg-marquardt.ts';
import type { Simulation } from '../result.ts';
import { simulate as realSimulate } from '../simulate.ts';
import { applyPatches } from '../studies/json-patch.ts';
import type { Json } from '../studies/study-shape.ts';
import { observedTrace } from './compare.ts';
import type { Observed } from './compare.ts';
import { FAULTS } from './faults.ts';
import type { Fault, Shown } from './faults.ts';
import { FitError, MOST_CAPTURES } from './fit-design.ts';
import type { FitCapture, Simulate } from './fit-design.ts';
import { lineUp } from './line-up.ts';
import { cutTrace, thinTrace, traceNoise, valueAt } from './trace-tools.ts';
import type { Trace } from './trace-tools.ts';

export interface DiagnoseRequest {
  /** The design as it should be. */
  readonly design: Json;
  /** Taken of the build that fails; a read of a ONE and a cycle that writes a ZERO tell most. */
  readonly captures: readonly FitCapture[];
  /** s on the time axis of the first capture: where its strobe was seen; undefined when it was not recorded. */
  readonly strobeAt?: number;
  /** How far the model itself may be off, as a share of the greatest voltage (default 0.01). */
  readonly modelTolerance?: number;
  readonly simulate?: Simulate;
  readonly cancelled?: () => boolean;
  readonly onRun?: (runs: number) => void;
}

/** How well one explanation fits, best first in the list. */
export interface Explanation {
  /** 'healthy', or the fault's code. */
  readonly code: string;
  readonly title: string;
  /** Fitted degree of the fault (a share, or s); undefined where there is only one. */
  readonly severity: number | undefined;
  /** One sentence: how bad, how much it explains, what is left. */
  readonly evidence: string;
  /** Mean square of what is left over that of noise and model tolerance; about 1 or less: nothing is left. */
  readonly misfit: number;
  /** Share of the healthy design's misfit that this removes, 0..1 (0 for 'healthy'; negative: it fits worse). */
  readonly explains: number;
  /** Chi-square plus the logarithm of the number of samples for a fitted severity; differences rank. */
  readonly score: number;
  /** Laid over each capture; only for the first three and for 'healthy'. */
  readonly traces: readonly ExplainedTrace[] | undefined;
}

export interface ExplainedTrace {
  readonly label: string;
  /** s from the start of read. */
  readonly time: Float64Array;
  /** V, offset removed. */
  readonly measured: Float64Array;
  readonly predicted: Float64Array;
}

export interface Diagnosis {
  readonly verdict: 'healthy' | 'fault' | 'none of these';
  /** One or two sentences. */
  readonly statement: string;
  /** All explanations that could be tried, 'healthy' among them, best first. */
  readonly explanations: readonly Explanation[];
  /** Faults left out because these captures could not show them. */
  readonly notTried: readonly string[];
  readonly runs: number;
}

/** A fault must beat 'healthy' by this much (ten: chances of about 150 to 1). */
const DECISIVE = 10;
/** An explanation stands when it leaves this little, or removes this much. */
const LEFT = 2;
const REMOVED = 0.9;
/** s: a strobe seen on a screen is read no better than this. */
const STROBE_READING = 2e-9;
const MOST_SAMPLES = 1500;
/** s that a run goes on after the end of a capture. */
const ROOM = 200e-9;

interface Seen {
  readonly label: string;
  readonly observed: Observed;
  readonly healthy: Design;
  readonly trace: Trace;
  readonly sigma: number;
}

/** One explanation laid on all captures. */
interface Laid {
  readonly chiSquare: number;
  readonly severity: number | undefined;
  readonly traces: readonly ExplainedTrace[];
}

const HEALTHY: Fault = {
  code: 'healthy',
  title: 'Nothing is wrong: the design as it is',
  severity: undefined,
  change: (d) => d,
  applies: () => true,
};

/**
 * Simulates each single fault, fits its severity, delay and offset to the captures, and ranks the faults by how
 * well each explains them. Polarity is not searched: a reversed trace is itself a fault. Throws FitError.
 */
export function diagnose(request: DiagnoseRequest): Diagnosis {
  const { captures, strobeAt, modelTolerance = 0.01 } = request;
  if (captures.length < 1 || captures.length > MOST_CAPTURES) {
    throw new FitError(
      '/captures',
      `A diagnosis must have 1 to ${MOST_CAPTURES} captures; received ${captures.length}.`,
    );
  }
  if (!(modelTolerance >= 0 && modelTolerance <= 0.5)) {
    throw new FitError(
      '/modelTolerance',
      `The model tolerance must be a share from 0 to 0.5; received ${modelTolerance}.`,
    );
  }
  let runs = 0;
  const simulate = request.simulate ?? realSimulate;
  const run = (design: Design, until?: number): Simulation => {
    runs++;
    request.onRun?.(runs);
    return simulate(design, { contributions: false, estimateError: false, until });
  };
  const seen = captures.map((capture) => see(request.design, capture, modelTolerance));
  const shown: Shown = {
    inhibit: seen.some(
      ({ healthy }) => healthy.programme.some((c) => c.write === 'zero') || writesZero(healthy),
    ),
    amplifier: seen.some((s) => s.observed === 'amplifier'),
    strobe: strobeAt !== undefined,
  };
  // Nothing after the end of the longest capture needs to be run.
  const until = Math.max(...seen.map((s) => endOf(s, observedTrace(run(s.healthy), s.observed)))) + ROOM;
  const samples = seen.reduce((sum, s) => sum + s.trace.time.length, 0) + (strobeAt === undefined ? 0 : 1);
  const tried = [HEALTHY, ...FAULTS].filter((f) => f.applies(seen[0].healthy, shown));

  const laid: { fault: Fault; laid: Laid }[] = [];
  for (const fault of tried) {
    if (request.cancelled?.()) break;
    laid.push({ fault, laid: layFault(fault, seen, strobeAt, (d) => run(d, until)) });
  }
  const healthy = laid[0].laid;
  const ranked = laid
    .map(({ fault, laid: l }) => ({
      fault,
      laid: l,
      score: l.chiSquare + (l.severity === undefined ? 0 : Math.log(samples)),
    }))
    .sort((a, b) => a.score - b.score);
  const explanations = ranked.map(({ fault, laid: l, score }, place): Explanation => {
    const explains = healthy.chiSquare > 0 ? 1 - l.chiSquare / healthy.chiSquare : 0;
    return {
      code: fault.code,
      title: fault.title,
      severity: l.severity,
      evidence: evidenceOf(fault, l, explains, samples),
      misfit: l.chiSquare / samples,
      explains,
      score,
      traces: place < 3 || fault === HEALTHY ? l.traces : undefined,
    };
  });
  return {
    ...conclude(explanations),
    explanations,
    notTried: FAULTS.filter((f) => !tried.includes(f)).map((f) => f.title),
    runs,
  };
}

/** s from the start of read to the end of a capture, as the healthy design places it. */
function endOf(s: Seen, predicted: Trace): number {
  const last = s.trace.time[s.trace.time.length - 1];
  return Math.min(predicted.time[predicted.time.length - 1], last - startOf(predicted, s).delay);
}

/** The observed cycle restores a ZERO, or writes one. */
function writesZero(design: Design): boolean {
  const last = design.programme[design.programme.length - 1];
  return last.write === 'restore' && design.selected.bit === 0;
}

function see(file: Json, capture: FitCapture, modelTolerance: number): Seen {
  const healthy = checkDesign(applyPatches(file, capture.changes ?? []));
  const kept = thinTrace(capture.trace, MOST_SAMPLES);
  const centre = kept.value.reduce((s, v) => s + v, 0) / kept.value.length;
  const peak = kept.value.reduce((m, v) => Math.max(m, Math.abs(v - centre)), 0);
  const noise = traceNoise(capture.trace.value).sigma / Math.sqrt(kept.block);
  return {
    label: capture.label,
    observed: capture.observed ?? 'sense',
    healthy,
    trace: kept,
    sigma: Math.hypot(noise, modelTolerance * peak) || 1e-9,
  };
}

/** Fits one fault: severities tried, the best zoomed in on, then refined together with delay and offset of each capture. */
function layFault(
  fault: Fault,
  seen: readonly Seen[],
  strobeAt: number | undefined,
  run: (d: Design) => Simulation,
): Laid {
  const polarity = fault.polarity ?? 1;
  const kept = new Map<number, { traces: Trace[]; strobe: number }>();
  const predict = (severity: number): { traces: Trace[]; strobe: number } => {
    const found = kept.get(severity);
    if (found) return found;
    // A fault that moves no trace needs one run only.
    const reuse = fault.movesStrobe === true ? kept.values().next().value : undefined;
    const results = reuse === undefined ? seen.map((s) => run(fault.change(s.healthy, severity))) : [];
    const fresh = reuse ?? {
      traces: results.map((r, k) => {
        const t = observedTrace(r, seen[k].observed);
        return polarity === 1 ? t : { time: t.time, value: t.value.map((v) => -v) };
      }),
      strobe: results[0].strobe.time,
    };
    kept.set(severity, fresh);
    return fresh;
  };

  const lay = (severity: number): Laid => refine(fault, severity, seen, strobeAt, predict, false);
  const { severity: range } = fault;
  if (range === undefined) return { ...lay(0), severity: undefined };
  const start = zoomIn([range.low, ...range.tried, range.high].map(lay), lay);
  return refine(fault, start, seen, strobeAt, predict, true);
}

/** Halvings of the distance to the neighbours before least squares take over. */
const HALVINGS = 5;

/**
 * The severity that fits best among a few and, again and again, the middles to its neighbours. Steep edges that do
 * not overlap have no slope that least squares could follow.
 */
function zoomIn(tried: readonly Laid[], lay: (severity: number) => Laid): number {
  const known = [...tried];
  const bySeverity = (a: Laid, b: Laid): number => (a.severity as number) - (b.severity as number);
  for (let round = 0; ; round++) {
    known.sort(bySeverity);
    const at = known.reduce((best, l, i) => (l.chiSquare < known[best].chiSquare ? i : best), 0);
    if (round === HALVINGS) return known[at].severity as number;
    const middles = [known[at - 1], known[at + 1]].filter((l) => l !== undefined);
    known.push(...middles.map((l) => lay(((l.severity as number) + (known[at].severity as number)) / 2)));
  }
}

/** Least squares over delay and offset of each capture and, when `moving`, the severity. */
function refine(
  fault: Fault,
  severity: number,
  seen: readonly Seen[],
  strobeAt: number | undefined,
  predict: (severity: number) => { traces: Trace[]; strobe: number },
  moving: boolean,
): Laid {
  const first = predict(severity);
  const starts = seen.map((s, k) => startOf(first.traces[k], s));
  const m = moving ? 1 : 0;
  const residuals = (p: Float64Array): Float64Array => {
    const now = moving ? predict(p[0]) : first;
    const parts = seen.map((s, k) => {
      const [delay, offset] = [starts[k].delay + p[m + 2 * k], starts[k].offset + p[m + 2 * k + 1]];
      return s.trace.time.map((t, i) => (at(now.traces[k], t - delay) + offset - s.trace.value[i]) / s.sigma);
    });
    if (strobeAt !== undefined) {
      const late = fault.movesStrobe === true ? (moving ? p[0] : severity) : 0;
      parts.push(Float64Array.of((strobeAt - starts[0].delay - p[m] - now.strobe - late) / STROBE_READING));
    }
    return Float64Array.from(parts.flatMap((part) => Array.from(part)));
  };
  const nuisance = seen.flatMap((s) => [1e-9, s.sigma]);
  const range = fault.severity;
  const fit = leastSquares(
    {
      residuals,
      start: [...(moving ? [severity] : []), ...nuisance.map(() => 0)],
      scale: [...(moving ? [Math.abs(severity)] : []), ...nuisance],
      lower: [...(moving && range ? [range.low] : []), ...nuisance.map(() => -Infinity)],
      upper: [...(moving && range ? [range.high] : []), ...nuisance.map(() => Infinity)],
    },
    { maxIterations: moving ? 12 : 8, tolerance: 1e-3, differenceStep: 1e-3 },
  );
  const final = moving ? predict(fit.parameters[0]) : first;
  return {
    chiSquare: fit.cost,
    severity: moving ? fit.parameters[0] : severity,
    traces: seen.map((s, k) => {
      const [delay, offset] = [
        starts[k].delay + fit.parameters[m + 2 * k],
        starts[k].offset + fit.parameters[m + 2 * k + 1],
      ];
      const time = s.trace.time.map((t) => t - delay);
      return {
        label: s.label,
        time,
        measured: s.trace.value.map((v) => v - offset),
        predicted: time.map((t) => at(final.traces[k], t)),
      };
    }),
  };
}

/** Where the line-up puts a prediction; a fault may leave a trace that matches nowhere, and then starts at 0. */
function startOf(predicted: Trace, s: Seen): { delay: number; offset: number } {
  try {
    const { delay, offset } = lineUp(predicted, cutTrace(s.trace, -Infinity, Infinity), {
      gain: false,
      reversed: false,
    });
    return { delay, offset };
  } catch {
    return { delay: s.trace.time[0], offset: 0 };
  }
}

/** After the prediction's end it stands still: what follows belongs to the next cycle. */
const at = (trace: Trace, t: number): number =>
  valueAt(trace, Math.min(t, trace.time[trace.time.length - 1]));

function evidenceOf(fault: Fault, laid: Laid, explains: number, samples: number): string {
  const misfit = Number((laid.chiSquare / samples).toPrecision(2));
  const left = `what is left is ${misfit} times what noise and model tolerance allow`;
  if (fault === HEALTHY) return `As designed, ${left}.`;
  const how =
    laid.severity === undefined || fault.severity === undefined
      ? ''
      : ` (${fault.severity.describe(laid.severity)})`;
  const share =
    explains > 0
      ? `removes ${Math.floor(explains * 1000) / 10} % of the misfit`
      : 'fits worse than the design as it is';
  return `${fault.title}${how}: ${share}; ${left}.`;
}

function conclude(explanations: readonly Explanation[]): {
  verdict: Diagnosis['verdict'];
  statement: string;
} {
  const healthy = explanations.find((e) => e.code === 'healthy') as Explanation;
  const best = explanations[0];
  if (best === healthy || best.score > healthy.score - DECISIVE) {
    if (healthy.misfit <= LEFT) {
      return {
        verdict: 'healthy',
        statement: 'The captures are what the design predicts; no fault explains them decisively better.',
      };
    }
  } else if (best.misfit <= LEFT || best.explains >= REMOVED) {
    const next = explanations[1];
    const rival =
      next && next.score < best.score + DECISIVE
        ? ` "${next.title}" explains the captures about as well.`
        : '';
    return { verdict: 'fault', statement: `${best.evidence}${rival}` };
  }
  return {
    verdict: 'none of these',
    statement: `No single fault of the list explains the captures: the best, "${best.title}", leaves ${Number(best.misfit.toPrecision(2))} times what noise and model tolerance allow. Fit the design to a healthy build first, or look for two faults at once.`,
  };
}
