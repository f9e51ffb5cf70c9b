import type { CoreClasses } from '../network/core-classes.ts';
import { IDLE, WIDTH, type CoreState, type DriveFactors } from './core-state.ts';
import { placeRun } from './idle-group.ts';

/** Sets which currents the classes see; at the start of every cycle. */
export function setFactors(classes: CoreClasses, state: CoreState, factors: DriveFactors): void {
  const { runs, order, idleFrom, idle } = state;
  for (let run = 0; run + 1 < runs.length; run++) {
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
