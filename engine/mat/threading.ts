/**
 * A mat as it lies on the table: rows go down, columns to the right. Which way each core leans, which way current
 * flows in each line when it writes, and which way the sense wire passes each core, from its end A to its end B.
 */
export interface Threading {
  /** A text a row, a letter a column: `/` or `\\`, the core's plane seen from above. */
  readonly lean: readonly string[];
  /** +1: the write current of the row flows to the right; -1: to the left. */
  readonly x: readonly number[];
  /** +1: that of the column flows down; -1: up. */
  readonly y: readonly number[];
  /** A text a row, a letter a column: `>`, `<`, `v` or `^`. */
  readonly wire: readonly string[];
}

/** A core of which X and Y oppose each other, so that they never select it. */
export interface OpposedCore {
  readonly row: number;
  readonly column: number;
}

/**
 * s_z of every core from its threading (derived). A core's axis is square to its plane, and a wire counts by the side
 * from which it comes: with `/` right and down come from the same side, with `\\` right and up. What X and Y do
 * together is the write direction (s_x = s_y = +1), and the sense wire is counted against that.
 */
export function polarityOfThreading({ lean, x, y, wire }: Threading): {
  readonly polarity: readonly (readonly number[])[];
  readonly opposed: OpposedCore | undefined;
} {
  let opposed: OpposedCore | undefined;
  const polarity = lean.map((letters, row) =>
    Array.from(letters, (letter, column) => {
      const down = letter === '/' ? 1 : -1;
      const write = x[row]!;
      if (down * y[column]! !== write) opposed ??= { row, column };
      const side = { '>': 1, '<': -1, v: down, '^': -down }[wire[row]![column]!] ?? 1;
      return side * write;
    }),
  );
  return { polarity, opposed };
}

/** The part of a threading that has not one letter for each core or one number for each line; undefined: none. */
export function misshapen({ lean, x, y, wire }: Threading): keyof Threading | undefined {
  const columns = y.length;
  if (lean.length !== x.length || lean.some((row) => row.length !== columns)) return 'lean';
  return wire.length !== x.length || wire.some((row) => row.length !== columns) ? 'wire' : undefined;
}
