import type { CoreClasses } from '../network/core-classes.ts';
import { IDLE, WIDTH, type ClassRuns, type CoreState, type DriveFactors } from './core-state.ts';
import { placeRun } from './idle-group.ts';

/**
 * Sets which currents the classes see, and in which role; at the start of every cycle.
 * @param role SELECTED, HALF_SELECTED or UNSELECTED in that cycle, by class
 */
export function setFactors(
  classes: CoreClasses,
  state: CoreState,
  factors: DriveFactors,
  role: Uint8Array,
): void {
  const { order } = state;
  order.forEach((_, c) => (order[c] = c));
  order.sort((a, b) => role[a]! - role[b]! || classes.section[a]! - classes.section[b]! || a - b);
  const runs = groupRuns(classes, order, role);
  state.runs = runs;
  for (let run = 0; run < runs.role.length; run++)
    runs.idleFrom[run] = placeRun(classes, factors, order, runs.from[run]!, runs.from[run + 1]!);
  for (let j = 0; j < classes.size; j++) {
    const c = order[j]!;
    state.constants.set(
      [
        factors.x[c]!,
        factors.y[c]!,
        factors.inhibit[c]!,
        classes.polarity[c]!,
        classes.bias[c]!,
        classes.elasticA[c]!,
        classes.elasticB[c]!,
        classes.bend[c]!,
        classes.count[c]!,
      ],
      j * WIDTH,
    );
  }
}

function groupRuns({ size, section }: CoreClasses, order: Int32Array, role: Uint8Array): ClassRuns {
  const from: number[] = [];
  for (let j = 0; j < size; j++) {
    const [c, before] = [order[j]!, order[j - 1]];
    if (before === undefined || role[c] !== role[before] || section[c] !== section[before]) from.push(j);
  }
  return {
    from: Int32Array.from([...from, size]),
    role: Uint8Array.from(from, (j) => role[order[j]!]!),
    section: Int32Array.from(from, (j) => section[order[j]!]!),
    idleFrom: new Int32Array(from.length),
    idle: new Float64Array(from.length * IDLE).fill(-1),
  };
}
