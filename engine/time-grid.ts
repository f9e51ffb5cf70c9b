/** Instants at which the solution is computed. */
export interface TimeGrid {
  /** s, increasing; the first is the start of the span. */
  readonly time: Float64Array;
  /** 1 where the step that starts at this instant begins after a slope jump. */
  readonly restart: Uint8Array;
}

export interface StepRule {
  /** s, first step after a slope jump. */
  readonly first: number;
  /** Ratio of neighbouring steps while they grow. */
  readonly growth: number;
  /** s, greatest step. */
  readonly max: number;
}

/**
 * Steps over [start, end]: every slope jump is an instant of the grid; after it steps grow from `first` to `max`.
 * @param refine 1 as the rule says; n > 1 cuts every step in n equal parts; 0.5 joins steps in pairs.
 */
export function buildGrid(
  start: number,
  end: number,
  jumps: Float64Array,
  rule: StepRule,
  refine: number,
): TimeGrid {
  const marks = [start, ...jumps.filter((t) => t > start + 1e-13 && t < end - 1e-13), end];
  const time = [start];
  const restart: number[] = [];
  const parts = Math.max(1, Math.round(refine));
  for (let m = 0; m + 1 < marks.length; m++) {
    const from = marks[m]!;
    const steps = gradedSteps(marks[m + 1]! - from, rule);
    const firstOfSegment = time.length - 1;
    if (refine < 1)
      for (let i = 0; i + 1 < steps.length; i += 2) time.push(time.at(-1)! + steps[i]! + steps[i + 1]!);
    else
      for (const step of steps) {
        const base = time.at(-1)!;
        for (let i = 1; i <= parts; i++) time.push(base + (step * i) / parts);
      }
    time[time.length - 1] = marks[m + 1]!;
    while (restart.length < time.length - 1) restart.push(0);
    restart[firstOfSegment] = 1;
  }
  restart.push(0);
  return { time: Float64Array.from(time), restart: Uint8Array.from(restart) };
}

/** An even number of steps that fill `length`, growing from first to max. */
function gradedSteps(length: number, rule: StepRule): number[] {
  const steps: number[] = [];
  let sum = 0;
  for (
    let step = rule.first;
    sum < length || steps.length % 2 === 1;
    step = Math.min(step * rule.growth, rule.max)
  ) {
    steps.push(step);
    sum += step;
  }
  const scale = length / sum;
  return steps.map((s) => s * scale);
}

/**
 * The default steps. After a slope jump the network's own transients pass, so steps start far below them and grow;
 * the greatest step follows the fastest edge and ringing, and never exceeds a nanosecond.
 * @param fastest s, shortest edge; @param ringing Hz, fastest overshoot (0 = none); @param wanted s, the design's own
 */
export function chooseSteps(fastest: number, ringing: number, wanted: number | undefined): StepRule {
  const edge = Math.max(fastest, 1e-9);
  const max = wanted ?? Math.min(1e-9, edge / 8, ringing > 0 ? 1 / (40 * ringing) : Infinity);
  return { first: Math.min(0.05e-9, edge / 40, max), growth: 1.25, max };
}
