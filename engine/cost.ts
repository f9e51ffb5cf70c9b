import type { Design } from './design.ts';
import { chooseSections } from './network.ts';

/**
 * Predicted work of one run in class-steps (one class of cores or one section of the wire advanced by one step),
 * from the design alone and from above, so that a server can price a request before it queues it. A legal set of
 * fields can have an illegal product: a large mat times a long history times a short step.
 */
export function predictWork(design: Design): number {
  const { rows, columns } = design.mat;
  const cores = rows * columns;
  const sections = chooseSections(design, cores);
  const { x, y, inhibit } = design.drive;
  const edges = [x.rise, x.fall, y.rise, y.fall, inhibit.rise, inhibit.fall].filter((edge) => edge > 0);
  const step = design.numerics.step ?? Math.min(1e-9, Math.min(...edges) / 40);
  const steps = (design.programme.length * design.cycle.period) / Math.min(step, design.numerics.output);
  // At most every core its own class; alike ones share section, polarity, bit and whether a driven line passes.
  const lines = new Set(design.programme.map((cycle) => cycle.row)).size;
  const others = new Set(design.programme.map((cycle) => cycle.column)).size;
  const classes = Math.min(cores, sections * 4 * (1 + lines) * (1 + others));
  return Math.ceil(steps) * (classes + SUB_STEPS * sections);
}

/** Sub-steps of the wire's network in one step of the cores. */
const SUB_STEPS = 10;

/** Runs of a strobe window: ONE and ZERO with the pattern given, its complement and the worst of the winding. */
export const WINDOW_RUNS = 8;
