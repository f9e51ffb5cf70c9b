import {
  bellEmf,
  bellSpan,
  halfWidth,
  peakTime,
  ringBells,
  switchingTime,
  type Bell,
} from './closed-forms.ts';
import type { CoreParameters } from '../design/design.ts';

/** What a bench would read off the answer of a core to a step of drive; times in s, from the step. */
export interface StepAnswer {
  /** V. */
  readonly peak: number;
  readonly peakTime: number;
  /** To a tenth of the peak on the fall. */
  readonly switchingTime: number;
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
  const [from, to] = [Math.min(...peaks), Math.max(...peaks)];
  const step = (to - from) / LOOKS;
  let at = from;
  for (let k = 1; k <= LOOKS; k++) if (emf(from + k * step) > emf(at)) at = from + k * step;
  at = highest(emf, at - step, at + step);
  const peak = emf(at);
  const widest = Math.max(...bells.map(halfWidth));
  const falls = (level: number): number => crossing(emf, level * peak, at, to + 4 * widest);
  return {
    peak,
    peakTime: at,
    switchingTime: falls(0.1),
    halfWidth: falls(0.5) - crossing(emf, 0.5 * peak, at, from - 4 * widest),
  };
}

/** Where a function with one maximum in between has it, by thirds. */
function highest(f: (t: number) => number, from: number, to: number): number {
  let [low, high] = [from, to];
  for (let i = 0; i < 100; i++) {
    const third = (high - low) / 3;
    if (f(low + third) < f(high - third)) low += third;
    else high -= third;
  }
  return (low + high) / 2;
}

/** Where a function passes a level between a place above it and one below, by halves. */
function crossing(f: (t: number) => number, level: number, above: number, below: number): number {
  let [over, under] = [above, below];
  for (let i = 0; i < 60; i++) {
    const middle = (over + under) / 2;
    if (f(middle) > level) over = middle;
    else under = middle;
  }
  return (over + under) / 2;
}
