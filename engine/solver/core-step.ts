import type { LineCurrents } from './section-sums.ts';

/** What moves the cores in one step. */
export interface CoreStep {
  /** s; 0: nothing moves, only the sums are taken. */
  h: number;
  /** Currents at mid-step, A: of the lines, and of the wire in each section. They move the inelastic parts. */
  readonly mid: LineCurrents;
  readonly midWire: Float64Array;
  /** Currents at the end of the step with the ferrite's lag, A, to which the elastic part answers. */
  readonly end: LineCurrents;
  readonly endWire: Float64Array;
  /** Change of a lagged current per change of the current in this step (1 without lag). */
  gain: number;
}
