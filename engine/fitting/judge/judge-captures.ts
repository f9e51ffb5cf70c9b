import type { Json } from '../../base/json-patch.ts';
import { simulate } from '../../simulate/simulate.ts';
import { createRuns, FitError, type BenchControl } from '../bench-runs.ts';
import { designOf, noPrediction, type FitCapture } from '../fit-captures.ts';
import { judgeCapture } from './judge-capture.ts';
import type { Judgement } from './judgement.ts';
import { without } from './standing.ts';

/** Captures as they may be laid over a prediction, each with what was found of it. */
export interface JudgedCaptures {
  /** Without samples that are clipped; divided by a probe's factor that was stated or is believed (then of open gain). */
  readonly captures: readonly FitCapture[];
  readonly judgements: readonly Judgement[];
}

/**
 * Judges captures beside what a design file predicts under the conditions of each, and makes them ready. One that is
 * not usable is left as it is: see its judgement, or `requireUsable`.
 * @throws DesignError, FitCancelled, FitError
 */
export function judgeCaptures(
  file: Json,
  captures: readonly FitCapture[],
  { cancelled }: Pick<BenchControl, 'cancelled'> = {},
): JudgedCaptures {
  const runs = createRuns(simulate, 1, { cancelled });
  const stated = captures.map(withoutProbe);
  const judgements = stated.map((capture, i) => {
    return judgeCapture(runs.need(designOf(file, capture), noPrediction(captures[i])), capture);
  });
  return { captures: stated.map((capture, i) => asJudged(capture, judgements[i])), judgements };
}

/** Throws FitError, whose field is the capture's, where one is not usable. */
export function requireUsable({ captures, judgements }: JudgedCaptures): readonly FitCapture[] {
  const bad = judgements.findIndex(({ verdict }) => verdict === 'not usable');
  if (bad >= 0)
    throw new FitError(`/captures/${bad}`, `${captures[bad].label}: ${judgements[bad].statement}`);
  return captures;
}

/** A capture whose probe's factor was stated, in volts at the tip of the probe. */
const withoutProbe = (capture: FitCapture): FitCapture =>
  capture.probe === undefined ? capture : divided(capture, capture.probe);

function asJudged(capture: FitCapture, { probe, clipped, bandwidth }: Judgement): FitCapture {
  const slow = capture.freeBandwidth === true && Number.isFinite(bandwidth) ? { bandwidth } : {};
  const kept = { ...capture, ...slow, trace: without(capture.trace, clipped) };
  return probe === 1 ? kept : { ...divided(kept, probe), probeGain: 'free' };
}

const divided = (capture: FitCapture, factor: number): FitCapture => ({
  ...capture,
  trace: { time: capture.trace.time, value: capture.trace.value.map((v) => v / factor) },
});
