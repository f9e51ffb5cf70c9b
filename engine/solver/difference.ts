/**
 * The scheme of a step, stated here for the whole time loop.
 *
 * States are linkages and charges, not currents and voltages, so that flux closes in the discrete sense: all equations
 * hold at the end of the step with the difference D in place of d/dt,
 *
 *     D[y] = a0 y1 + a1 y0 + a2 m,    1/s      y1, y0: a state at the end and the start of the step; m: its memory
 *
 * - After a slope jump: one-step backward, a2 = 0.
 * - Trapezoidal: (y1 - y0)/h is the mean of the rates at both ends, m = D[y] of the step before. A third of the error
 *   of the two-step backward formula, but what is stiff it only turns over and never damps.
 * - Two-step backward of variable step: m = y-1. It damps what is stiff; one step in DAMPING_INTERVAL and the second
 *   after a slope jump are of this kind.
 *
 * Cores do not follow D: they take the exact step of their equation at the drive of mid-step, which is second order too
 * (core-stepper.ts), at currents extrapolated from the steps before. Their elastic flux is linearised about the
 * extrapolated current and solved with the wire; what that leaves out enters the next step. The formulas are those of any
 * textbook on ordinary differential equations; that they are of second order together is fitted in the tests.
 */
export interface Difference {
  a0: number;
  a1: number;
  a2: number;
  /** h over the step before; 0 after a slope jump. */
  w: number;
  h: number;
  /** Step before this one, s; 0 after a slope jump. */
  hOld: number;
  /** h over the two steps before together; 0 where there are fewer since the slope jump. */
  reach: number;
  /** Ferrite's lag, s, and its gain in this step: lag1 = gain (i1 - lossTime (a1 lag0 + a2 m)). */
  lossTime: number;
  gain: number;
  /** The next step is trapezoidal: it wants rates for its memory. */
  keepsRate: boolean;
}

export const DAMPING_INTERVAL = 4;

export const makeDifference = (lossTime: number): Difference => ({
  a0: 0,
  a1: 0,
  a2: 0,
  w: 0,
  h: 0,
  hOld: 0,
  reach: 0,
  lossTime,
  gain: 1,
  keepsRate: false,
});

/** Is the n-th step after a slope jump (from 0) trapezoidal? */
const isTrapezoidal = (n: number): boolean => n > 1 && n % DAMPING_INTERVAL !== 1;

/**
 * Sets the formula of a step h after a step hOld (0: after a slope jump).
 * @param n steps since the slope jump; @param jumpNext the step ends at one
 */
export function setDifference(d: Difference, h: number, hOld: number, n: number, jumpNext: boolean): void {
  const w = hOld === 0 ? 0 : h / hOld;
  const trapezoidal = isTrapezoidal(n);
  d.reach = n > 1 ? h / (hOld + d.hOld) : 0;
  d.hOld = hOld;
  d.w = w;
  d.h = h;
  d.a0 = trapezoidal ? 2 / h : (1 + 2 * w) / (1 + w) / h;
  d.a1 = trapezoidal ? -2 / h : -(1 + w) / h;
  d.a2 = trapezoidal ? -1 : (w * w) / (1 + w) / h;
  d.gain = 1 / (1 + d.lossTime * d.a0);
  d.keepsRate = !jumpNext && isTrapezoidal(n + 1);
}

/** What the next step must know of a state besides its value `next` at the end of this one. */
export const memory = (d: Difference, next: number, now: number, past: number): number =>
  d.keepsRate ? d.a0 * next + d.a1 * now + d.a2 * past : now;

/** D[y], per second. */
export const rate = (d: Difference, next: number, now: number, past: number): number =>
  d.a0 * next + d.a1 * now + d.a2 * past;

/** A current as the elastic flux sees it at the end of the step: lossTime D[lag] = current - lag. */
export const lagged = (d: Difference, next: number, lag: number, past: number): number =>
  d.gain * (next - d.lossTime * (d.a1 * lag + d.a2 * past));
