import type { Design } from '../design/design.ts';
import { ordinaryCore } from '../mat/ordinary-core.ts';
import { throughPole, type Trace } from './align/trace-tools.ts';
import { type BenchRuns } from './bench-runs.ts';
import { observedTrace, type Observed } from './compare.ts';
import type { HiddenUnknown } from './knowledge/beliefs.ts';
import { bellOf, departuresOf, type Bell } from './knowledge/discrepancy.ts';
import { rangeOf, withValues } from './unknowns.ts';

/** Relative standard deviation of a core's flux and thresholds about the others', where the design states less. */
export const LEAST_SPREAD = 0.05;
/** Relative step of a difference. */
const STEP = 0.02;

/** Relative standard deviation by which a core's speed departs, at any one drive, from the line that its model draws. */
const SPEED = 0.01;

/** Runs that the shapes of one capture take, at most. */
export const SHAPE_RUNS = 16;

/** Shapes of one capture: those that are added in proportion, and its bell. */
export interface CaptureShapes {
  readonly linear: ReadonlyMap<string, Trace>;
  readonly bell: Bell | undefined;
}

export const rangeCode = (name: string): string => `range:${name}`;

/**
 * What may be added to the prediction of one capture: how the model may depart, parameters that are not known and
 * not asked for, and how the selected core may differ from its neighbours. Each shape is for one standard deviation.
 */
export function shapesOf(
  design: Design,
  observed: Observed,
  until: number,
  hidden: readonly HiddenUnknown[],
  runs: BenchRuns,
): CaptureShapes {
  const run = runs.need(
    design,
    { field: '/design', what: 'The fitted values give no prediction' },
    { contributions: true, until },
  );
  const shapes = new Map<string, Trace>();
  for (const { code, shape } of departuresOf(run)) shapes.set(code, heard(design, observed, shape));
  const bell = bellOf(run, design);
  const now = observedTrace(run, observed);
  const change = (code: string, other: Design, factor: number): void => {
    const changed = runs.run(other, { until });
    if (changed === undefined) return;
    const { time, value } = observedTrace(changed, observed);
    const n = Math.min(value.length, now.value.length);
    shapes.set(code, {
      time: time.subarray(0, n),
      value: Float64Array.from({ length: n }, (_, i) => factor * (value[i] - now.value[i])),
    });
  };
  for (const { name, spread, exact } of hidden) {
    if (exact) continue;
    const start = rangeOf(design, name)?.start ?? 0;
    // Half a standard deviation: a wide range is not a small step.
    const step = Math.min(0.5 * spread, 0.2);
    change(rangeCode(name), withValues(design, [name], [start * Math.exp(step)]), spread / step);
  }
  const rate = design.core.parameters.switchingResistance;
  const drive = design.drive.x.readAmplitude + design.drive.y.readAmplitude;
  const faster = withValues(design, ['coreRate'], [rate * (1 + STEP)]);
  change(`speed:${Math.round(drive * 100)}`, faster, SPEED / STEP);
  const { row, column } = design.selected;
  if (design.mat.rows * design.mat.columns > 1) {
    const { coreFlux, coreThreshold } = design.tolerances;
    const at = `${row},${column}`;
    const own = (field: 'fluxFactor' | 'thresholdFactor'): Design => selectedBy(design, field, 1 + STEP);
    change(`flux:${at}`, own('fluxFactor'), Math.max(coreFlux, LEAST_SPREAD) / STEP);
    change(`threshold:${at}`, own('thresholdFactor'), Math.max(coreThreshold, LEAST_SPREAD) / STEP);
  }
  const heardBell = bell && { ...bell, value: heard(design, observed, bell).value };
  return { linear: shapes, bell: heardBell?.value.some((v) => v !== 0) === true ? heardBell : undefined };
}

/** The design with one factor of its selected core multiplied. */
export function selectedBy(design: Design, field: 'fluxFactor' | 'thresholdFactor', factor: number): Design {
  const { row, column } = design.selected;
  const own =
    design.exceptions.find((e) => e.row === row && e.column === column) ?? ordinaryCore(row, column);
  const others = design.exceptions.filter((e) => e !== own);
  return { ...design, exceptions: [...others, { ...own, [field]: own[field] * factor }] };
}

/** A shape on the sense wire as the observed point shows it; an amplifier is taken as its gain and first pole. */
function heard({ amplifier }: Design, observed: Observed, shape: Trace): Trace {
  if (observed === 'sense') return shape;
  const factor = amplifier.gain * amplifier.divider;
  return throughPole({ time: shape.time, value: shape.value.map((v) => factor * v) }, amplifier.bandwidth);
}
