/** Drivers of a stack of `mats` planes: one set of X and Y for all, and one inhibit driver a plane. */
export const driversWithInhibit = (rows: number, columns: number, mats: number): number =>
  rows + columns + mats;

/** Without inhibit each plane needs X and Y drivers of its own. */
export const driversWithoutInhibit = (rows: number, columns: number, mats: number): number =>
  (rows + columns) * mats;

/** Parts that pick one of a set of lines and pulse it either way. */
export interface Selection {
  /** Switches that carry the drive current, read and write counted apart. */
  readonly switches: number;
  readonly diodes: number;
  readonly transformers: number;
}

/** Parts of X, Y and inhibit together, by how a line is picked. */
export interface DriverCounts {
  readonly direct: Selection;
  readonly diodeMatrix: Selection;
  readonly transformerMatrix: Selection;
}

/**
 * Common practice, no source; the sums are derived. A line picked directly has a switch for either direction. In a
 * matrix of a by b places (a b at least the lines) a line lies between one of a and one of b: both ends are switched
 * for either direction, and two diodes a line keep current out of the others. With a transformer a line, the middle of
 * its primary goes to one of a switches of one direction, and its ends through a diode each to one of b for reading
 * and one of b for writing. An inhibit driver is one switch a mat, in one direction.
 */
export function driverCounts(rows: number, columns: number, mats: number): DriverCounts {
  const lines = rows + columns;
  const both = (a: number, b: number): number => leastSwitches(rows, a, b) + leastSwitches(columns, a, b);
  return {
    direct: { switches: 2 * lines + mats, diodes: 0, transformers: 0 },
    diodeMatrix: { switches: both(2, 2) + mats, diodes: 2 * lines, transformers: 0 },
    transformerMatrix: { switches: both(1, 2) + mats, diodes: 2 * lines, transformers: lines },
  };
}

/** Least sum of switches over a by b with a b >= lines, so many for each of a and of b. */
function leastSwitches(lines: number, forA: number, forB: number): number {
  let least = Infinity;
  for (let b = 1; b <= lines; b++) least = Math.min(least, forA * Math.ceil(lines / b) + forB * b);
  return least;
}
