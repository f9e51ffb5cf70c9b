import type { DriveActivity } from '../drive/programme.ts';

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
  /**
   * Fronts that a slope jump sends along the wire: s, longest step while they run along it for the first time, which
   * takes them `transit`, s; 1/s, rate at which reflections take their amplitude down afterwards. On a wire without loss
   * they never widen.
   */
  readonly front: number;
  readonly widens: boolean;
  /** s, longest step while sections ring behind a slope jump, and the age to which they are followed. */
  readonly ring: number;
  readonly ringsFor: number;
  readonly transit: number;
  readonly fade: number;
  /** s, greatest step. */
  readonly max: number;
  /** s, greatest step while a current moves, and while none is driven. */
  readonly edgeMax: number;
  readonly calmMax: number;
}

/** The rule for the steps that end with the slope jump at an instant, s from the start of the cycle. */
export type Pace = (to: number) => StepRule;

/**
 * Steps over [start, end]: every slope jump is an instant of the grid; after it steps grow from `first` to `max`.
 * @param activity what the drivers do between two instants
 * @param refine 1 as the rule says; n > 1 cuts every step in n equal parts; 0.5 joins steps in pairs.
 */
export function buildGrid(
  start: number,
  end: number,
  jumps: Float64Array,
  activity: (from: number, to: number) => DriveActivity,
  pace: Pace,
  refine: number,
): TimeGrid {
  const marks = [start, ...jumps.filter((t) => t > start + 1e-13 && t < end - 1e-13), end];
  const time = [start];
  const restart: number[] = [];
  const parts = Math.max(1, Math.round(refine));
  for (let m = 0; m + 1 < marks.length; m++) {
    const from = marks[m]!;
    const to = marks[m + 1]!;
    const rule = pace(to);
    const steps = gradedSteps(to - from, rule, rule[MAXIMUM[activity(from, to)]]);
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

/**
 * Steps of the cycles that only leave their cores' states behind: four times as long. What they leave then differs by
 * a ten-thousandth of a millivolt in the observed cycle, whose own error is a hundred times that.
 */
export function historyRule(rule: StepRule): StepRule {
  const { first, front, ring, max, edgeMax, calmMax } = rule;
  return {
    ...rule,
    first: HISTORY_STEP * first,
    front: HISTORY_STEP * front,
    ring: HISTORY_STEP * ring,
    max: (HISTORY_STEP / 2) * max,
    edgeMax: HISTORY_STEP * edgeMax,
    calmMax: HISTORY_STEP * calmMax,
  };
}

const HISTORY_STEP = 4;

/** How many steps more a slope jump costs at most. */
export const jumpSteps = (rule: StepRule, refine: number): number =>
  Math.ceil(refine) * (growingSteps(Infinity, rule, rule.calmMax).length + 4);

const MAXIMUM = { edge: 'edgeMax', hold: 'max', calm: 'calmMax' } as const;

/** An even number of steps that fill `length`, growing from first to max. */
function gradedSteps(length: number, rule: StepRule, max: number): number[] {
  const steps = growingSteps(length, rule, max);
  let sum = 0;
  for (const step of steps) sum += step;
  for (; sum < length || steps.length % 2 === 1; sum += max) steps.push(max);
  const scale = length / sum;
  return steps.map((s) => s * scale);
}

/** Steps after a slope jump until `max` is reached or `length` filled. */
function growingSteps(length: number, rule: StepRule, max: number): number[] {
  const steps: number[] = [];
  let age = 0;
  for (let step = Math.min(rule.first, max); step < max && age < length;) {
    steps.push(step);
    age += step;
    step = Math.min(step * rule.growth, frontStep(rule, age), max);
  }
  return steps;
}

/**
 * Longest step for fronts of an age, s. What a step h adds to the error of a front goes with its amplitude times h^2
 * over the square of its age (it widens with the root of its age), so the fewest steps for a given error are
 * h ~ age^(2/3). Once they have run the wire's length, reflections weaken them.
 */
export function frontStep(rule: StepRule, age: number): number {
  const { widens, transit, fade } = rule;
  const rings = age < rule.ringsFor;
  const held = rings ? rule.ring : rule.front;
  if (age <= transit) return held;
  const wider = widens ? Math.cbrt((age / transit) ** 2) : 1;
  return (
    held * wider * Math.exp((rings && rule.ring < rule.front ? RING_FADED : FADED) * fade * (age - transit))
  );
}

/** The error goes with h^2, so half of the decay could be spent; less is, as fronts of several jumps add. */
const FADED = 0.3;
/** What rings near a ladder's cut-off hardly runs, so that the ends take it down more slowly than fronts. */
const RING_FADED = 0.1;

/** What the greatest steps follow, besides the wish of the design. */
export interface StepScales {
  /** s, shortest edge. */
  readonly edge: number;
  /** Hz, fastest overshoot; 0 = none. */
  readonly ringing: number;
  /** s, one way along the wire. */
  readonly delay: number;
  /** 1/s, decay of the amplitude of what runs to and fro on the wire. */
  readonly fade: number;
  /** s, of the wire. */
  readonly lossTime: number;
  /** s, one way along a section whose ringing is followed; Infinity: none is. */
  readonly section: number;
  /** s, width of the selected core's output. */
  readonly output: number;
}

/** s: no front asks for shorter steps, but for sections that ring. */
const SHORTEST_FRONT = 0.1e-9;

/**
 * The default steps. After a slope jump fronts run along the wire and back; a front that has run a delay T along a
 * wire of loss time tau is about sqrt(tau T) wide, and steps stay well below that while it runs. Then they grow to a
 * greatest step that follows the fastest edge, ringing and output and never exceeds two nanoseconds.
 * @param wanted s, the design's own greatest step
 */
export function chooseSteps(scales: StepScales, wanted: number | undefined): StepRule {
  const { ringing, delay, fade, lossTime, section, output } = scales;
  const edge = Math.max(scales.edge, 1e-9);
  const max = wanted ?? Math.min(2e-9, edge / 8, output / 50, ringing > 0 ? 1 / (40 * ringing) : Infinity);
  const width = Math.sqrt(lossTime * delay) / frontSteps(delay);
  const ring = Math.max(ringStep(section, lossTime), width);
  return {
    first: Math.min(0.05e-9, ring / 2, edge / 80, max),
    growth: 1.12,
    front: Math.max(SHORTEST_FRONT, width),
    widens: lossTime > 0,
    ring,
    ringsFor: RINGS * Math.PI * section,
    transit: delay,
    fade,
    max,
    // What a core that starts within an edge sends out rings too.
    edgeMax: wanted ?? Math.min(max, edge / (ring < SHORTEST_FRONT ? 140 : 100)),
    calmMax: wanted ?? 8 * Math.min(max, 1e-9),
  };
}

/**
 * Steps to the width of a front. A long wire takes more: the drive's fronts on it are large beside a ONE that the
 * wire itself has weakened (measured: 20 at 12 ns and 32 at 50 ns keep the error under a thousandth of a ONE).
 */
const frontSteps = (delay: number): number => 20 * Math.min(1.6, Math.max(1, Math.sqrt(delay / 20e-9)));

/**
 * Longest step while sections ring, s. They do at their cut-off, with a period of pi times their delay. A loss time of a
 * tenth of a nanosecond takes that down within a period, and steps of as much will do; without loss it stays, and takes 25
 * steps a period: with fewer a library integrator found sections of 0.2 ns 4.7 to 12 mV wrong at the edges, and the flux of
 * shorter ones does not close. The shortest wires are not followed all the way.
 */
const ringStep = (section: number, lossTime: number): number =>
  Math.min(SHORTEST_FRONT, Math.max(3e-12, section / 8) + 0.75 * lossTime);

/** Periods for which it is followed. Where its ends keep it longer, its phase is lost in any case and its swing is told. */
const RINGS = 60;
