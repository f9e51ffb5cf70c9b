import type { CoreClasses } from '../network/core-classes.ts';
import type { Sections } from '../network/sections.ts';
import type { LineModel } from './drive-line.ts';

/**
 * The current of a step is extrapolated before cores are moved by it. Through two steps of history and the memory of a
 * trapezoidal step an error comes back three times two as large, so that a loop in which what a switching core gives back
 * (at most rho, ohm) is over a sixth of what resists it drives itself. With as much to spare again.
 */
const TIGHT = 12;

/** s: inductance resists as what its ferrite's loss, or a step in a hold, makes of it. */
const LONGEST_STEP = 2e-9;

/** Does a drive line whose current is solved for, or the sense wire with its ends, resist its own current so little? */
export function closesTightLoop(
  sections: Sections,
  classes: CoreClasses,
  lines: readonly LineModel[],
): boolean {
  const slow = Math.max(sections.lossTime, LONGEST_STEP);
  const total = (values: Float64Array): number => values.reduce((sum, value) => sum + value, 0);
  const { conductance, count, resistance, inductance } = sections;
  const wire = 1 / conductance[0]! + 1 / conductance[count]! + total(resistance) + total(inductance) / slow;
  const most = classes.rho.reduce((rho, value) => Math.max(rho, value), 0);
  if (wire < TIGHT * most) return true;
  // A core on both lines hears either's current in the other; those of all mats are in series.
  const switching = 2 * most * switchingAtOnce(classes);
  return lines.some(({ sourceResistance, compliance, resistance: own, inductance: L }) => {
    if (sourceResistance === undefined && compliance === Infinity) return false;
    return (sourceResistance ?? 0) + own + L / slow < TIGHT * switching;
  });
}

/** Cores on both driven lines, of all mats. */
function switchingAtOnce({ size, count, row, column }: CoreClasses): number {
  let sum = 0;
  for (let c = 0; c < size; c++) if (row[c]! >= 0 && column[c]! >= 0) sum += count[c]!;
  return sum;
}
