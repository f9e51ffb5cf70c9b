import { CONTRIBUTIONS } from '../network/causes.ts';
import { chiSquareUpper } from '../numerics/statistics.ts';
import type { Simulation } from '../solver/result.ts';
import type { LineUp } from './align/line-up.ts';
import { throughPole, traceNoise, valueAt, type Trace } from './align/trace-tools.ts';
import { comparisonSentence } from './compare-words.ts';
import type { Comparison, MisfitCause } from './comparison.ts';

/** What the capture was taken of. */
export type Observed = 'sense' | 'amplifier';

/** A difference under this share of the greatest prediction is close, noise or not. */
const CLOSE = 0.02;

export const observedTrace = (run: Simulation, observed: Observed): Trace => ({
  time: run.time,
  value: observed === 'sense' ? run.senseVoltage : run.amplifierOutput,
});

/**
 * Lays a lined-up capture over a run.
 * @param bandwidth Hz of the instrument, through which the run is seen
 */
export function compareCapture(
  run: Simulation,
  measured: Trace,
  line: LineUp,
  observed: Observed = 'sense',
  bandwidth = Infinity,
): Comparison {
  const prediction = throughPole(observedTrace(run, observed), bandwidth);
  const end = prediction.time[prediction.time.length - 1];
  const keep = [...measured.time.keys()].filter((i) => measured.time[i] - line.delay <= end);
  const time = Float64Array.from(keep, (i) => measured.time[i] - line.delay);
  const brought = Float64Array.from(keep, (i) => (measured.value[i] - line.offset) / line.gain);
  const predicted = time.map((t) => valueAt(prediction, t));
  const difference = brought.map((v, i) => v - predicted[i]);
  const noise = traceNoise(measured.value).sigma / Math.abs(line.gain);
  const meanSquare = dot(difference, difference) / difference.length;
  const reducedChiSquare = noise > 0 ? meanSquare / noise ** 2 : Infinity;
  const neighbourCorrelation = neighbours(difference);
  const peak = predicted.reduce((m, v) => Math.max(m, Math.abs(v)), 0);
  const rms = Math.sqrt(meanSquare);
  const white =
    isWhite(difference, noise) && Math.abs(neighbourCorrelation) < 0.1 + 4 / Math.sqrt(time.length);
  const verdict = white ? 'noise alone' : rms / peak <= CLOSE ? 'close' : 'poor';
  return {
    time,
    measured: brought,
    predicted,
    difference,
    noise,
    rms,
    reducedChiSquare,
    neighbourCorrelation,
    verdict,
    statement: comparisonSentence({ verdict, rms, noise }, peak),
    misfitLooksLike:
      observed === 'sense'
        ? project(run, time, predicted, difference)
        : shiftOnly(time, predicted, difference),
  };
}

/** Samples whose mean is looked at: what is slow and small hides in the noise of single samples. */
const STRETCHES = [1, 4, 16, 64];

/**
 * Could the differences be white noise, with a chance of 1 in 1000 or more, one by one and as means over stretches?
 * The noise itself is an estimate from the same samples, good to a few per cent: 10 % are allowed for it.
 */
export function isWhite(difference: Float64Array, noise: number): boolean {
  return STRETCHES.every((length) => {
    const count = Math.floor(difference.length / length);
    if (count < 4) return true;
    let sum = 0;
    for (let k = 0; k < count; k++) {
      let part = 0;
      for (let i = k * length; i < (k + 1) * length; i++) part += difference[i];
      sum += (part * part) / length;
    }
    return noise > 0 && chiSquareUpper(sum / (1.1 * noise * noise), count) > 1e-3;
  });
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
}

/** Correlation of each value with the next one, about their mean. */
export function neighbours(values: Float64Array): number {
  const centre = values.reduce((s, v) => s + v, 0) / values.length;
  let [top, bottom] = [0, 0];
  for (let i = 0; i < values.length; i++) {
    bottom += (values[i] - centre) ** 2;
    if (i > 0) top += (values[i] - centre) * (values[i - 1] - centre);
  }
  return bottom > 0 ? top / bottom : 0;
}

function project(
  run: Simulation,
  time: Float64Array,
  predicted: Float64Array,
  difference: Float64Array,
): MisfitCause[] {
  const { contributions } = run;
  const causes = shiftOnly(time, predicted, difference);
  if (contributions !== undefined) {
    for (const cause of CONTRIBUTIONS) {
      const trace = { time: run.time, value: contributions[cause] };
      const shape = time.map((t) => valueAt(trace, t));
      causes.push({ cause, ...onto(shape, difference) });
    }
  }
  return causes.filter((c) => c.share > 0).sort((a, b) => b.share - a.share);
}

/** A shift by dt changes the prediction by -dt times its slope. */
function shiftOnly(time: Float64Array, predicted: Float64Array, difference: Float64Array): MisfitCause[] {
  const slope = predicted.map((_, i) => {
    const [a, b] = [Math.max(0, i - 1), Math.min(time.length - 1, i + 1)];
    return b > a ? -(predicted[b] - predicted[a]) / (time[b] - time[a]) : 0;
  });
  return [{ cause: 'later', ...onto(slope, difference) }];
}

function onto(shape: Float64Array, difference: Float64Array): { change: number; share: number } {
  const [along, length, whole] = [dot(shape, difference), dot(shape, shape), dot(difference, difference)];
  return length > 0 && whole > 0
    ? { change: along / length, share: (along * along) / (length * whole) }
    : { change: 0, share: 0 };
}
