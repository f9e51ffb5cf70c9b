import { formatQuantity } from '../../base/format-quantity.ts';
import { throughPole, traceNoise, type Trace } from '../align/trace-tools.ts';
import type { Finding } from './judgement.ts';
import { leftOver, thinned, type Laid } from './laid.ts';

/** Hz. */
const POLES = [300e6, 200e6, 120e6, 80e6, 50e6, 30e6, 20e6, 12e6, 8e6, 5e6, 3e6, 2e6];
/** A pole must remove this share of what differs to be believed, this much of the signal, and lie this low. */
const REMOVES = 0.5;
const MATTERS = 0.02;
const SLOW = 3;

/**
 * The pole through which the prediction fits decisively better, if any. A pole also delays, so the delay is tried anew.
 * A drive slower than the design says does nearly the same, and no voltage tells the two apart.
 */
export function bandwidthOf(
  capture: Trace,
  { model, delay }: Laid,
  edge: number,
): { readonly bandwidth: number; readonly finding: Finding } | undefined {
  const thin = thinned(capture);
  const plain = leastAbout(thin, model, delay);
  const left = POLES.map((pole) => leastAbout(thin, throughPole(model, pole), delay - 0.16 / pole));
  const least = Math.min(...left);
  const bandwidth = POLES[left.indexOf(least)];
  const noise = traceNoise(capture.value).sigma ** 2 / thin.block;
  const gained = (plain - least) / plain;
  const peak = thin.value.reduce((m, v) => Math.max(m, Math.abs(v)), 0);
  const matters = Math.sqrt(Math.max(0, plain - least)) > MATTERS * peak;
  // Forty times what one parameter gains from noise alone.
  const sure = (plain - least) * thin.time.length > 40 * noise;
  if (gained < REMOVES || !matters || !sure || bandwidth > (SLOW * 0.35) / edge) return undefined;
  const needed = formatQuantity(0.35 / edge, 'Hz', 2);
  return {
    bandwidth,
    finding: {
      code: 'bandwidth',
      weight: 'note',
      belief: `It is slower than predicted, as through an instrument or a probe that passes only about ${formatQuantity(bandwidth, 'Hz', 2)}; a drive that is slower or weaker than the design says would look much the same.`,
      evidence: `A single pole there removes ${Math.round(100 * gained)} % of what differs from the prediction.`,
      remedy: `Edges of ${formatQuantity(edge, 's', 2)} need ${needed} or more: use the full bandwidth and a short ground lead, and capture the current to see it. If it is the instrument, state its bandwidth.`,
      size: bandwidth,
    },
  };
}

/** The least that is left within a few ns about a delay. */
function leastAbout(trace: Trace, model: Trace, about: number): number {
  let [best, step, at] = [Infinity, 8e-9, about];
  for (let round = 0; round < 12 && step > 0.4e-9; round++) {
    const tried = [-2, -1, 0, 1, 2].map((k) => at + k * step);
    const left = tried.map((delay) => leftOver(trace, model, delay));
    const k = left.indexOf(Math.min(...left));
    [best, at] = [left[k], tried[k]];
    if (k > 0 && k < 4) step /= 2.5;
  }
  return best;
}

export function tooCoarse({ time }: Trace, edge: number): Finding | undefined {
  const interval = (time[time.length - 1] - time[0]) / (time.length - 1);
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
