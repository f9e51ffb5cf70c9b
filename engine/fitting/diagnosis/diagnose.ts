import type { Json } from '../../base/json-patch.ts';
import type { Design } from '../../design/design.ts';
import { simulate as realSimulate } from '../../simulate/simulate.ts';
import { createRuns, FitError, type BenchControl, type BenchRuns, type Simulate } from '../bench-runs.ts';
import type { FitCapture } from '../fit-captures.ts';
import { MOST_CAPTURES } from '../refuse-fit.ts';
import { conclude } from './conclude.ts';
import type { Diagnosis } from './diagnosis.ts';
import { explanationsOf } from './explanation.ts';
import type { Fault, Shown } from './fault.ts';
import { FAULTS } from './faults.ts';
import { layer, screen, zoomIn, type LaidFaults } from './fit-fault.ts';
import type { Laid } from './lay.ts';
import { tryPairs } from './pairs.ts';
import { see, type Seen } from './seen.ts';

export interface DiagnoseRequest extends BenchControl {
  /** The design as it should be. */
  readonly design: Json;
  /** Taken of the build that fails; a read of a ONE and a cycle that writes a ZERO tell most. */
  readonly captures: readonly FitCapture[];
  /** s on the time axis of the first capture: where its strobe was seen; undefined when it was not recorded. */
  readonly strobeAt?: number;
  /** How far the model itself may be off, as a share of what is seen at each instant (default 0.01). */
  readonly modelTolerance?: number;
  readonly simulate?: Simulate;
}

/** Faults whose severity is found exactly; the others are left as far as they were tried. */
export const FOLLOWED = 10;

/**
 * Runs in steps and sections twice as long: on 8 x 8 that is 0.06 mV rms of the read off, and 3 mV on an inhibit edge of
 * 800 mV, within what the model is allowed; at half the price.
 */
const COARSE = 0.5;

const HEALTHY: Fault = {
  code: 'healthy',
  title: 'Nothing is wrong: the design as it is',
  severity: undefined,
  change: (d) => d,
};

/**
 * Simulates each single fault, fits its severity to the captures with their own delays and offsets, and says what they
 * support: edges, bell, tail and write must each agree before a build is called healthy, and a fault is named only if
 * it explains most of what differs and no other does about as well. Polarity is not searched: a reversed trace is
 * itself a fault. Throws FitError, FitCancelled or DesignError.
 */
export function diagnose(request: DiagnoseRequest): Diagnosis {
  const { captures, strobeAt, modelTolerance = 0.01 } = request;
  refuse(captures, modelTolerance);
  const runs = createRuns(request.simulate ?? realSimulate, FAULTS.length, request, COARSE);
  const beside = captures.some((c) => c.healthy === true);
  const seen = captures.map((capture) => see(request.design, capture, modelTolerance, runs, beside));
  const failing = seen.filter((s) => !s.isReference);
  const shown = shownBy(failing, strobeAt);
  const possible = FAULTS.filter((f) => f.possible?.(failing[0].healthy) ?? true);
  const tried = [HEALTHY, ...possible.filter((f) => f.shows?.(shown) ?? true)];
  const laid = layAll(tried, seen, strobeAt, runs);
  const healthy = laid[0].laid;
  const samples = seen.reduce(
    (sum, s) => sum + s.trace.time.length / s.alike,
    strobeAt === undefined ? 0 : 1,
  );
  const singles = explanationsOf(laid, seen, samples, healthy);
  const alone = conclude(singles);
  const pairs =
    alone.verdict === 'none of these'
      ? explanationsOf(tryPairs(laid, seen, strobeAt, runs), seen, samples, healthy)
      : [];
  return {
    ...(pairs.length > 0 ? conclude(singles, pairs) : alone),
    explanations: [...singles, ...pairs],
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
    const layAt = layer([fault], seen, strobeAt, runs);
    const lay = (severity: number): Laid => layAt([severity]);
    const all = screen(fault.severity, lay);
    return { fault, lay, all, best: Math.min(...all.map((l) => l.chiSquare)) };
  });
  const order = screened
    .filter((s) => s.fault.severity !== undefined)
    .sort((a, b) => a.best - b.best)
    .slice(0, FOLLOWED);
  const followed = new Set(order);
  return screened.map((s) => {
    const worst = worstOf(s.fault, s.all);
    const isFollowed = followed.has(s);
    const laid = isFollowed
      ? zoomIn(s.all, s.lay)
      : s.all.reduce((a, b) => (b.chiSquare < a.chiSquare ? b : a));
    const known = isFollowed ? { known: s.all } : {};
    return { faults: [s.fault], severities: [laid.severity ?? 0], laid, worst, ...known };
  });
}

/** How a fault lies at the worst that is tried; where it may go either way, at the end that lies worse. */
function worstOf({ severity: range }: Fault, all: readonly Laid[]): number {
  const at = (end: number): number => all.find((l) => l.severity === end)?.chiSquare ?? Infinity;
  if (range === undefined) return all[0].chiSquare;
  return Math.max(
    range.worst === 'low' ? -Infinity : at(range.high),
    range.worst === 'high' ? -Infinity : at(range.low),
  );
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

function refuse(captures: readonly FitCapture[], modelTolerance: number): void {
  const received = captures.length;
  if (received < 1 || received > MOST_CAPTURES) {
    throw new FitError(
      '/captures',
      `A diagnosis must have 1 to ${MOST_CAPTURES} captures; received ${received}.`,
    );
  }
  if (captures.every((c) => c.healthy === true)) {
    throw new FitError(
      '/captures',
      'A diagnosis must have a capture of the build that fails; all are said to be of a healthy one: leave that out for at least one.',
    );
  }
  if (!(modelTolerance >= 0 && modelTolerance <= 0.5)) {
    throw new FitError(
      '/modelTolerance',
      `The model tolerance must be a share from 0 to 0.5; received ${modelTolerance}.`,
    );
  }
}
