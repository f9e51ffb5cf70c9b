import { advanceCore, restState, type CoreState } from '../../core/state.ts';
import type { CoreParameters, CoreProperty } from '../../design/core.ts';
import { coreUnderCurrent, type SampledCurrent } from './core-under-current.ts';

/** What may be wrong about a capture besides the core. */
export type Doubt = 'scale' | 'start' | 'gain';

/** One capture of one core: what drove it and what came out. */
export interface CoreCapture {
  readonly name: string;
  readonly drive: SampledCurrent;
  /** V, sense voltage as the mean over each step of the drive: between its samples. */
  readonly sense: Float64Array;
  /** Stored before the capture, and the train of half-selects (A, signed; s) that went over it after that. */
  readonly bit: 0 | 1;
  readonly train?: { readonly drive: number; readonly width: number; readonly pulses: number };
  /** s from, to: spans that are compared; the current's edges carry what is not of the core. */
  readonly spans: readonly (readonly [from: number, to: number])[];
  /** One standard deviation each: scale of the current, start of the current against the sense (s), gain of the sense. */
  readonly doubts?: Partial<Readonly<Record<Doubt, number>>>;
  /** Captures of one instrument and trigger share its doubts and its polarity; left out: this one's are its own. */
  readonly instrument?: string;
}

/** What the numbers of a fit stand for: the unknowns first, then one for each doubt of an instrument. */
export interface TraceModel {
  /** How many doubts there are. */
  readonly doubts: number;
  parameters(x: ArrayLike<number>): CoreParameters;
  /** By what a capture's scale or gain (a share) or start (s) is off. */
  doubt(x: ArrayLike<number>, capture: number, what: Doubt): number;
  /** V, what the capture would show of the core. */
  trace(x: ArrayLike<number>, capture: number): Float64Array;
}

/** Traces of a capture that are kept: as many as a search makes about one place. */
const KEPT = 40;
const DOUBTS = ['scale', 'start', 'gain'] as const;

export function makeModel(
  start: CoreParameters,
  captures: readonly CoreCapture[],
  unknowns: readonly CoreProperty[],
): TraceModel {
  const places = new Map<string, number>();
  const known = captures.map(() => new Map<string, Float64Array>());
  const keyOf = (i: number, what: Doubt): string => `${what} ${captures[i]!.instrument ?? `of capture ${i}`}`;
  captures.forEach(({ doubts = {} }, i) => {
    for (const what of DOUBTS)
      if (doubts[what] && !places.has(keyOf(i, what))) places.set(keyOf(i, what), places.size);
  });
  const model: TraceModel = {
    doubts: places.size,
    parameters(x) {
      const p = { ...start, ...Object.fromEntries(unknowns.map((name, k) => [name, x[k]!])) };
      return { ...p, elasticKnee: Math.max(p.elasticKnee, p.elasticSaturated) };
    },
    doubt(x, i, what) {
      const deviation = captures[i]!.doubts?.[what];
      const place = deviation ? places.get(keyOf(i, what)) : undefined;
      return place === undefined ? 0 : x[unknowns.length + place]! * deviation!;
    },
    trace(x, i) {
      const [scale, start, gain] = DOUBTS.map((what) => model.doubt(x, i, what)) as [number, number, number];
      // A search changes one number at a time, which as often as not is a doubt of another capture.
      const key = [...Array.from(unknowns, (_, k) => x[k]!), scale, start].join();
      const made = known[i]!;
      const emf = made.get(key) ?? modelTrace(model.parameters(x), captures[i]!, 1 + scale, start);
      made.delete(key);
      made.set(key, emf);
      if (made.size > KEPT) made.delete(made.keys().next().value!);
      return gain === 0 ? emf : emf.map((v) => (1 + gain) * v);
    },
  };
  return model;
}

/** What the model gives where the capture has samples, V. */
export function modelTrace(p: CoreParameters, capture: CoreCapture, scale = 1, start = 0): Float64Array {
  const { drive } = capture;
  const shifted = start === 0 ? drive.current : shift(drive.current, start / drive.step);
  const current = scale === 1 ? shifted : shifted.map((i) => scale * i);
  return coreUnderCurrent(p, stateBefore(p, capture, scale), { ...drive, current }).emf;
}

function stateBefore(p: CoreParameters, { bit, train }: CoreCapture, scale: number): CoreState {
  const rest = restState(p, bit);
  if (train === undefined) return rest;
  // Pulses of one direction at one drive are one long pulse: the step is exact.
  return advanceCore(p, rest, scale * train.drive, train.width * train.pulses);
}

/** The same samples later by a part of a step. */
function shift(values: Float64Array, steps: number): Float64Array {
  return values.map((_, k) => {
    const at = Math.min(values.length - 1, Math.max(0, k - steps));
    const below = Math.min(values.length - 2, Math.floor(at));
    return values[below]! + (at - below) * (values[below + 1]! - values[below]!);
  });
}
