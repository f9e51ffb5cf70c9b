import { copyFlux } from '../core/flux-of-cores.ts';
import { softplus } from '../core/model.ts';
import type { CoreClasses } from '../network/core-classes.ts';

/**
 * Inelastic state of every class, what is known of it (so that cores that cannot move cost next to nothing), and the
 * constants of the time loop side by side in one array: the loop is bound by memory, not by arithmetic.
 */
export interface CoreState {
  /** Wb; `rings` side by side for each class, empty where cores switch as one. */
  readonly phi: Float64Array;
  readonly psi: Float64Array;
  readonly rings: Float64Array;
  /** A: at drives between these two the class is known not to move from its present phi. */
  readonly stillBelow: Float64Array;
  readonly stillAbove: Float64Array;
  /** A: below this drive of either sign the class moves slower than STILL_EMF, whatever its state. */
  readonly quiet: Float64Array;
  /**
   * WIDTH numbers a class, in the order of `order`: factors of X, Y, separate inhibit and wire; bias; elastic a and
   * b/phi_r; F_e; count.
   */
  readonly constants: Float64Array;
  /** ln(1 + exp(-F_0/s)) of every class. */
  readonly restingTail: Float64Array;
  /** Runs of classes that share role and section: first class of each run, and one past the last. */
  readonly runs: Int32Array;
  /** Classes run by run; in each run those on a driven line, biased or odd come first. */
  readonly order: Int32Array;
  /** Place in `order` at which the rest of each run starts: its idle group, which answers as one while it stands still. */
  readonly idleFrom: Int32Array;
  /** IDLE numbers a run (see sumIdle); the first is the wire current up to which they hold, -1 when out of date. */
  readonly idle: Float64Array;
  /** A, magnitude of drive at which the `powers` of a class of rings hold; NaN: none yet. */
  readonly anchor: Float64Array;
  /** exp((F_c - F_k)/w) and exp((F_k - F_0)/s) of each ring of each class at its anchor. */
  readonly powers: Float64Array;
}

/** Numbers a class in `constants`, and a run in `idle`. */
export const WIDTH = 9;
export const IDLE = 8;

/** V per turn: a core that would induce less than this is taken to stand still. */
const STILL_EMF = 1e-8;

/** Which currents a class sees in the present cycle: factors of X, Y and of the separate inhibit wire. */
export interface DriveFactors {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly inhibit: Float64Array;
}

export function makeCoreState(classes: CoreClasses): CoreState {
  const { size, role, section } = classes;
  const starts: number[] = [];
  for (let c = 0; c < size; c++)
    if (c === 0 || role[c] !== role[c - 1] || section[c] !== section[c - 1]) starts.push(c);
  // Far below threshold v_p is less than rho s exp((F - F_0)/s); the innermost ring is the softest.
  const softest = 1 / classes.nearness[0]!;
  const quiet = Float64Array.from(classes.threshold, (f, c) => {
    const s = classes.softWidth[c]!;
    return softest * Math.max(0, f + s * Math.log(STILL_EMF / (classes.rho[c]! * s)));
  });
  return {
    rings: new Float64Array(0),
    ...copyFlux(classes.initial),
    stillBelow: quiet.slice(),
    stillAbove: quiet.map((f) => -f),
    quiet,
    constants: new Float64Array(size * WIDTH),
    restingTail: Float64Array.from(classes.threshold, (f, c) => softplus(-f / classes.softWidth[c]!)),
    runs: Int32Array.from([...starts, size]),
    order: Int32Array.from({ length: size }, (_, c) => c),
    idleFrom: new Int32Array(starts.length),
    idle: new Float64Array(starts.length * IDLE),
    anchor: new Float64Array(size).fill(NaN),
    powers: new Float64Array(2 * size * classes.nearness.length),
  };
}
