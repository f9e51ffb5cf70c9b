import { referToWire } from '../../engine/sense-amplifier/referred.ts';
import type { Design } from '../../engine/design/design.ts';
import { wirePath } from '../../engine/mat/winding.ts';
import type { Simulation } from '../../engine/solver/result.ts';
import { asLatchSees } from '../../engine/strobe/envelope.ts';
import type { Samples } from '../charts/decimate.ts';
import type { Run } from './run.ts';

/** The run's time axis under any of its arrays. */
export const samplesOf = (run: Run, values: ArrayLike<number>): Samples => samplesOn(run.one.time, values);

/** `time`: s, uniform. */
export function samplesOn(time: Float64Array, values: ArrayLike<number>): Samples {
  return { start: time[0] ?? 0, step: time.length > 1 ? time[1]! - time[0]! : 1e-9, values };
}

const seenCache = new WeakMap<Simulation, Float64Array>();

/** Amplifier output divided by divider times gain, one detector delay later: as the latch sees it, V. */
export function seenTrace(trace: Simulation): Float64Array {
  let seen = seenCache.get(trace);
  if (!seen) {
    const { amplifier, detector } = trace.design;
    seen = referToWire(amplifier, asLatchSees(trace.time, trace.amplifierOutput, detector.delay));
    seenCache.set(trace, seen);
  }
  return seen;
}

/** The same with its time axis. */
export const seenSamples = (trace: Simulation): Samples => samplesOn(trace.time, seenTrace(trace));

/** The four causes of the small panels, in the order in which they are added up. `short`: part of the title, where room is scarce. */
export const CAUSES = [
  { key: 'direct', title: 'Direct coupling', short: 'coupling', style: 'direct' },
  { key: 'half', title: 'Half-selected cores', short: 'half-selected', style: 'half' },
  { key: 'selected', title: 'Selected core', short: 'selected', style: 'selected' },
  { key: 'inhibit', title: 'Inhibit', short: 'inhibit', style: 'inhibit' },
] as const;
export type Cause = (typeof CAUSES)[number]['key'];

const causeCache = new WeakMap<object, Record<Cause, Float64Array>>();

/** Sense voltage by the four causes of the small panels; half-selected = reversible + irreversible. */
export function causesOf(run: Run, bit: 0 | 1): Record<Cause, Float64Array> {
  const { contributions, senseVoltage } = bit === 1 ? run.one : run.zero;
  const cached = causeCache.get(senseVoltage);
  if (cached) return cached;
  const parts = contributions!;
  const causes = {
    direct: parts.directCoupling,
    half: parts.halfSelectedReversible.map((value, i) => value + parts.halfSelectedIrreversible[i]!),
    selected: parts.selectedCore,
    inhibit: parts.inhibit,
  };
  causeCache.set(senseVoltage, causes);
  return causes;
}

const upCache = new WeakMap<object, Record<Cause, Float64Array>>();

/** The same, each added to those before it, so that the last is the total. */
export function builtUp(causes: Record<Cause, Float64Array>): Record<Cause, Float64Array> {
  const known = upCache.get(causes);
  if (known) return known;
  const direct = causes.direct;
  const half = direct.map((value, i) => value + causes.half[i]!);
  const selected = half.map((value, i) => value + causes.selected[i]!);
  const inhibit = selected.map((value, i) => value + causes.inhibit[i]!);
  const up = { direct, half, selected, inhibit };
  upCache.set(causes, up);
  return up;
}

const polarityCache = new WeakMap<Design, 1 | -1>();

/** How the selected core is threaded on the sense wire: with -1 its ONE is a negative voltage. */
export function selectedPolarity({ design }: Run): 1 | -1 {
  const known = polarityCache.get(design);
  if (known) return known;
  const { selected, mat } = design;
  const found = wirePath(design).polarity[selected.row * mat.columns + selected.column]! < 0 ? -1 : 1;
  polarityCache.set(design, found);
  return found;
}
