import type { Trace } from '../align/trace-tools.ts';
import type { Finding } from './judgement.ts';
import { predictedAt, type Laid } from './laid.ts';
import { percent, volts, type Signal } from './signal.ts';

/** A level this near to where the trace rests, as a share of its range, is rest and no limit. */
const RESTS = 0.1;
/** Of a record of which more than this stands at the ends of a range, too little is left. */
const TOO_MUCH = 0.2;

/** Stretches of samples within `near` of a level, as first place and place after the last. */
function stretchesAt(value: Float64Array, level: number, near: number): (readonly [number, number])[] {
  const found: (readonly [number, number])[] = [];
  let from = -1;
  for (let i = 0; i <= value.length; i++) {
    const inside = i < value.length && Math.abs(value[i] - level) <= near;
    if (inside && from < 0) from = i;
    if (inside || from < 0) continue;
    found.push([from, i]);
    from = -1;
  }
  return found;
}

/** Three samples and more that stand exactly at the least or the greatest value, away from rest: they may be clipped. */
export function standing({ trace: { value }, least, greatest, rest }: Signal): Uint8Array {
  const flags = new Uint8Array(value.length);
  const range = greatest - least;
  for (const end of [least, greatest].filter((level) => Math.abs(level - rest) > RESTS * range))
    for (const [from, to] of stretchesAt(value, end, 1e-6 * range))
      if (to - from >= 3) flags.fill(1, from, to);
  return flags;
}

/** Which of the standing samples are clipped: those where the prediction, laid on the others, goes clearly beyond. */
export function clippedOf(signal: Signal, stands: Uint8Array, laid: Laid): Uint8Array {
  const { trace, sigma, step, least, greatest } = signal;
  const clear = Math.max(4 * sigma, 2 * step, 0.05 * (greatest - least));
  const model = predictedAt(laid, trace);
  const flags = new Uint8Array(stands.length);
  for (const [from, to] of stretchesAt(Float64Array.from(stands), 1, 0)) {
    const level = trace.value[from];
    const beyond = level > signal.rest ? 1 : -1;
    const most = model.subarray(from, to).reduce((m, v) => Math.max(m, beyond * (v - level)), 0);
    if (most > clear) flags.fill(1, from, to);
  }
  return flags;
}

export function clipped({ trace }: Signal, flags: Uint8Array): Finding | undefined {
  const count = flags.reduce((sum, v) => sum + v, 0);
  if (count === 0) return undefined;
  const share = count / flags.length;
  const much = share > TOO_MUCH;
  return {
    code: 'clipped',
    weight: much ? 'blocks' : 'note',
    belief: `It is clipped: ${percent(share)} of the samples stand at the end of a range.`,
    evidence: `${count} samples stand exactly at ${volts(trace.value[flags.indexOf(1)])}, where the prediction goes on.`,
    remedy: much
      ? 'Record it again with a wider range.'
      : 'Those samples are left out; a wider range would keep them.',
    size: share,
  };
}

/** An amplifier at its limit: many samples, noisy ones too, within the noise of an end, where the prediction goes on. */
export function limited(signal: Signal, laid: Laid): Finding | undefined {
  const { trace, least, greatest, sigma, rest } = signal;
  const range = greatest - least;
  const near = Math.max(6 * sigma, 0.01 * range);
  const model = predictedAt(laid, trace);
  for (const end of [greatest, least].filter((level) => Math.abs(level - rest) > RESTS * range)) {
    const longest = stretchesAt(trace.value, end, near)
      .filter(([from, to]) => swing(inner(model, from, to)) > Math.max(2.5 * near, 0.15 * range))
      .reduce((most, [from, to]) => Math.max(most, to - from), 0);
    if (longest < 8) continue;
    return {
      code: 'limited',
      weight: 'note',
      belief: `It stands at ${volts(end)} for ${longest} samples, as an amplifier at its limit does.`,
      evidence: 'There the prediction rises and falls by more than twice as much.',
      remedy:
        'If it is the amplifier, state its output limit in the design; if it is the instrument, widen its range.',
      size: end,
    };
  }
  return undefined;
}

/** The middle of a stretch: at its ends a few ns of delay would show as a swing. */
const inner = (model: Float64Array, from: number, to: number): Float64Array => {
  const trim = Math.ceil((to - from) / 5);
  return model.subarray(from + trim, Math.max(from + trim + 1, to - trim));
};

const swing = (values: Float64Array): number =>
  values.reduce((m, v) => Math.max(m, v), -Infinity) - values.reduce((m, v) => Math.min(m, v), Infinity);

/** A trace without the samples that are flagged. */
export const without = ({ time, value }: Trace, flags: Uint8Array): Trace =>
  flags.includes(1)
    ? { time: time.filter((_, i) => flags[i] === 0), value: value.filter((_, i) => flags[i] === 0) }
    : { time, value };
