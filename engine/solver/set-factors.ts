import { ROLES, type CoreClasses } from '../network/core-classes.ts';
import { IDLE, WIDTH, type CoreState, type DriveFactors } from './core-state.ts';
import { placeRun } from './idle-group.ts';

/**
 * Sets which currents the classes see, and lays those of one role and section side by side; at the start of every cycle.
 * @param stride entries of a role in SectionSums
 */
export function setFactors(
  classes: CoreClasses,
  state: CoreState,
  factors: DriveFactors,
  stride: number,
): void {
  const { runs, order, idleFrom, idle } = state;
  layRuns(classes, state, factors, stride);
  for (let run = 0; run < state.runCount; run++) {
    idleFrom[run] = placeRun(classes, factors, order, runs[run]!, runs[run + 1]!);
    idle[run * IDLE] = -1;
  }
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

/** Sorts the classes by their entry in SectionSums, in their own order within one. */
function layRuns(
  { size, section }: CoreClasses,
  state: CoreState,
  { role }: DriveFactors,
  stride: number,
): void {
  const { runs, slots, sectionOf, order } = state;
  const slotOf = (c: number): number => role[c]! * stride + section[c]!;
  const starts = new Int32Array(ROLES * stride + 1);
  for (let c = 0; c < size; c++) starts[slotOf(c) + 1]!++;
  let run = 0;
  for (let slot = 0; slot < ROLES * stride; slot++) {
    if (starts[slot + 1]! > 0) {
      slots[run] = slot;
      sectionOf[run] = slot % stride;
      runs[run++] = starts[slot]!;
    }
    starts[slot + 1]! += starts[slot]!;
  }
  runs[run] = size;
  state.runCount = run;
  for (let c = 0; c < size; c++) order[starts[slotOf(c)]!++] = c;
}
