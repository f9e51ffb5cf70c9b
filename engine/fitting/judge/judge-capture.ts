import { formatQuantity } from '../../base/format-quantity.ts';
import { lineUp } from '../align/line-up.ts';
import type { Placing } from '../align/line-up.ts';
import { straightLine } from '../align/refine-line-up.ts';
import { throughPole, thinTrace, traceNoise, valueAt } from '../align/trace-tools.ts';
import type { Trace } from '../align/trace-tools.ts';
import { judgeSignal } from './judge-signal.ts';
import { concludeJudgement } from './judgement.ts';
import type { Finding, Judgement } from './judgement.ts';

/** What a design leads one to expect of a capture. */
export interface Expected {
  /** V, s from the start of read. */
  readonly prediction: Trace;
  /** s, the shortest edge of the drive. */
  readonly edge: number;
  /** s from the start of read to the end of the read's currents. */
  readonly read: { readonly from: number; readonly to: number };
}

/** Ratios of a probe's factor that was not told to the instrument, or told twice. */
const FACTORS = [0.001, 0.01, 0.1, 10, 100, 1000];
/** A gain this near to one of them, as a factor, with a shape this much alike, is believed to be one. */
const NEAR = 1.45;
const ALIKE = 0.8;
const MOST_JUDGED = 1500;

export interface JudgeOptions {
  readonly unit?: 'V' | 'A';
  readonly placing?: Placing;
  /** The probe's factor where it is known: then none is looked for. */
  readonly probe?: number;
}

/**
 * Judges a capture before any of its physics: by itself, and by its size, its speed and its length beside what the
 * design predicts. What it finds of the probe and of the instrument's bandwidth belongs to the observation.
 */
export function judgeCapture(
  trace: Trace,
  expected: Expected,
  { unit = 'V', placing = {}, probe: stated }: JudgeOptions = {},
): Judgement {
  const alone = judgeSignal(trace, unit);
  if (alone.verdict === 'not usable') return alone;
  const kept = {
    time: trace.time.filter((_, i) => alone.clipped[i] === 0),
    value: trace.value.filter((_, i) => alone.clipped[i] === 0),
  };
  const line = place(kept, expected, placing);
  if (line === undefined) return alone;
  const folded = rectified(kept, expected, line, placing);
  if (folded !== undefined) {
    const findings = [...alone.findings, folded];
    return { ...alone, ...concludeJudgement(findings), findings };
  }
  const probe =
    placing.probeGain === 'free' || stated !== undefined
      ? undefined
      : probeFactor(line.gain, line.coefficient);
  const beside = { trace: kept, expected, line };
  const speed = bandwidthOf(beside);
  const findings = [
    ...alone.findings,
    probe?.finding,
    speed?.finding,
    tooShort(beside),
    tooCoarse(beside),
    hum(beside),
  ].filter((f) => f !== undefined);
  return {
    ...concludeJudgement(findings),
    findings,
    probe: probe?.factor ?? 1,
    bandwidth: speed?.bandwidth ?? Infinity,
    clipped: alone.clipped,
  };
}

interface Lying {
  readonly delay: number;
  readonly gain: number;
  readonly offset: number;
  readonly coefficient: number;
}

interface Beside {
  readonly trace: Trace;
  readonly expected: Expected;
  readonly line: Lying;
}

/** Where it lies with its gain left open; undefined where it lies nowhere. */
function place(trace: Trace, { prediction, read }: Expected, placing: Placing): Lying | undefined {
  try {
    const { delay } = lineUp(prediction, trace, { ...placing, probeGain: 'free', read });
    const straight = straightLine(prediction, thinTrace(trace, MOST_JUDGED), delay, 1);
    return { delay, ...straight };
  } catch {
    return undefined;
  }
}

function probeFactor(
  gain: number,
  coefficient: number,
): { readonly factor: number; readonly finding: Finding } | undefined {
  if (Math.abs(coefficient) < ALIKE) return undefined;
  const factor = FACTORS.find((f) => Math.abs(Math.log(Math.abs(gain) / f)) < Math.log(NEAR));
  if (factor === undefined) return undefined;
  const times = factor > 1 ? `${factor} times too large` : `${Math.round(1 / factor)} times too small`;
  return {
    factor,
    finding: {
      code: 'probe',
      weight: 'shape',
      belief: `It is ${times}: the probe's factor was not taken into account.`,
      evidence: `Its shape agrees with the prediction (correlation ${Math.abs(coefficient).toFixed(2)}) at a gain of ${Number(Math.abs(gain).toPrecision(2))}.`,
      remedy: `It is divided by ${factor}, and its exact gain left open; state the probe's factor to be sure.`,
      size: factor,
    },
  };
}

/** The sum of squares about the best straight line on a prediction, per sample. */
function leftOver(trace: Trace, prediction: Trace, delay: number): number {
  const { gain, offset } = straightLine(prediction, trace, delay, 1);
  const end = prediction.time[prediction.time.length - 1];
  let sum = 0;
  for (let i = 0; i < trace.time.length; i++) {
    const at = Math.min(end, trace.time[i] - delay);
    sum += (gain * valueAt(prediction, at) + offset - trace.value[i]) ** 2;
  }
  return sum / trace.time.length;
}

/** The prediction with both signs folded up, placed anew: does it fit decisively better than the prediction itself? */
function rectified(trace: Trace, expected: Expected, line: Lying, placing: Placing): Finding | undefined {
  const { prediction } = expected;
  const [least, most] = prediction.value.reduce(
    ([low, high], v) => [Math.min(low, v), Math.max(high, v)],
    [0, 0],
  );
  if (Math.min(most, -least) < 0.2 * Math.max(most, -least)) return undefined;
  const folded = { time: prediction.time, value: prediction.value.map(Math.abs) };
  const other = place(trace, { ...expected, prediction: folded }, { ...placing, part: 'any' });
  if (other === undefined || other.gain < 0) return undefined;
  const thin = thinTrace(trace, MOST_JUDGED);
  const share = leftOver(thin, folded, other.delay) / leftOver(thin, prediction, line.delay);
  if (share > 0.5) return undefined;
  return {
    code: 'rectified',
    weight: 'shape',
    belief: 'It has one sign only, as the output of a rectifying amplifier has.',
    evidence: `The prediction with both signs folded up leaves ${Math.round(100 * share)} % of what the prediction itself leaves.`,
    remedy: 'Capture before the rectifier; what is folded up cannot be told apart.',
    size: share,
  };
}

const POLES = [300e6, 200e6, 120e6, 80e6, 50e6, 30e6, 20e6, 12e6, 8e6, 5e6, 3e6, 2e6];

/** The pole through which the prediction fits decisively better, if any. A pole also delays, so the delay is tried anew. */
function bandwidthOf({
  trace,
  expected: { prediction, edge },
  line,
}: Beside): { readonly bandwidth: number; readonly finding: Finding } | undefined {
  const thin = thinTrace(trace, MOST_JUDGED);
  const least = (model: Trace, about: number): number => {
    let [best, step, at] = [Infinity, 8e-9, about];
    while (step > 0.4e-9) {
      const tried = [-2, -1, 0, 1, 2].map((k) => at + k * step);
      const left = tried.map((delay) => leftOver(thin, model, delay));
      const k = left.indexOf(Math.min(...left));
      [best, at] = [left[k], tried[k]];
      if (k > 0 && k < 4) step /= 2.5;
    }
    return best;
  };
  const plain = least(prediction, line.delay);
  const left = POLES.map((pole) => least(throughPole(prediction, pole), line.delay - 0.16 / pole));
  const k = left.indexOf(Math.min(...left));
  const noise = traceNoise(trace.value).sigma ** 2 / thin.block;
  const gained = (plain - left[k]) / plain;
  // Ten times what the noise of the samples alone would gain, and more than half of what differs.
  if (gained < 0.5 || (plain - left[k]) * thin.time.length < 40 * noise) return undefined;
  const bandwidth = POLES[k];
  const slow = bandwidth < 0.35 / edge;
  const said = formatQuantity(bandwidth, 'Hz', 2);
  return {
    bandwidth,
    finding: {
      code: 'bandwidth',
      weight: 'note',
      belief: `The instrument or its probe passes only about ${said}.`,
      evidence: `A single pole there removes ${Math.round(100 * gained)} % of what differs from the prediction.`,
      remedy: `${slow ? `Edges of ${formatQuantity(edge, 's', 2)} need ${formatQuantity(0.35 / edge, 'Hz', 2)} or more: use its full bandwidth and a short ground lead. ` : ''}The pole is taken as part of the observation; its place can be fitted.`,
      size: bandwidth,
    },
  };
}

function tooShort({ trace, expected: { read }, line }: Beside): Finding | undefined {
  const [first, last] = [trace.time[0] - line.delay, trace.time[trace.time.length - 1] - line.delay];
  if (first > 0.15 * (read.to - read.from))
    return {
      code: 'late-start',
      weight: 'note',
      belief: 'It begins after the read has begun.',
      evidence: `Its first sample lies ${formatQuantity(first, 's', 2)} after the start of read.`,
      remedy: 'Record some time before the edge, so that edge and rest are seen.',
      size: first,
    };
  if (last > 0.6 * (read.to - read.from)) return undefined;
  return {
    code: 'short',
    weight: 'note',
    belief: 'It ends before the read does.',
    evidence: `Its last sample lies ${formatQuantity(last, 's', 2)} after the start of read, which takes ${formatQuantity(read.to - read.from, 's', 2)}.`,
    remedy:
      'What comes later is not judged; record to the end of the read, and of the write where it matters.',
    size: last,
  };
}

function tooCoarse({ trace, expected: { edge } }: Beside): Finding | undefined {
  const interval = (trace.time[trace.time.length - 1] - trace.time[0]) / (trace.time.length - 1);
  if (interval <= edge / 2.5) return undefined;
  return {
    code: 'coarse',
    weight: 'note',
    belief: 'It is sampled too coarsely for the edges of the drive.',
    evidence: `A sample lasts ${formatQuantity(interval, 's', 2)}, the edge ${formatQuantity(edge, 's', 2)}.`,
    remedy: 'Only what is slower than two samples is to be trusted; sample five times an edge.',
    size: interval,
  };
}

/** What drifts in the rest before the read: hum of the mains or of a supply, over a record that is shorter than it. */
function hum({ trace, line }: Beside): Finding | undefined {
  const rest = [...trace.time.keys()].filter((i) => trace.time[i] < line.delay - 5e-9);
  if (rest.length < 40) return undefined;
  const sigma = traceNoise(trace.value).sigma;
  const third = Math.floor(rest.length / 3);
  const meanOf = (from: number): number =>
    rest.slice(from, from + third).reduce((sum, i) => sum + trace.value[i], 0) / third;
  const means = [meanOf(0), meanOf(third), meanOf(2 * third)];
  const swing = Math.max(...means) - Math.min(...means);
  let [least, greatest] = [Infinity, -Infinity];
  for (const v of trace.value) [least, greatest] = [Math.min(least, v), Math.max(greatest, v)];
  if (swing < Math.max((6 * sigma) / Math.sqrt(third), 0.02 * (greatest - least))) return undefined;
  return {
    code: 'hum',
    weight: 'note',
    belief: `The rest before the read moves by ${formatQuantity(swing, 'V', 2)}: hum, or a supply that is heard.`,
    evidence: 'The means of its three parts differ by more than its noise allows.',
    remedy:
      'Average over many reads triggered by the memory, shorten the ground lead, or feed from a battery.',
    size: swing,
  };
}
