import { Matrix } from 'ml-matrix';
import { checkDesign } from '../check/check-design.ts';
import { applyPatches } from '../base/json-patch.ts';
import type { Design } from '../design/design.ts';
import { observedTrace, type Observed } from '../fitting/compare.ts';
import type { Simulate } from '../fitting/bench-runs.ts';
import { SEARCHED } from '../strobe/case-runs.ts';
import type { Direction } from './direction.ts';
import type { Knowledge } from './knowledge.ts';
import { shortTogether, type Shortcoming } from './shortcoming.ts';
import { slopesOf } from './slopes.ts';

/** Something seen that depends on the directions: slopes, and the covariance of what it is off by. */
export interface Shown {
  readonly slopes: Matrix;
  readonly errors: Matrix;
}

/** A capture at chosen instants, V. */
export interface ShownCapture extends Shown {
  /** What the design gives there, and what it would with directions moved; undefined where it gives nothing. */
  readonly base: readonly number[];
  look(move: (design: Design) => Design): readonly number[] | undefined;
}

/** Where a capture is looked at. */
export interface Look {
  readonly observed: Observed;
  /** s from the start of read. */
  readonly from: number;
  readonly until: number;
  /** V of a sample, and samples in all. */
  readonly noise: number;
  readonly samples: number;
}

/** Instants at which a capture counts: neighbours nearer than this tell the same. */
const INSTANTS = 24;
/** s, V over the peak: by how much a capture may lie late and off zero, which its line-up takes away. */
const LATE = 5e-9;
const OFF_ZERO = 0.2;

/** What a capture of this design shows; undefined where the design gives none. */
export function shownBy(
  design: Design,
  directions: readonly Direction[],
  look: Look,
  short: Shortcoming,
  { simulate, onRun }: { readonly simulate: Simulate; readonly onRun?: () => void },
): ShownCapture | undefined {
  const until = Math.min(look.until, design.cycle.period);
  const trace = (of: Design): Float64Array | undefined => {
    const run = simulate(of, {
      contributions: false,
      estimateError: false,
      balance: false,
      until,
      finer: SEARCHED,
    });
    return run.outcome.kind === 'done' ? observedTrace(run, look.observed).value : undefined;
  };
  const base = trace(design);
  if (base === undefined) return undefined;
  const step = design.numerics.output;
  const first = Math.max(0, Math.ceil(look.from / step));
  const last = base.length - 1;
  const count = Math.min(INSTANTS, last - first + 1);
  const at = Array.from({ length: count }, (_, k) =>
    Math.round(first + ((last - first) * (k + 0.5)) / count),
  );
  const slopes = slopesOf(design, directions, base, (of) => {
    const found = trace(of);
    onRun?.();
    return found;
  });
  const errors = shortTogether(base, step, at, short);
  const peak = base.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
  const noise = look.noise / Math.sqrt(Math.max(1, look.samples / count));
  at.forEach((i, row) =>
    at.forEach((k, column) => {
      const slopeAt = (n: number): number =>
        (base[Math.min(n + 1, last)]! - base[Math.max(0, n - 1)]!) / (2 * step);
      const lined = LATE ** 2 * slopeAt(i) * slopeAt(k) + (OFF_ZERO * peak) ** 2;
      const own = row === column ? noise ** 2 + (1e-3 * peak) ** 2 : 0;
      errors.set(row, column, errors.get(row, column) + lined + own);
    }),
  );
  return {
    slopes: new Matrix(at.map((i) => slopes.map((of) => of[i]!))),
    errors,
    base: at.map((i) => base[i]!),
    look: (move) => {
      const moved = trace(move(design));
      return moved && at.map((i) => moved[i]!);
    },
  };
}

/** The conditions under which everything so far was measured. */
export const measuredDesigns = ({ design, captures }: Knowledge): Design[] =>
  captures.map(({ changes }) => checkDesign(applyPatches(design, changes)));

/** Several things seen together, each with errors of its own. */
export function together(all: readonly Shown[], width: number): Shown {
  const rows = all.reduce((sum, { slopes }) => sum + slopes.rows, 0);
  const slopes = Matrix.zeros(rows, width);
  const errors = Matrix.zeros(rows, rows);
  let at = 0;
  for (const each of all) {
    slopes.setSubMatrix(each.slopes, at, 0);
    errors.setSubMatrix(each.errors, at, at);
    at += each.slopes.rows;
  }
  return { slopes, errors };
}
