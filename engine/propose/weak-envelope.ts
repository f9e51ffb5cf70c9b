import { ordinaryCore } from '../mat/ordinary-core.ts';
import type { Design } from '../design/design.ts';
import { softestCore } from '../estimates/softest-core.ts';
import { applyOverrides, nameCase, overridesOf, type CaseSpec } from '../strobe/case-overrides.ts';
import { SEARCHED, type CaseRuns } from '../strobe/case-runs.ts';
import { seenUntil } from './box.ts';
import type { Run } from './run.ts';
import type { WeakEnvelope } from './reserve.ts';

/** V: what no wire hears, where a bit was not run yet. Finite, as it is taken as straight between samples. */
const BEYOND = 1e6;

/** What the weakest core gives, run by run. */
export interface WeakRuns {
  /** Each adds one run to the envelope. */
  readonly steps: readonly (() => void)[];
  /** By the runs so far; undefined before the first. */
  readonly envelope: () => WeakEnvelope | undefined;
}

/**
 * What the weakest core of a stack gives as far as a strobe may see it, drives as stated, at both ends of the
 * temperature: a ONE of little flux or high thresholds, a ZERO of low ones, so many standard deviations out as the wanted
 * share of stacks allows. Beyond that it stays as it is there.
 */
export function weakRuns(design: Design, runs: CaseRuns, run: Run): WeakRuns {
  const { tolerances, selected, temperature } = design;
  const { sigmas } = softestCore(design);
  const ends = tolerances.temperature > 0 ? [-1, 1] : [0];
  const heard: { readonly bit: 0 | 1; readonly trace: Float64Array }[] = [];
  const weak = (bit: 0 | 1, flux: number, threshold: number): (() => void)[] =>
    ends.map((end) => () => {
      const core = ordinaryCore(selected.row, selected.column);
      const exception = { ...core, fluxFactor: 1 + flux, thresholdFactor: 1 + threshold };
      const held: Design = { ...design, exceptions: [...design.exceptions, exception] };
      const spec: CaseSpec = {
        ...(bit === 1
          ? { bit, pattern: 'worst-one', state: 'undisturbed' }
          : { bit, pattern: 'worst-zero', state: 'disturbed', previous: 'own' }),
        temperature: temperature + end * tolerances.temperature,
      };
      const trace = runs.refer(
        nameCase(spec),
        run(applyOverrides(held, overridesOf(held, spec)), {
          contributions: false,
          estimateError: false,
          balance: false,
          finer: SEARCHED,
          until: seenUntil(design),
        }),
      );
      if (trace) heard.push({ bit, trace });
    });
  const far = { flux: sigmas * tolerances.coreFlux, threshold: sigmas * tolerances.coreThreshold };
  const steps = [
    ...weak(1, -far.flux, 0),
    ...weak(1, 0, far.threshold),
    ...weak(0, 0, -Math.min(0.9, far.threshold)),
  ];
  const over = (bit: 0 | 1, pick: (a: number, b: number) => number, none: number): Float64Array => {
    const worst = new Float64Array(runs.time!.length).fill(none);
    for (const { trace } of heard.filter((each) => each.bit === bit))
      for (let i = 0; i < worst.length; i++)
        worst[i] = pick(worst[i]!, trace[Math.min(i, trace.length - 1)]!);
    return worst;
  };
  return {
    steps,
    envelope: () =>
      heard.length === 0 ? undefined : { one: over(1, Math.min, BEYOND), zero: over(0, Math.max, -BEYOND) },
  };
}

export function weakEnvelope(design: Design, runs: CaseRuns, run: Run): WeakEnvelope | undefined {
  const { steps, envelope } = weakRuns(design, runs, run);
  for (const step of steps) step();
  return envelope();
}
