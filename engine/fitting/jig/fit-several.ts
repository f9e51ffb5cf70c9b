import { checkDesign } from '../../check/check-design.ts';
import { designToJson } from '../../design/design-to-json.ts';
import type { CoreChoice, CoreProperty } from '../../design/core.ts';
import type { DesignFile } from '../../design/schema/design-schema.ts';
import type { Trace } from '../align/trace-tools.ts';
import { FitCancelled, FitError, type BenchControl } from '../bench-runs.ts';
import { judgeJig, jigNotes } from '../judge/judge-jig.ts';
import { coreCapture } from './core-capture.ts';
import { rangesAfter, severalNotes } from './several-told.ts';
import { startFrom, TRIED_THRESHOLDS } from './core-start.ts';
import { testShown } from './core-test.ts';
import { fitTraces, type CaptureMisfit, type TraceFit, type TraceFitOptions } from './fit-traces.ts';
import type { CoreCapture } from './trace-model.ts';
import type { CaptureFields, SessionFields } from './session-schema.ts';

/** Captures of one core, with what is said of them. */
export interface CoreSession extends SessionFields {
  readonly captures: readonly (CaptureFields & {
    /** V, and A (ampere-turns), each on the capture's own time in s. */
    readonly sense: Trace;
    readonly current?: Trace | undefined;
  })[];
}

/** A core fitted to several captures of it together. */
export interface SeveralFit {
  /** The core as a design has it: parameters in SI, what is not known of each, and the test that it answers. */
  readonly core: CoreChoice;
  /** The same as text with units: `core` of a design file. */
  readonly file: NonNullable<DesignFile['core']>;
  /** Parameters that were looked for, and those of them that the captures show. */
  readonly unknowns: readonly CoreProperty[];
  readonly shown: readonly CoreProperty[];
  readonly captures: readonly (Omit<CaptureMisfit, 'model'> & {
    /** s, of the first step's middle and from one to the next; V at the core, captured and of the model. */
    readonly trace: {
      readonly start: number;
      readonly step: number;
      readonly sense: Float64Array;
      readonly model: Float64Array;
    };
  })[];
  /** V over all spans, as at the core. */
  readonly rms: number;
  readonly settled: boolean;
  /** One sentence for each thing to know before the core is used. */
  readonly notes: readonly string[];
}

/** What captures at one temperature can show. */
const USUAL: readonly CoreProperty[] = [
  'remanentFlux',
  'squareness',
  'coerciveDrive',
  'staticKneeWidth',
  'dynamicThreshold',
  'dynamicKneeWidth',
  'switchingResistance',
  'ringSpread',
  'elasticSaturated',
  'elasticKnee',
  'decayResistance',
  'decayCharge',
  'decayThreshold',
];
/** What the model is not expected to give, over the greatest sense voltage: of one core of many drives (core/model.ts). */
const SHORTCOMING = 0.03;
/** Iterations by which starts are compared, and of the search itself. */
const [FIRST_LOOK, ITERATIONS] = [8, 30];
/** A search that was begun again and left no less than this part of its misfit has settled. */
const SETTLED = 0.97;

/**
 * One core from several captures together: each with the current that drove it, reads and writes at several drives and
 * after half-select pulses. Thresholds, knees, rings and decaying part are unknowns of their own; captures of one
 * instrument share scale and start of the current, gain and polarity. A parameter that the captures do not show keeps
 * the range that it had. Throws FitError (one sentence, a JSON pointer) for what cannot be fitted.
 */
export function fitSeveral(session: CoreSession, { cancelled, onProgress }: BenchControl = {}): SeveralFit {
  const unknowns = (session.unknowns as readonly CoreProperty[] | undefined) ?? USUAL;
  const judged: string[] = [];
  const captures = session.captures.map((capture, i) => {
    const { sense, current, ...fields } = capture;
    const named = { ...fields, name: fields.name ?? `capture ${i + 1}` };
    const found = judgeJig(sense, { bit: fields.bit });
    if (found.verdict === 'not usable')
      throw new FitError(`/captures/${i}`, `${named.name}: ${found.statement}`);
    judged.push(...jigNotes(named.name, found));
    return coreCapture(named, sense, current, session.gain ?? 1, `/captures/${i}`);
  });
  const greatest = captures.reduce(
    (most, { sense }) => sense.reduce((a, v) => Math.max(a, Math.abs(v)), most),
    0,
  );
  if (!(greatest > 0))
    throw new FitError(
      '/captures',
      'The captures must show a core, but their sense voltage is 0 throughout: give other traces.',
    );
  const sigma = SHORTCOMING * greatest;
  const planned = TRIED_THRESHOLDS.length * FIRST_LOOK + 2 * ITERATIONS;
  let done = 0;
  // A run of the model here is one of the core alone, of every capture; an iteration takes one for each unknown.
  const onIteration = (): void =>
    onProgress?.({ done: Math.min(planned, ++done), planned, runs: done * (unknowns.length + 1) });
  const search = (from: CoreChoice, more: Partial<TraceFitOptions>): TraceFit =>
    fitTraces(from.parameters, captures, {
      unknowns,
      sigma,
      priors: priorsOf(from, unknowns),
      maxIterations: ITERATIONS,
      ...(cancelled ? { cancelled } : {}),
      onIteration,
      ...more,
    });
  const start = bestStart(session, captures, (from) => search(from, { maxIterations: FIRST_LOOK }).rms);
  const near = search(start, {});
  // Once more with samples that count for as much as they tell, so that what was known before has its weight beside them.
  const reached = { ...start, parameters: near.parameters };
  const fit = search(reached, { sigma: sigma * near.widen, independent: true });
  if (cancelled?.()) throw new FitCancelled();
  const settled = fit.rms > SETTLED * near.rms;
  const { range, shown } = rangesAfter(start, unknowns, fit, captures);
  const core: CoreChoice = {
    name: session.name ?? 'core from captures',
    source:
      session.source ??
      `fitted to ${captures.length} ${captures.length === 1 ? 'capture' : 'captures'} of it`,
    parameters: fit.parameters,
    range,
    test: testShown(start.test, captures, fit, greatest),
  };
  return {
    core,
    file: designToJson({ ...checkDesign({}), core }).core!,
    unknowns,
    shown,
    captures: fit.captures.map(({ model, ...told }, i) => {
      const { drive, sense } = captures[i]!;
      const upright = told.gain < 0 ? -1 : 1;
      return {
        ...told,
        trace: {
          start: drive.start + drive.step / 2,
          step: drive.step,
          sense: sense.map((v) => upright * v),
          model: model.map((v) => upright * v),
        },
      };
    }),
    rms: fit.rms,
    settled,
    notes: [...judged, ...severalNotes(unknowns, shown, fit, greatest, settled)],
  };
}

/** The core that is named to start from, or of those that the captures suggest the one that is nearest after a few steps. */
function bestStart(
  { core }: CoreSession,
  captures: readonly CoreCapture[],
  missed: (from: CoreChoice) => number,
): CoreChoice {
  const like = checkDesign({ core: core ?? {} }).core;
  const named = ['preset', 'handbook', 'parameters'].some((from) => core?.[from] !== undefined);
  if (named) return like;
  const starts = TRIED_THRESHOLDS.map((part) => startFrom(captures, like, part));
  const misses = starts.map(missed);
  return starts[misses.indexOf(Math.min(...misses))]!;
}

/** What is known before: each value somewhere in its range, which is held to half as firmly as a range of 95 % would be. */
const priorsOf = ({ range }: CoreChoice, unknowns: readonly CoreProperty[]): TraceFitOptions['priors'] =>
  Object.fromEntries(
    unknowns.flatMap((name) => {
      const { low, high } = range[name];
      return high > low ? [[name, [(low + high) / 2, (high - low) / 2]]] : [];
    }),
  );
