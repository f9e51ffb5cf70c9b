import type { CoreParameters, CoreProperty, CoreRange } from '../../design/core.ts';
import { leastSquares, type LeastSquaresFit } from '../../numerics/levenberg-marquardt.ts';
import { makeModel, modelTrace, type CoreCapture, type TraceModel } from './trace-model.ts';

export interface TraceFitOptions {
  /** Parameters that are looked for; the others stay as in the start. */
  readonly unknowns: readonly CoreProperty[];
  /** V, standard deviation of one sample: what the model is not expected to give (noise and its own shortcomings). */
  readonly sigma: number;
  /** What is known of an unknown before: value and standard deviation. */
  readonly priors?: Partial<Record<CoreProperty, readonly [value: number, deviation: number]>>;
  /** True: sigma counts already for how alike neighbouring samples miss (TraceFit.widen). */
  readonly independent?: boolean;
  readonly maxIterations?: number;
  readonly cancelled?: () => boolean;
  /** Told whenever an iteration begins. */
  readonly onIteration?: () => void;
}

/** How a capture lies on its model. */
export interface CaptureMisfit {
  readonly name: string;
  /** V over the spans, and over the greatest sense voltage in them. */
  readonly rms: number;
  readonly share: number;
  readonly scale: number;
  /** s, by which the current started later than its samples say. */
  readonly start: number;
  /** Sense voltage of the instrument over that of the core; negative where it was connected the other way round. */
  readonly gain: number;
  /** V where the capture has samples, with the capture's own polarity. */
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
  /** By how much intervals were widened for both. */
  readonly widen: number;
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
  given: readonly CoreCapture[],
  options: TraceFitOptions,
): TraceFit {
  const { unknowns, sigma } = options;
  const turned = polaritiesOf(start, given);
  const captures = given.map((capture, i) =>
    turned[i] === 1 ? capture : { ...capture, sense: capture.sense.map((v) => -v) },
  );
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
      onIteration: options.onIteration,
    },
  );
  const samples = kept.reduce((sum, list) => sum + list.length, 0);
  const found = captures.map((capture, i) => misfitOf(capture, kept[i]!, model.trace(fit.parameters, i)));
  const squares = found.reduce((sum, { square }) => sum + square, 0);
  const rms = Math.sqrt(squares / samples);
  const independent = independentSamples(found.map(({ left }) => left));
  // Errors of the fit hold for independent samples off by sigma; these are off by rms, in stretches.
  const widen = options.independent ? 1 : Math.max(1, rms / sigma) * Math.sqrt(samples / independent);
  return {
    parameters: model.parameters(fit.parameters),
    range: rangesOf(unknowns, bounds, fit, widen),
    captures: found.map(({ rms: own, share, model: trace }, i) => ({
      name: captures[i]!.name,
      rms: own,
      share,
      scale: 1 + model.doubt(fit.parameters, i, 'scale'),
      start: model.doubt(fit.parameters, i, 'start'),
      gain: turned[i]! * (1 + model.doubt(fit.parameters, i, 'gain')),
      model: turned[i] === 1 ? trace : trace.map((v) => -v),
    })),
    rms,
    independent,
    widen,
    samples,
    outcome: fit.outcome,
  };
}

/**
 * -1 for each capture of an instrument that was connected the other way round: one sign for all of its captures, by
 * whether they go with the start or against it. A capture of no instrument is taken as it is.
 */
function polaritiesOf(start: CoreParameters, captures: readonly CoreCapture[]): readonly (1 | -1)[] {
  const likeness = new Map<string, number>();
  for (const capture of captures) {
    const { instrument, sense } = capture;
    if (instrument === undefined) continue;
    const model = modelTrace(start, capture);
    const alike = samplesOf(capture).reduce((sum, k) => sum + model[k]! * sense[k]!, 0);
    likeness.set(instrument, (likeness.get(instrument) ?? 0) + alike);
  }
  return captures.map(({ instrument }) =>
    instrument !== undefined && likeness.get(instrument)! < 0 ? -1 : 1,
  );
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
