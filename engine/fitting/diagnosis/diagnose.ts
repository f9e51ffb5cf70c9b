import type { Design } from '../../design/design.ts';
import { simulate as realSimulate } from '../../simulate/simulate.ts';
import type { Json } from '../../studies/shared/shape.ts';
import { createRuns, FitError } from '../bench-runs.ts';
import type { BenchControl, BenchRuns, Simulate } from '../bench-runs.ts';
import { lineUp, readOf } from '../align/line-up.ts';
import type { Trace } from '../align/trace-tools.ts';
import type { FitCapture } from '../fit-captures.ts';
import { MOST_CAPTURES } from '../fit-design.ts';
import type { Judgement } from '../judge/judgement.ts';
import { conclude } from './conclude.ts';
import type { Conclusion } from './conclude.ts';
import { explanationsOf } from './explanation.ts';
import type { Explanation } from './explanation.ts';
import type { Fault, Shown } from './fault.ts';
import { FAULTS } from './faults.ts';
import { layAt, predictor, screen, zoomIn } from './fit-fault.ts';
import type { Laid, LaidFaults } from './fit-fault.ts';
import { tryPairs } from './pairs.ts';
import { see } from './seen.ts';
import type { Seen } from './seen.ts';

export interface DiagnoseRequest extends BenchControl {
  /** The design as it should be. */
  readonly design: Json;
  /** Taken of the build that fails; a read of a ONE and a cycle that writes a ZERO tell most. */
  readonly captures: readonly FitCapture[];
  /** s on the time axis of the first capture: where its strobe was seen; undefined when it was not recorded. */
  readonly strobeAt?: number;
  /** How far the model itself may be off, as a share of what is seen at each instant (default 0.02). */
  readonly modelTolerance?: number;
  readonly simulate?: Simulate;
}

export interface Diagnosis extends Conclusion {
  /** All that could be tried, 'healthy' among them, best first; then two faults together where one would not do. */
  readonly explanations: readonly Explanation[];
  /** How each capture was judged before any physics. */
  readonly judgements: readonly { readonly label: string; readonly judgement: Judgement }[];
  /** Faults left out because these captures could not show them. */
  readonly notTried: readonly string[];
  readonly runs: number;
}

/** Faults whose severity is found exactly; the others are left as far as they were tried. */
const FOLLOWED = 10;

const HEALTHY: Fault = {
  code: 'healthy',
  title: 'Nothing is wrong: the design as it is',
  severity: undefined,
  change: (d) => d,
};

/**
 * Simulates each single fault, fits its severity to the captures with their own delays and offsets, and says what they
 * support: bell, edges, tail and write must each agree before a build is called healthy, and a fault is named only if
 * it explains most of what differs and no other does about as well. Polarity is not searched: a reversed trace is
 * itself a fault. Throws FitError.
 */
export function diagnose(request: DiagnoseRequest): Diagnosis {
  const { captures, strobeAt, modelTolerance = 0.02 } = request;
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
  const runs = createRuns(request.simulate ?? realSimulate, FAULTS.length, request);
  const seen = captures.map((capture) => see(request.design, capture, modelTolerance, runs, anchorsOf));
  const shown = shownBy(seen, strobeAt);
  const possible = FAULTS.filter((f) => f.possible?.(seen[0].healthy) ?? true);
  const tried = [HEALTHY, ...possible.filter((f) => f.shows?.(shown) ?? true)];
  const laid = layAll(tried, seen, strobeAt, runs);
  const samples = seen.reduce(
    (sum, s) => sum + s.trace.time.length / s.alike,
    strobeAt === undefined ? 0 : 1,
  );
  const singles = explanationsOf(laid, seen, samples);
  const conclusion = conclude(singles);
  const pairs =
    conclusion.verdict === 'none of these'
      ? explanationsOf(tryPairs(laid, seen, strobeAt, runs), seen, samples, laid[0].laid)
      : [];
  return {
    ...(pairs.length > 0 ? conclude(singles, pairs) : conclusion),
    explanations: [...singles, ...pairs],
    judgements: seen.map(({ label, judgement }) => ({ label, judgement })),
    notTried: possible.filter((f) => !tried.includes(f)).map((f) => f.title),
    runs: runs.count,
  };
}

/** Every fault at its tried severities; the likeliest are followed to the severity that fits best. */
function layAll(
  tried: readonly Fault[],
  seen: readonly Seen[],
  strobeAt: number | undefined,
  runs: BenchRuns,
): LaidFaults[] {
  const screened = tried.map((fault, done) => {
    runs.advance(Math.min(done, FAULTS.length));
    const predict = predictor([fault], seen, runs);
    const layOn = (severity: number): Laid => layAt(predict, [severity], seen, strobeAt);
    const all = screen(fault.severity, layOn);
    return { fault, layOn, all, best: Math.min(...all.map((l) => l.chiSquare)) };
  });
  const order = screened.toSorted((a, b) => a.best - b.best);
  const followed = new Set(order.filter((s) => s.fault.severity !== undefined).slice(0, FOLLOWED));
  return screened.map((s) => {
    const laid = followed.has(s)
      ? zoomIn(s.all, s.layOn)
      : s.all.reduce((a, b) => (b.chiSquare < a.chiSquare ? b : a));
    return { faults: [s.fault], severities: [laid.severity ?? 0], laid };
  });
}

const shownBy = (seen: readonly Seen[], strobeAt: number | undefined): Shown => ({
  inhibit: seen.some((s) => writesZero(s.healthy)),
  one: seen.some((s) => writes(s) && !writesZero(s.healthy)),
  amplifier: seen.some((s) => s.observed === 'amplifier'),
  strobe: strobeAt !== undefined,
});

/** The observed cycle restores a ZERO, or writes one. */
function writesZero(design: Design): boolean {
  const last = design.programme[design.programme.length - 1];
  return last.write === 'zero' || (last.write === 'restore' && design.selected.bit === 0);
}

/** Does the capture reach into a write? */
function writes({ healthy, until }: Seen): boolean {
  const { readWidth, gap } = healthy.cycle;
  return healthy.programme[healthy.programme.length - 1].write !== 'none' && until > readWidth + gap + 200e-9;
}

/** Where the read may start on a capture's own time: as the healthy design lies, either way up. */
function anchorsOf(predicted: Trace, trace: Trace, capture: FitCapture, healthy: Design): number[] {
  const { part } = capture;
  const places = (['as-predicted', 'reversed'] as const).flatMap((polarity) => {
    try {
      const read = readOf(healthy);
      return [lineUp(predicted, trace, { part, probeGain: 'free', polarity, read }).delay];
    } catch {
      return [];
    }
  });
  return places.length > 0 ? places : [trace.time[0] + 60e-9];
}
