import { ordinaryCore } from '../mat/ordinary-core.ts';
import type { Design } from '../design/design.ts';
import { softestCore } from '../estimates/softest-core.ts';
import { applyOverrides, nameCase, overridesOf, type CaseSpec } from '../strobe/case-overrides.ts';
import { SEARCHED, type CaseRuns } from '../strobe/case-runs.ts';
import { seenUntil } from './box.ts';
import type { Run } from './run.ts';
import type { WeakEnvelope } from './reserve.ts';

/**
 * What the weakest core of a stack gives as far as a strobe may see it, drives as stated, at both ends of the
 * temperature: a ONE of little flux or high thresholds, a ZERO of low ones, so many standard deviations out as the wanted
 * share of stacks allows. Beyond that it stays as it is there.
 */
export function weakEnvelope(design: Design, runs: CaseRuns, run: Run): WeakEnvelope {
  const { tolerances, selected, temperature } = design;
  const { sigmas } = softestCore(design);
  const ends = tolerances.temperature > 0 ? [-1, 1] : [0];
  const weak = (bit: 0 | 1, flux: number, threshold: number): Float64Array[] =>
    ends.flatMap((end) => {
      const core = ordinaryCore(selected.row, selected.column);
      const exception = { ...core, fluxFactor: 1 + flux, thresholdFactor: 1 + threshold };
      const held: Design = { ...design, exceptions: [...design.exceptions, exception] };
      const spec: CaseSpec = {
        ...(bit === 1
          ? { bit, pattern: 'worst-one', state: 'undisturbed' }
          : { bit, pattern: 'worst-zero', state: 'disturbed', previous: 'own' }),
        temperature: temperature + end * tolerances.temperature,
      };
      const heard = runs.refer(
        nameCase(spec),
        run(applyOverrides(held, overridesOf(held, spec)), {
          contributions: false,
          estimateError: false,
          balance: false,
          finer: SEARCHED,
          until: seenUntil(design),
        }),
      );
      return heard ? [heard] : [];
    });
  const far = { flux: sigmas * tolerances.coreFlux, threshold: sigmas * tolerances.coreThreshold };
  const ones = [...weak(1, -far.flux, 0), ...weak(1, 0, far.threshold)];
  const zeros = weak(0, 0, -Math.min(0.9, far.threshold));
  const n = runs.time!.length;
  const over = (
    all: readonly Float64Array[],
    pick: (a: number, b: number) => number,
    none: number,
  ): Float64Array => {
    const worst = new Float64Array(n).fill(none);
    for (const values of all)
      for (let i = 0; i < n; i++) worst[i] = pick(worst[i]!, values[Math.min(i, values.length - 1)]!);
    return worst;
  };
  return { one: over(ones, Math.min, Infinity), zero: over(zeros, Math.max, -Infinity) };
}
