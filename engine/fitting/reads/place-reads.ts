import { applyPatches } from '../../base/json-patch.ts';
import { checkDesign } from '../../check/check-design.ts';
import type { Design } from '../../design/design.ts';
import { simulate } from '../../simulate/simulate.ts';
import { lineUp, readOf } from '../align/line-up.ts';
import { valueAt, type Trace } from '../align/trace-tools.ts';
import { FitError } from '../bench-runs.ts';
import { observedTrace } from '../compare.ts';
import { judgeCapture } from '../judge/judge-capture.ts';
import type { ReadsRequest } from './reads-request.ts';
import type { ReadsPlace } from './hear-reads.ts';

/**
 * Where many reads lie: the mean of the ONEs is judged and lined up with what the design predicts for a ONE; the ZEROs
 * have the same trigger. With a start that is given nothing is lined up, and only the polarity is looked for.
 * @throws DesignError, LineUpError, FitError
 */
export function placeReads({ design: file, ones, observed = 'sense', start }: ReadsRequest): {
  readonly design: Design;
  readonly place: ReadsPlace;
} {
  const design = checkDesign(applyPatches(file, [{ path: '/selected/bit', value: 1 }]));
  const run = simulate(design, { contributions: false, estimateError: false });
  const trace = meanOf(ones);
  const judgement = judgeCapture(run, { label: 'mean of the ONEs', trace, observed });
  if (judgement.verdict === 'not usable')
    throw new FitError('/reads', `The mean of the ONEs: ${judgement.statement}`);
  const { probe } = judgement;
  const scaled = { time: trace.time, value: trace.value.map((v) => v / probe) };
  const line = lineUp(observedTrace(run, observed), scaled, {
    read: readOf(design),
    probeGain: probe === 1 ? 'fixed' : 'free',
  });
  return { design, place: { delay: start ?? line.delay, gain: line.gain * probe } };
}

/** Their mean at the instants of the first. */
export function meanOf(reads: readonly Trace[]): Trace {
  const { time } = reads[0];
  const last = reads.reduce((m, read) => Math.min(m, read.time[read.time.length - 1]), Infinity);
  const kept = time.filter((t) => t <= last);
  return {
    time: kept,
    value: kept.map((t) => reads.reduce((sum, read) => sum + valueAt(read, t), 0) / reads.length),
  };
}
