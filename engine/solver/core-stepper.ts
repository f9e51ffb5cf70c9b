import type { CoreClasses } from '../network/core-classes.ts';
import type { CoreState } from './core-state.ts';
import type { CoreStep } from './core-step.ts';
import { holdIdle } from './idle-group.ts';
import { moveClasses } from './move-classes.ts';
import type { SectionSums } from './section-sums.ts';
import { sumCores } from './sum-cores.ts';

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
