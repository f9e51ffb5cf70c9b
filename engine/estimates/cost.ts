import type { Design } from '../design/design.ts';
import { chooseSections } from '../network/sections.ts';
import { mayReachLimit } from '../drive/line-voltage.ts';
import { stepRule } from '../solver/prepare-run.ts';
import { jumpSteps } from '../solver/time-grid.ts';

/**
 * What a run will cost, from the design alone and from above, so that a server can price a request before it queues
 * it. A legal set of fields can have an illegal product: a large mat times a long history times a short step.
 */
export interface Price {
  /** Class-steps: one class of cores, or a tenth of a section of the wire, advanced by one step; all cycles. */
  readonly work: number;
  /** Instants kept in memory: the solver's own in the observed cycle, and the output samples. */
  readonly samples: number;
}

export function predictCost(design: Design): Price {
  const { rows, columns } = design.mat;
  const sections = chooseSections(design, rows * columns) + CABLE_SECTIONS * 2;
  const rule = stepRule(design, rows * columns);
  // A source that meets its limit makes kinks of its own, about one an edge.
  const limited = mayReachLimit(design, 'x') || mayReachLimit(design, 'y');
  const jumps = SLOPE_JUMPS * (limited ? 2 : 1);
  const steps = design.cycle.period / rule.max + jumps * jumpSteps(rule, 1);
  // At most every core its own class; alike ones share section, polarity, bit and the driven lines they lie on.
  const lines = new Set(design.programme.map((cycle) => cycle.row)).size;
  const others = new Set(design.programme.map((cycle) => cycle.column)).size;
  const classes = Math.min(rows * columns, sections * 4 * (1 + lines) * (1 + others));
  // Cycles of history take longer steps (historyRule): less than half as many.
  const cycles = Math.min(2, design.programme.length) + Math.max(0, design.programme.length - 2) / 2;
  // Two runs of two cycles more, where the cycles before are wanted (repetition.ts).
  const before = design.cycle.inhibitedShare === undefined || design.amplifier.highPass === 0 ? 0 : 4;
  return {
    work: Math.ceil(steps * (cycles + before) * (classes + SECTION_WORK * sections)),
    samples: Math.ceil(steps + design.cycle.period / design.numerics.output),
  };
}

/** Slope jumps of a cycle at most (tables apart). */
const SLOPE_JUMPS = 24;
/** A section of the wire costs about as much as so many classes of cores. */
const SECTION_WORK = 10;
/** Leads and cable at either end. */
const CABLE_SECTIONS = 20;

/**
 * Runs of one whole cycle that a strobe window is priced at: patterns and states, addresses, histories (two cycles each),
 * corners, faster rates, other cores and assumptions at both ends, all in longer steps at half the price; those that
 * decide again at full, and two that are split. In steps it came to 300 to 500 of them on most demo designs, and to more
 * where runs are made finer: no upper bound, which the time that a job may take is.
 */
export const WINDOW_RUNS = 800;

/** The same of an advice: every input tried outward, and the edge found between two trials. */
export const ADVICE_RUNS = 4000;
