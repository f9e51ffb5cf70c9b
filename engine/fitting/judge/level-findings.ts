import type { Finding } from './judgement.ts';
import { percent, volts, type Signal } from './signal.ts';

export function flat({ least, greatest }: Signal): Finding | undefined {
  if (greatest > least) return undefined;
  return {
    code: 'flat',
    weight: 'blocks',
    belief: 'All its samples are alike.',
    evidence: `Every one is ${volts(least)}.`,
    remedy: 'Check the probe, the trigger and which trace was chosen.',
    size: least,
  };
}

/** Samples over which a mean is taken to see what single samples hide. */
const STRETCH = 8;

/** Nothing but noise: even the means over stretches differ by no more than noise lets them. */
export function noSignal({ trace: { value }, sigma }: Signal): Finding | undefined {
  const count = Math.floor(value.length / STRETCH);
  if (count < 8) return undefined;
  const means = Float64Array.from({ length: count }, (_, k) =>
    value.subarray(k * STRETCH, (k + 1) * STRETCH).reduce((sum, v) => sum + v / STRETCH, 0),
  );
  const range =
    means.reduce((m, v) => Math.max(m, v), -Infinity) - means.reduce((m, v) => Math.min(m, v), Infinity);
  // The range of a thousand normal deviates is six and a half standard deviations.
  if (range > (7 * sigma) / Math.sqrt(STRETCH)) return undefined;
  return {
    code: 'no-signal',
    weight: 'note',
    belief: 'Nothing but noise is to be seen in it.',
    evidence: `Means over ${STRETCH} samples differ by ${volts(range)} at most, and one sample scatters by ${volts(sigma)}.`,
    remedy:
      'Check probe, trigger and trace; if nothing did answer, average many reads to see how little it was.',
    size: range,
  };
}

/** A detector's output: nearly all samples stand at one of two levels, and each way between them takes a few samples. */
export function twoLevel({ trace: { value }, least, greatest }: Signal): Finding | undefined {
  const range = greatest - least;
  let [low, high, between, ways, side] = [0, 0, 0, 0, 0];
  for (const v of value) {
    const f = (v - least) / range;
    const now = f < 0.12 ? -1 : f > 0.88 ? 1 : 0;
    if (now < 0) low++;
    else if (now > 0) high++;
    else between++;
    if (now !== 0 && side !== 0 && now !== side) ways++;
    if (now !== 0) side = now;
  }
  const shorter = Math.min(low, high);
  if (ways === 0 || between > 4 * ways || shorter < 2 * between || shorter < 5) return undefined;
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
