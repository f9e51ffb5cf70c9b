import { restState, type CoreState } from '../../core/state.ts';
import { disturb } from '../../core/disturb.ts';
import { coreUnderCurrent, type SampledCurrent } from './core-under-current.ts';
import type { CoreParameters, CoreProperty, CoreRange } from '../../design/design.ts';
import { leastSquares, type LeastSquaresFit } from '../../numerics/levenberg-marquardt.ts';

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
  /** What may be wrong about it besides the core, one standard deviation each: scale of the current, its start (s). */
  readonly doubts?: { readonly scale?: number; readonly start?: number };
}

export interface TraceFitOptions {
  /** Parameters that are looked for; the others stay as in the start. */
  readonly unknowns: readonly CoreProperty[];
  /** V, standard deviation of one sample: what the model is not expected to give (noise and its own shortcomings). */
  readonly sigma: number;
  /** What is known of an unknown before: value and standard deviation. */
  readonly priors?: Partial<Record<CoreProperty, readonly [value: number, deviation: number]>>;
  readonly maxIterations?: number;
  readonly cancelled?: () => boolean;
}

/** How a capture lies on its model. */
export interface CaptureMisfit {
  readonly name: string;
  /** V over the spans, and over the greatest sense voltage in them. */
  readonly rms: number;
  readonly share: number;
  readonly scale: number;
  /** s. */
  readonly start: number;
  readonly model: Float64Array;
}

export interface TraceFit {
  readonly parameters: CoreParameters;
  /** 95 % interval of every unknown: of the fit, widened by what the model misses and by how alike neighbours are. */
  readonly range: Readonly<Partial<Record<CoreProperty, CoreRange>>>;
  readonly captures: readonly CaptureMisfit[];
  /** V over all spans. */
  readonly rms: number;
  /** Samples that tell something of their own, of all. */
  readonly independent: number;
  readonly samples: number;
  readonly outcome: string;
}

/** Bounds of each unknown, from the limits of the core model, about a start. */
function boundsOf(name: CoreProperty, p: CoreParameters): readonly [number, number] {
  switch (name) {
    case 'squareness':
      return [0.7, 0.998];
    case 'ringSpread':
      return [
        0,
        Math.min(0.3, (p.outsideDiameter - p.insideDiameter) / (p.outsideDiameter + p.insideDiameter)),
      ];
    case 'staticKneeWidth':
      return [0.004, 0.15 * p.coerciveDrive];
    case 'dynamicKneeWidth':
      return [0.004, 0.1 * p.dynamicThreshold];
    case 'coerciveDrive':
      return [0.6 * p.coerciveDrive, 1.6 * p.coerciveDrive];
    case 'decayResistance':
      return [0, 0.2 * p.switchingResistance];
    case 'elasticSaturated':
      return [1e-11, 10e-9];
    case 'elasticKnee':
      return [1e-11, 10e-9];
    default:
      return [p[name] / 3, p[name] * 3];
  }
}

/** Fits one core to several captures of it at once. Throws RangeError where a start lies outside its bounds. */
export function fitTraces(
  start: CoreParameters,
  captures: readonly CoreCapture[],
  options: TraceFitOptions,
): TraceFit {
  const { unknowns, sigma } = options;
  const bounds = unknowns.map((name) => boundsOf(name, start));
  const model = makeModel(start, captures, unknowns);
  const kept = captures.map(samplesOf);
  const inside = (value: number, [low, high]: readonly [number, number]): number =>
    Math.min(high, Math.max(low, value));
  const doubts = Array.from({ length: model.doubts }, () => 0);
  const fit = leastSquares(
    {
      residuals: residualsOf(model, captures, kept, options),
      start: [...unknowns.map((name, k) => inside(start[name], bounds[k]!)), ...doubts],
      lower: [...bounds.map(([low]) => low), ...doubts.map(() => -4)],
      upper: [...bounds.map(([, high]) => high), ...doubts.map(() => 4)],
      scale: [...bounds.map(([low, high]) => (high - low) / 5), ...doubts.map(() => 1)],
    },
    {
      maxIterations: options.maxIterations ?? 60,
      differenceStep: 1e-4,
      tolerance: 1e-3,
      noise: 'known',
      cancelled: options.cancelled,
    },
  );
  const samples = kept.reduce((sum, list) => sum + list.length, 0);
  const found = captures.map((capture, i) => misfitOf(capture, kept[i]!, model.trace(fit.parameters, i)));
  const squares = found.reduce((sum, { square }) => sum + square, 0);
  const rms = Math.sqrt(squares / samples);
  const independent = independentSamples(found.map(({ left }) => left));
  // Errors of the fit hold for independent samples off by sigma; these are off by rms, in stretches.
  const widen = Math.max(1, rms / sigma) * Math.sqrt(samples / independent);
  return {
    parameters: model.parameters(fit.parameters),
    range: rangesOf(unknowns, bounds, fit, widen),
    captures: found.map(({ rms: own, share, model: trace }, i) => ({
      name: captures[i]!.name,
      rms: own,
      share,
      scale: 1 + model.doubt(fit.parameters, i, 'scale'),
      start: model.doubt(fit.parameters, i, 'start'),
      model: trace,
    })),
    rms,
    independent,
    samples,
    outcome: fit.outcome,
  };
}

/** What the numbers of a fit stand for: the unknowns first, then one for each doubt about a capture. */
interface TraceModel {
  /** How many doubts there are. */
  readonly doubts: number;
  parameters(x: ArrayLike<number>): CoreParameters;
  /** By what a capture's scale (a share) or start (s) is off. */
  doubt(x: ArrayLike<number>, capture: number, what: 'scale' | 'start'): number;
  /** V, what the core gives in that capture. */
  trace(x: ArrayLike<number>, capture: number): Float64Array;
}

function makeModel(
  start: CoreParameters,
  captures: readonly CoreCapture[],
  unknowns: readonly CoreProperty[],
): TraceModel {
  const doubts = captures.flatMap(({ doubts: d }, i) => [
    ...(d?.scale ? [{ i, what: 'scale' as const, deviation: d.scale }] : []),
    ...(d?.start ? [{ i, what: 'start' as const, deviation: d.start }] : []),
  ]);
  const model: TraceModel = {
    doubts: doubts.length,
    parameters(x) {
      const p = { ...start, ...Object.fromEntries(unknowns.map((name, k) => [name, x[k]!])) };
      return { ...p, elasticKnee: Math.max(p.elasticKnee, p.elasticSaturated) };
    },
    doubt(x, i, what) {
      const k = doubts.findIndex((doubt) => doubt.i === i && doubt.what === what);
      return k < 0 ? 0 : x[unknowns.length + k]! * doubts[k]!.deviation;
    },
    trace: (x, i) =>
      modelTrace(
        model.parameters(x),
        captures[i]!,
        1 + model.doubt(x, i, 'scale'),
        model.doubt(x, i, 'start'),
      ),
  };
  return model;
}

/** Model minus capture over the samples kept, then doubts, then what was known before, each in standard deviations. */
function residualsOf(
  model: TraceModel,
  captures: readonly CoreCapture[],
  kept: readonly (readonly number[])[],
  { unknowns, sigma, priors = {} }: TraceFitOptions,
) {
  return (x: Float64Array): Float64Array => {
    const all: number[] = [];
    captures.forEach(({ sense }, i) => {
      const trace = model.trace(x, i);
      for (const k of kept[i]!) all.push((trace[k]! - sense[k]!) / sigma);
    });
    for (let k = 0; k < model.doubts; k++) all.push(x[unknowns.length + k]!);
    unknowns.forEach((name, k) => {
      const prior = priors[name];
      if (prior) all.push((x[k]! - prior[0]) / prior[1]);
    });
    return Float64Array.from(all);
  };
}

/** 95 % intervals within the bounds, `widen` times as wide as the fit has them. */
function rangesOf(
  unknowns: readonly CoreProperty[],
  bounds: readonly (readonly [number, number])[],
  { parameters, standardErrors }: LeastSquaresFit,
  widen: number,
): TraceFit['range'] {
  return Object.fromEntries(
    unknowns.map((name, k) => {
      const value = parameters[k]!;
      const half = Number.isFinite(standardErrors[k]!) ? 1.96 * widen * standardErrors[k]! : Infinity;
      const [low, high] = bounds[k]!;
      return [
        name,
        { low: Math.max(low, value - half), high: Math.min(high, value + half), from: 'measured' },
      ];
    }),
  );
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
  const sign = train.drive < 0 ? -1 : 1;
  return disturb(p, rest, {
    halfDrive: scale * Math.abs(train.drive),
    width: train.width,
    pulses: train.pulses,
    cycle: [sign],
  });
}

/** The same samples later by a part of a step. */
function shift(values: Float64Array, steps: number): Float64Array {
  return values.map((_, k) => {
    const at = Math.min(values.length - 1, Math.max(0, k - steps));
    const below = Math.min(values.length - 2, Math.floor(at));
    return values[below]! + (at - below) * (values[below + 1]! - values[below]!);
  });
}

/** Samples inside the spans: the middle of each step decides. */
function samplesOf({ drive, sense, spans }: CoreCapture): readonly number[] {
  return Array.from(sense.keys()).filter((k) => {
    const t = drive.start + (k + 0.5) * drive.step;
    return spans.some(([from, to]) => t >= from && t < to);
  });
}

function misfitOf({ sense }: CoreCapture, kept: readonly number[], model: Float64Array) {
  const left = Float64Array.from(kept, (k) => model[k]! - sense[k]!);
  const square = left.reduce((sum, v) => sum + v * v, 0);
  const greatest = kept.reduce((most, k) => Math.max(most, Math.abs(sense[k]!)), 0);
  const rms = Math.sqrt(square / kept.length);
  return { left, square, rms, share: rms / greatest, model };
}

/** Samples of their own: neighbours that miss alike count for one (first-order correlation of the misfits). */
function independentSamples(lists: readonly Float64Array[]): number {
  let [own, next, count] = [0, 0, 0];
  for (const left of lists) {
    for (let k = 0; k < left.length; k++) own += left[k]! ** 2;
    for (let k = 1; k < left.length; k++) next += left[k]! * left[k - 1]!;
    count += left.length;
  }
  const alike = own > 0 ? Math.min(0.99, Math.max(0, next / own)) : 0;
  return Math.max(1, (count * (1 - alike)) / (1 + alike));
}
