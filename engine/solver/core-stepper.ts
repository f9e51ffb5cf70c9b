import type { CoreClasses } from '../network/core-classes.ts';
import type { CoreState } from './core-state.ts';
import { holdIdle } from './idle-group.ts';
import { moveClasses } from './move-core.ts';
import type { LineCurrents, SectionSums } from './section-sums.ts';
import { sumCores } from './sum-cores.ts';

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

/**
 * Moves the inelastic flux of every class through one step and sums fluxes and slopes at its end (see SectionSums).
 *
 *     phi: the exact step of the 1965 bell at the drive of mid-step (move-core.ts, move-rings.ts); psi likewise
 *     lambda = phi + psi + a F - b (phi/phi_r) g(F),   g = sqrt(F^2 + F_e^2) - F_e         (core/model.ts)
 *     slope  = gain (a - b (phi/phi_r) F / sqrt(F^2 + F_e^2))
 *
 * with F = a_x i_x + a_y i_y + a_h i_h + s i + bias: at mid-step for phi and psi, lagged at the end for lambda. These loops
 * over runs are the hottest of the engine: constants lie side by side, sums are kept in locals, and no number is handed to a
 * function by itself, which would cost a place on the heap.
 */
export function advanceCores(
  classes: CoreClasses,
  state: CoreState,
  step: CoreStep,
  sums: SectionSums,
): void {
  holdIdle(state, step);
  if (step.h > 0) moveClasses(classes, state, step);
  sumCores(state, step, sums);
}
