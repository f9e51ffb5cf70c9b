import type { Json } from '../../base/json-patch.ts';
import type { Design } from '../../design/design.ts';
import { simulate as realSimulate } from '../../simulate/simulate.ts';
import { createRuns, FitError, type BenchControl, type BenchRuns, type Simulate } from '../bench-runs.ts';
import { observedTrace } from '../compare.ts';
import type { FitCapture } from '../fit-captures.ts';
import { MOST_CAPTURES } from '../fit-design.ts';
import { HEALTHY_SENTENCE, evidenceSentence, faultSentence, noneSentence } from './diagnose-words.ts';
import type { Diagnosis, Explanation } from './diagnosis.ts';
import type { Fault, Shown } from './fault.ts';
import { FAULTS } from './faults.ts';
import { layFault, see, startOf, type Laid, type Seen } from './fit-fault.ts';

export interface DiagnoseRequest extends BenchControl {
  /** The design as it should be. */
  readonly design: Json;
  /** Taken of the build that fails; a read of a ONE and a cycle that writes a ZERO tell most. */
  readonly captures: readonly FitCapture[];
  /** s on the time axis of the first capture: where its strobe was seen; undefined when it was not recorded. */
  readonly strobeAt?: number;
  /** How far the model itself may be off, as a share of the greatest voltage (default 0.01). */
  readonly modelTolerance?: number;
  readonly simulate?: Simulate;
}

/** A fault must beat 'healthy' by this much (ten: chances of about 150 to 1). */
const DECISIVE = 10;
/** An explanation stands when it leaves this little, or removes this much. */
const LEFT = 2;
const REMOVED = 0.9;
/** s that a run goes on after the end of a capture. */
const ROOM = 200e-9;

const HEALTHY: Fault = {
  code: 'healthy',
  title: 'Nothing is wrong: the design as it is',
  severity: undefined,
  change: (d) => d,
};

/**
 * Simulates each single fault, fits its severity, delay and offset to the captures, and ranks the faults by how
 * well each explains them. Polarity is not searched: a reversed trace is itself a fault. Throws FitError, FitCancelled,
 * LineUpError or DesignError.
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
  const seen = captures.map((capture) => see(request.design, capture, modelTolerance));
  const shown = shownBy(seen, strobeAt);
  const possible = FAULTS.filter((f) => f.possible?.(seen[0].healthy) ?? true);
  const tried = [HEALTHY, ...possible.filter((f) => f.shows?.(shown) ?? true)];
  const runs = createRuns(request.simulate ?? realSimulate, tried.length, request);
  const until = Math.max(...seen.map((s) => endOf(s, runs))) + ROOM;
  const samples = seen.reduce((sum, s) => sum + s.trace.time.length, 0) + (strobeAt === undefined ? 0 : 1);

  const laid = tried.map((fault, done) => {
    runs.advance(done);
    return { fault, laid: layFault(fault, seen, strobeAt, until, runs) };
  });
  const healthy = laid[0].laid;
  const ranked = laid
    .map(({ fault, laid: l }) => ({
      fault,
      laid: l,
      score: l.chiSquare + (l.severity === undefined ? 0 : Math.log(samples)),
    }))
    .sort((a, b) => a.score - b.score);
  const explanations = ranked.map(({ fault, laid: l, score }, place): Explanation => {
    const found = {
      severity: l.severity,
      atLimit: atLimit(fault, l),
      misfit: l.chiSquare / samples,
      explains: healthy.chiSquare > 0 ? 1 - l.chiSquare / healthy.chiSquare : 0,
    };
    return {
      code: fault.code,
      title: fault.title,
      severity: found.severity,
      atLimit: found.atLimit,
      evidence: evidenceSentence(fault, found, seen[0].healthy),
      misfit: found.misfit,
      explains: found.explains,
      score,
      traces: place < 3 || fault === HEALTHY ? l.traces : undefined,
    };
  });
  return {
    ...conclude(explanations),
    explanations,
    notTried: possible.filter((f) => !tried.includes(f)).map((f) => f.title),
    runs: runs.count,
  };
}

const shownBy = (seen: readonly Seen[], strobeAt: number | undefined): Shown => ({
  inhibit: seen.some(
    ({ healthy }) => healthy.programme.some((c) => c.write === 'zero') || writesZero(healthy),
  ),
  amplifier: seen.some((s) => s.observed === 'amplifier'),
  strobe: strobeAt !== undefined,
});

/**
 * s from the start of read to the end of a capture, as the healthy design places it, and never less than it is long:
 * a fault may lead the line-up astray. Nothing later need be run.
 */
function endOf(s: Seen, runs: BenchRuns): number {
  const run = runs.run(s.healthy);
  if (run === undefined) throw new FitError('/design', NO_ANSWER);
  const [first, last] = [s.trace.time[0], s.trace.time[s.trace.time.length - 1]];
  const { delay } = startOf(observedTrace(run, s.observed), s);
  return Math.min(s.healthy.cycle.period, Math.max(last - delay, last - first));
}

const NO_ANSWER =
  'The design must give a finite prediction and the solution left the range of numbers: make numerics.step smaller or its wire values less extreme.';

/** The observed cycle restores a ZERO, or writes one. */
function writesZero(design: Design): boolean {
  const last = design.programme[design.programme.length - 1];
  return last.write === 'restore' && design.selected.bit === 0;
}

/** Is the fitted severity the worst that is tried? */
function atLimit({ severity: range }: Fault, { severity }: Laid): boolean {
  if (range === undefined || severity === undefined) return false;
  const near = (end: number): boolean => Math.abs(severity - end) <= 1e-3 * Math.abs(end);
  return (range.worst !== 'low' && near(range.high)) || (range.worst !== 'high' && near(range.low));
}

function conclude(explanations: readonly Explanation[]): Pick<Diagnosis, 'verdict' | 'statement'> {
  const healthy = explanations.find((e) => e.code === 'healthy') as Explanation;
  const [best, next] = explanations;
  const asDesigned = best === healthy || best.score > healthy.score - DECISIVE;
  if (asDesigned && healthy.misfit <= LEFT) return { verdict: 'healthy', statement: HEALTHY_SENTENCE };
  if (!asDesigned && (best.misfit <= LEFT || best.explains >= REMOVED)) {
    const rival = next && next.score < best.score + DECISIVE ? next : undefined;
    return { verdict: 'fault', statement: faultSentence(best, rival) };
  }
  return { verdict: 'none of these', statement: noneSentence(best) };
}
