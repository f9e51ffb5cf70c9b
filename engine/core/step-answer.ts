import {
  bellEmf,
  bellSpan,
  halfWidth,
  peakTime,
  ringBells,
  switchingTime,
  type Bell,
} from './closed-forms.ts';
import type { CoreParameters } from '../design/core.ts';

/** What is read off an EMF; times in s. */
export interface EmfReading {
  /** V. */
  readonly peak: number;
  readonly peakTime: number;
  /** To a tenth of the peak on the fall. */
  readonly switchingTime: number;
}

/** What a bench would read off the answer of a core to a step of drive; times from the step. */
export interface StepAnswer extends EmfReading {
  /** Full width at half the peak. */
  readonly halfWidth: number;
}

/** Steps in which the instants between the first and the last ring's peak are looked through. */
const LOOKS = 64;

/** The answer of a core at rest to a step of `drive`, or undefined where the drive does not switch all of it. */
export function stepAnswerAt(p: CoreParameters, drive: number): StepAnswer | undefined {
  const bells = ringBells(p, drive);
  const switches =
    drive > p.dynamicThreshold * (1 + p.ringSpread) &&
    bells.every((bell) => bell.phiD > 0 && bellSpan(bell) > 0 && peakTime(bell) > 0);
  return switches ? stepAnswer(bells) : undefined;
}

/** From the bells of its rings: closed forms for one, by search for more. */
function stepAnswer(bells: readonly Bell[]): StepAnswer {
  if (bells.length === 1) {
    const [bell] = bells;
    return {
      peak: bell.vP,
      peakTime: peakTime(bell),
      switchingTime: switchingTime(bell),
      halfWidth: halfWidth(bell),
    };
  }
  const emf = (t: number): number => bells.reduce((sum, bell) => sum + bellEmf(bell, t), 0) / bells.length;
  // Before the first peak every bell rises, after the last every one falls.
  const peaks = bells.map(peakTime);
  const widest = Math.max(...bells.map(halfWidth));
  const first = Math.min(...peaks);
  const read = readEmf(emf, first, Math.max(...peaks), 4 * widest);
  const half = (outside: number): number => crossing(emf, read.peak / 2, read.peakTime, outside);
  return { ...read, halfWidth: half(Math.max(...peaks) + 4 * widest) - half(first - 4 * widest) };
}

/**
 * Reads an EMF (V, of a time in s) off its closed form.
 * @param from, to s: before and after these it only rises and only falls, or it starts at `from`
 * @param reach s: so far outside it has fallen under a tenth of its peak
 */
export function readEmf(emf: (t: number) => number, from: number, to: number, reach: number): EmfReading {
  const step = (to - from) / LOOKS;
  let at = from;
  for (let k = 1; k <= LOOKS; k++) if (emf(from + k * step) > emf(at)) at = from + k * step;
  at = highest(emf, Math.max(from, at - step), Math.min(to, at + step));
  const peak = emf(at);
  return { peak, peakTime: at, switchingTime: crossing(emf, 0.1 * peak, at, to + reach) };
}

/** Where a function with one maximum in between has it, by thirds. */
function highest(f: (t: number) => number, from: number, to: number): number {
  let [low, high] = [from, to];
  for (let i = 0; i < 40; i++) {
    const third = (high - low) / 3;
    if (f(low + third) < f(high - third)) low += third;
    else high -= third;
  }
  return (low + high) / 2;
}

/** Where a function passes a level between a place above it and one below, by halves. */
function crossing(f: (t: number) => number, level: number, above: number, below: number): number {
  let [over, under] = [above, below];
  for (let i = 0; i < 45; i++) {
    const middle = (over + under) / 2;
    if (f(middle) > level) over = middle;
    else under = middle;
  }
  return (over + under) / 2;
}
