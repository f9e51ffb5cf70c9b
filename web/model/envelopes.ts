import { valueAt } from '../../engine/sense-amplifier/detector.ts';
import type { StrobeEnsemble } from '../../engine/strobe/ensemble-result.ts';
import type { Run } from './run.ts';
import type { StrobeState } from './strobe-state.ts';

/** Least ONE and greatest ZERO as the latch sees them over a set that is wider than the nominal cases, V. */
export interface WideEnvelope {
  readonly time: Float64Array;
  readonly one: Float64Array;
  readonly zero: Float64Array;
}

/** Over all cases at all corners; undefined while they are being run. */
export const cornerEnvelope = ({ corners }: StrobeState): WideEnvelope | undefined => corners?.envelope;

/** s: how far the worst cases of a run were followed; 0 while there are none. */
export const judgedUntil = ({ ensemble }: Run): number => ensemble?.envelope.time.at(-1) ?? 0;

const known = new WeakMap<object, Map<boolean, WideEnvelope>>();

/**
 * Over the corners of all cores that were drawn from what is not known of the design's. Where the strobe is found anew
 * for each core, each core's signal stands as it does about its own strobe.
 */
export function coreEnvelope(
  { core, envelope, uncertainties }: StrobeEnsemble,
  found: boolean,
): WideEnvelope | undefined {
  if (!core || core.draws.length === 0) return undefined;
  const of = known.get(core) ?? new Map<boolean, WideEnvelope>();
  known.set(core, of);
  const made = of.get(found);
  if (made) return made;
  const { time } = envelope;
  const one = new Float64Array(time.length).fill(Infinity);
  const zero = new Float64Array(time.length).fill(-Infinity);
  for (const draw of core.draws) {
    const shift = (found ? draw.later : 0) - uncertainties.delay;
    time.forEach((t, i) => {
      one[i] = Math.min(one[i]!, valueAt(time, draw.one, t + shift));
      zero[i] = Math.max(zero[i]!, valueAt(time, draw.zero, t + shift));
    });
  }
  const fresh = { time, one, zero };
  of.set(found, fresh);
  return fresh;
}
