import { formatQuantity } from '../../base/format-quantity.ts';
import { median } from '../../numerics/statistics.ts';
import { traceNoise } from '../align/trace-tools.ts';
import type { Trace } from '../align/trace-tools.ts';
import type { Finding } from './judgement.ts';

/** What is read off a trace once, for all questions about it. */
export interface Signal {
  readonly trace: Trace;
  readonly sigma: number;
  readonly step: number;
  readonly least: number;
  readonly greatest: number;
  /** V where it rests before anything happens. */
  readonly rest: number;
}

export function readSignal(trace: Trace): Signal {
  const { sigma, step } = traceNoise(trace.value);
  let [least, greatest] = [Infinity, -Infinity];
  for (const v of trace.value) {
    least = Math.min(least, v);
    greatest = Math.max(greatest, v);
  }
  const head = trace.value.subarray(0, Math.max(4, Math.floor(trace.value.length * 0.03)));
  return { trace, sigma, step, least, greatest, rest: median(head) };
}

const volts = (v: number): string => formatQuantity(v, 'V', 2);
const percent = (share: number): string => `${Number((100 * share).toPrecision(2))} %`;

/** A range under this many standard deviations of one sample is hardly a signal. */
const FAINT = 6;

export function faint({ least, greatest, sigma }: Signal): Finding | undefined {
  const range = greatest - least;
  if (range > FAINT * sigma && range > 0) return undefined;
  return {
    code: 'faint',
    weight: 'blocks',
    belief: 'There is no signal in it.',
    evidence: `All of it lies within ${volts(range)}, and one sample scatters by ${volts(sigma)}.`,
    remedy: 'Check the probe and which trace was chosen.',
    size: range,
  };
}

/**
 * A detector's output: nearly all samples stand at one of two levels, and each way between them takes a few samples.
 */
export function twoLevel({ trace: { value }, least, greatest }: Signal): Finding | undefined {
  const range = greatest - least;
  const part = (v: number): number => (v - least) / range;
  let [low, high, between, ways, side] = [0, 0, 0, 0, 0];
  for (const v of value) {
    const f = part(v);
    if (f < 0.12) low++;
    else if (f > 0.88) high++;
    else between++;
    const now = f < 0.12 ? -1 : f > 0.88 ? 1 : 0;
    if (now !== 0 && side !== 0 && now !== side) ways++;
    if (now !== 0) side = now;
  }
  const longest = Math.min(low, high);
  if (ways === 0 || between > 4 * ways || longest < 5 * between || longest < 5) return undefined;
  return {
    code: 'two-level',
    weight: 'blocks',
    belief: 'It has two levels, as the output of a detector or of logic has.',
    evidence: `${percent((low + high) / value.length)} of the samples stand at ${volts(least)} or ${volts(greatest)}, with ${ways} ${ways === 1 ? 'step' : 'steps'} between them.`,
    remedy:
      'It says when something switched, not by how much: capture the sense wire or the amplifier before the detector.',
    size: range,
  };
}

/**
 * Samples that stand at the least or greatest value, entered steeply: 1 for each. A bell's own top is round, and a
 * quiet line is entered slowly, so neither counts.
 */
export function clippedSamples({ trace: { value }, least, greatest, sigma, step }: Signal): Uint8Array {
  const flags = new Uint8Array(value.length);
  const near = Math.max(1e-6 * (greatest - least), 0.01 * step);
  const steep = Math.max(6 * sigma, 3 * step, 0.01 * (greatest - least));
  for (const end of [least, greatest]) {
    for (let i = 0; i < value.length;) {
      if (Math.abs(value[i] - end) > near) {
        i++;
        continue;
      }
      let j = i;
      while (j < value.length && Math.abs(value[j] - end) <= near) j++;
      const before = i > 0 ? Math.abs(value[i] - value[i - 1]) : 0;
      const after = j < value.length ? Math.abs(value[j] - value[j - 1]) : 0;
      if (j - i >= 3 && Math.max(before, after) > steep) flags.fill(1, i, j);
      i = j;
    }
  }
  return flags;
}

export function clipped(signal: Signal, flags: Uint8Array): Finding | undefined {
  const count = flags.reduce((sum, v) => sum + v, 0);
  if (count === 0) return undefined;
  const share = count / flags.length;
  const at = signal.trace.value[flags.indexOf(1)];
  return {
    code: 'clipped',
    weight: share > 0.2 ? 'blocks' : 'note',
    belief: `It is clipped: ${percent(share)} of the samples stand at the end of a range.`,
    evidence: `${count} samples are exactly ${volts(at)}, entered by a steep step.`,
    remedy:
      share > 0.2
        ? 'Record it again with a wider range.'
        : 'Those samples are left out; a wider range would keep them.',
    size: share,
  };
}

/** An amplifier at its limit: many samples, noisy ones too, within the noise of an end, entered steeply. */
export function limited({ trace: { value }, least, greatest, sigma }: Signal): Finding | undefined {
  const range = greatest - least;
  for (const end of [greatest, least]) {
    const near = Math.max(3 * sigma, 0.004 * range);
    let longest = 0;
    for (let i = 0; i < value.length;) {
      if (Math.abs(value[i] - end) > 2 * near) {
        i++;
        continue;
      }
      let j = i;
      while (j < value.length && Math.abs(value[j] - end) <= 2 * near) j++;
      const way = (k: number, d: number): number => Math.abs((value[k + 3 * d] ?? value[k]) - value[k]);
      if (i > 3 && j < value.length - 3 && way(i, -1) > 0.15 * range && way(j - 1, 1) > 0.15 * range)
        longest = Math.max(longest, j - i);
      i = j;
    }
    if (longest >= 12)
      return {
        code: 'limited',
        weight: 'note',
        belief: `It stands at ${volts(end)} for ${longest} samples, as an amplifier at its limit does.`,
        evidence: 'It goes there steeply, stays within its own noise, and comes back steeply.',
        remedy:
          'If it is the amplifier, state its output limit in the design; if it is the instrument, widen its range.',
        size: end,
      };
  }
  return undefined;
}

export function coarse({ trace: { value }, least, greatest }: Signal): Finding | undefined {
  let most = 0;
  for (let i = 1; i < value.length; i++) most = Math.max(most, Math.abs(value[i] - value[i - 1]));
  const share = most / (greatest - least);
  if (share < 0.5) return undefined;
  return {
    code: 'coarse',
    weight: 'note',
    belief: 'It is sampled too coarsely for its steepest edges.',
    evidence: `Neighbouring samples differ by up to ${percent(share)} of its whole range.`,
    remedy: 'The edges are not to be trusted; sample so that an edge holds five samples or more.',
    size: share,
  };
}

export function offset({ trace: { value }, rest, least, greatest, sigma }: Signal): Finding | undefined {
  const head = Math.max(4, Math.floor(value.length * 0.03));
  if (Math.abs(rest) < Math.max((4 * sigma) / Math.sqrt(head), 0.02 * (greatest - least))) return undefined;
  return {
    code: 'offset',
    weight: 'note',
    belief: `It rests at ${volts(rest)} instead of 0 V.`,
    evidence: 'That is the middle of its first samples, before anything happens.',
    remedy: 'Each capture has an offset of its own in every fit, so nothing need be done.',
    size: rest,
  };
}

/** Steps far finer than eight bits of the range, and noise finer still. */
export function averaged({ least, greatest, step, sigma }: Signal): Finding | undefined {
  const range = greatest - least;
  if (!(step > 0 && step < range / 1500 && sigma < range / 1500)) return undefined;
  return {
    code: 'averaged',
    weight: 'note',
    belief: 'It looks like many sweeps averaged.',
    evidence: `Its noise, ${volts(sigma)}, and its steps are finer than a single sweep of eight or ten bits gives.`,
    remedy:
      'What jitters from sweep to sweep is smeared: state how much by the bandwidth, or record single sweeps.',
    size: sigma,
  };
}
