import { filled } from '../numerics/filled.ts';
import { copyFlux } from '../core/flux-of-cores.ts';
import { softplus } from '../core/model.ts';
import { ROLES, type CoreClasses } from '../network/core-classes.ts';

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
  /**
   * Runs of classes that share section and, in the present cycle, role: how many, where each starts in `order` (and one
   * past the last), and its entry in SectionSums. See setFactors.
   */
  runCount: number;
  readonly runs: Int32Array;
  readonly slots: Int32Array;
  /** Section of each run. */
  readonly sectionOf: Int32Array;
  /** Classes run by run; in each run those on a driven line, biased or odd come first. */
  readonly order: Int32Array;
  /** Place in `order` at which the rest of each run starts: its idle group, which answers as one while it stands still. */
  readonly idleFrom: Int32Array;
  /** IDLE numbers a run (see sumIdle); the first is the wire current up to which they hold, -1 when out of date. */
  readonly idle: Float64Array;
  /** 1 where the idle group of a run stands still in the step under way. */
  readonly idleHolds: Uint8Array;
  /** Classes that their drive moves in the step under way, and those drives, A. */
  readonly moving: Int32Array;
  readonly drives: Float64Array;
  /** A, magnitude of drive at which the `powers` and `curves` of a class hold; NaN: none yet. */
  readonly anchor: Float64Array;
  /** Of a class that switches as one: how far its anchor reaches, and its curves about it (move-core.ts). */
  readonly curves: Float64Array;
  /** Of rings: exp((F_c - F_k)/w) and exp((F_k - F_0)/s) of each ring of each class at its anchor. */
  readonly powers: Float64Array;
}

/** Numbers a class in `curves`. */
export const CURVES = 9;
/** Numbers a class in `constants`, and a run in `idle`. */
export const WIDTH = 9;
export const IDLE = 8;

/** V per turn: a core that would induce less than this is taken to stand still. */
const STILL_EMF = 1e-8;

/** Which currents a class sees in one cycle: factors of X, Y and of the separate inhibit wire. */
export interface DriveFactors {
  /** SELECTED, HALF_SELECTED or UNSELECTED in that cycle: which cause the class's answer belongs to. */
  readonly role: Uint8Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly inhibit: Float64Array;
}

/** @param sections of the wire */
export function makeCoreState(classes: CoreClasses, sections: number): CoreState {
  const { size } = classes;
  const most = Math.min(size, ROLES * (sections + 1));
  // Far below threshold v_p is less than rho s exp((F - F_0)/s); the innermost ring is the softest.
  const softest = 1 / classes.nearness[0]!;
  const quiet = filled(size, (c) => {
    const s = classes.softWidth[c]!;
    return softest * Math.max(0, classes.threshold[c]! + s * Math.log(STILL_EMF / (classes.rho[c]! * s)));
  });
  return {
    rings: new Float64Array(0),
    ...copyFlux(classes.initial),
    stillBelow: quiet.slice(),
    stillAbove: quiet.map((f) => -f),
    quiet,
    constants: new Float64Array(size * WIDTH),
    restingTail: filled(size, (c) => softplus(-classes.threshold[c]! / classes.softWidth[c]!)),
    runCount: 0,
    runs: new Int32Array(most + 1),
    slots: new Int32Array(most),
    sectionOf: new Int32Array(most),
    order: new Int32Array(size),
    idleFrom: new Int32Array(most),
    idle: new Float64Array(most * IDLE),
    idleHolds: new Uint8Array(most),
    moving: new Int32Array(size),
    drives: new Float64Array(size),
    anchor: new Float64Array(size).fill(NaN),
    curves: new Float64Array(classes.nearness.length === 1 ? CURVES * size : 0),
    powers: new Float64Array(2 * size * classes.nearness.length),
  };
}
