import { formatQuantity } from '../../base/format-quantity.ts';
import { mean } from '../../numerics/statistics.ts';
import type { Trace } from '../align/trace-tools.ts';
import type { Finding } from './judgement.ts';
import type { Signal } from './signal.ts';

/** s from the start of read in which the read lies. */
interface Read {
  readonly from: number;
  readonly to: number;
}

/** Does it hold the read from before its edge to near its end? */
export function tooShort({ time }: Trace, delay: number, read: Read): Finding | undefined {
  const [first, last] = [time[0] - delay, time[time.length - 1] - delay];
  const length = read.to - read.from;
  // One that would begin in the second half of the read is more likely a part of something else.
  if (first > read.from + 0.5 * length) return undefined;
  if (first > read.from + 0.02 * length)
    return {
      code: 'late-start',
      weight: 'note',
      belief: 'It begins after the read has begun.',
      evidence: `Its first sample lies ${formatQuantity(first, 's', 2)} after the start of read.`,
      remedy: 'Record some time before the edge, so that edge and rest are seen.',
      size: first,
    };
  if (last > read.from + 0.6 * length) return undefined;
  return {
    code: 'short',
    weight: 'note',
    belief: 'It ends before the read does.',
    evidence: `Its last sample lies ${formatQuantity(last, 's', 2)} after the start of read, which takes ${formatQuantity(length, 's', 2)}.`,
    remedy:
      'What comes later is not judged; record to the end of the read, and of the write where it matters.',
    size: last,
  };
}

/** Samples before anything happens from which a drift is told. */
const LEAST_REST = 40;
/** s of the blocks whose means show where something begins, and blocks left out before that. */
const BLOCK = 20e-9;
const AWAY = 4;

/** What drifts before anything happens: hum of a supply, or of the mains over a long record. */
export function hum(signal: Signal): Finding | undefined {
  const { sigma, least, greatest } = signal;
  const range = greatest - least;
  const rest = restOf(signal);
  if (rest.length < LEAST_REST) return undefined;
  const parts = 6;
  const length = Math.floor(rest.length / parts);
  const means = Array.from({ length: parts }, (_, k) => mean(rest.subarray(k * length, (k + 1) * length)));
  const swing = Math.max(...means) - Math.min(...means);
  if (swing < Math.max((6 * sigma) / Math.sqrt(length), 0.02 * range)) return undefined;
  return {
    code: 'hum',
    weight: 'note',
    belief: `What comes before the read moves by ${formatQuantity(swing, 'V', 2)}: hum, or a supply that is heard.`,
    evidence: `The means of its ${parts} parts differ by more than noise lets them.`,
    remedy:
      'Average over many reads triggered by the memory, shorten the ground lead, or feed from a battery.',
    size: swing,
  };
}

/** The samples up to well before something begins that is no drift. */
function restOf({ trace: { time, value }, sigma, least, greatest }: Signal): Float64Array {
  const interval = (time[time.length - 1] - time[0]) / (time.length - 1);
  const size = Math.max(4, Math.round(BLOCK / interval));
  const means = Array.from({ length: Math.floor(value.length / size) }, (_, k) =>
    mean(value.subarray(k * size, (k + 1) * size)),
  );
  const steep = Math.max((8 * sigma) / Math.sqrt(size), 0.04 * (greatest - least));
  const first = means.findIndex((m, k) => k > 1 && Math.abs(m - means[k - 2]) > steep);
  return value.subarray(0, Math.max(0, first - AWAY) * size);
}
