import type { CoreTest } from '../../design/core.ts';
import type { TraceFit } from './fit-traces.ts';
import type { CoreCapture } from './trace-model.ts';

/** Drives that differ by so much are two. */
const APART = 0.05;
/**
 * A fitted core gives its readings no better than so, as a fraction of each (about two standard deviations): of one
 * measured core 4 to 8 % of a ONE remained that no variant of the model gave at drives beside those fitted.
 */
const LEAST_TOLERANCE = 0.1;
/** Part of full drive that no core minds: where no train was captured, nothing is said of what half-selects do. */
const HARMLESS = 0.3;

/** Do the captures show the core at more than one drive? */
export function drivesApart(captures: readonly CoreCapture[]): boolean {
  const tops = captures.filter(({ train }) => train === undefined).map(topOf);
  return Math.min(...tops) < (1 - APART) * Math.max(...tops);
}

/** How many drives of half-select trains the captures show. */
export const trainDrives = (captures: readonly CoreCapture[]): number =>
  new Set(captures.flatMap(({ train }) => (train ? [Math.abs(train.drive).toPrecision(2)] : []))).size;

/**
 * The test by which a fitted core is known: the readings that its captures hold it to, so that cores which could be it
 * give them too. Full drive and rise are those of the capture with the greatest current that switches the core, the
 * second drive the one farthest from it, the disturb test that of the hardest train.
 * @param greatest V, sense voltage of all captures
 */
export function testShown(
  before: CoreTest,
  captures: readonly CoreCapture[],
  fit: TraceFit,
  greatest: number,
): CoreTest {
  const misses = fit.captures.map(({ rms }) => rms / greatest);
  const tops = captures.map(topOf);
  const undisturbed = tops.filter((_, i) => captures[i]!.train === undefined);
  const full = Math.max(...(undisturbed.length > 0 ? undisturbed : tops));
  const at = tops.indexOf(full);
  const [far] = [...undisturbed].sort((a, b) => a - b);
  const trains = captures.flatMap(({ train }) => (train ? [train] : []));
  const [hardest] = [...trains].sort((a, b) => Math.abs(b.drive) - Math.abs(a.drive));
  const tolerance = Math.min(
    0.5,
    Math.max(
      LEAST_TOLERANCE,
      ...misses,
      ...captures.map((capture, i) => peakMissed(capture, fit.captures[i]!.model)),
    ),
  );
  const { secondDrive: _, disturbTolerance: __, ...kept } = before;
  return {
    ...kept,
    fullDrive: full,
    rise: riseOf(captures[at]!, full),
    tolerance,
    ...(far !== undefined && far < (1 - APART) * full ? { secondDrive: far } : {}),
    ...(hardest
      ? {
          disturbRatio: Math.min(0.8, Math.max(0.3, Math.abs(hardest.drive) / full)),
          disturbs: hardest.pulses,
          disturbWidth: hardest.width,
          disturbTolerance: tolerance,
        }
      : { disturbRatio: HARMLESS }),
  };
}

/** By how much of itself the model's peak misses that of an undisturbed capture, over all its spans. */
function peakMissed({ drive, sense, spans, train }: CoreCapture, model: Float64Array): number {
  if (train) return 0;
  const peakOf = (trace: Float64Array): number =>
    trace.reduce((most, v, k) => {
      const t = drive.start + (k + 0.5) * drive.step;
      return spans.some(([from, to]) => t >= from && t < to) ? Math.max(most, Math.abs(v)) : most;
    }, 0);
  const peak = peakOf(sense);
  return Math.abs(peakOf(model) - peak) / peak;
}

/** A: middle of the current over the spans. */
export function topOf({ drive, spans }: CoreCapture): number {
  const values = [...drive.current]
    .filter((_, k) =>
      spans.some(([from, to]) => drive.start + k * drive.step >= from && drive.start + k * drive.step < to),
    )
    .map(Math.abs)
    .sort((a, b) => a - b);
  return values[values.length >> 1] ?? 0;
}

/** s: 0 to 100 % of the linear edge that passes 10 and 90 % of the top as this one does. */
export function riseOf({ drive: { current, step } }: CoreCapture, top: number): number {
  const high = current.findIndex((i) => Math.abs(i) >= 0.9 * top);
  let low = high;
  while (low > 0 && Math.abs(current[low]!) > 0.1 * top) low--;
  return Math.max(step, ((high - low) * step) / 0.8);
}
