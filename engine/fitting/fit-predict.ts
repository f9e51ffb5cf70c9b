import type { Design } from '../design/design.ts';
import type { Trace } from './align/trace-tools.ts';
import type { BenchRuns } from './bench-runs.ts';
import { observedTrace } from './compare.ts';
import { shareOf, type Prepared } from './fit-captures.ts';
import type { UnknownName } from './unknown-table.ts';
import { withValues } from './unknowns.ts';

/** SI values of the parameters -> what each capture is predicted to be; undefined when the model has no answer. */
export type Predict = (values: Float64Array) => readonly Trace[] | undefined;

/** Predictions by full runs; the last few answers are kept: a step of a delay or an offset needs no new run. */
export function makePredict(
  base: Design,
  names: readonly UnknownName[],
  prepared: readonly Prepared[],
  runs: BenchRuns,
): Predict {
  const kept = new Map<string, readonly Trace[] | undefined>();
  return (values) => {
    const key = values.join(',');
    if (kept.has(key)) return kept.get(key);
    const fresh = predictAll(base, names, prepared, values, runs);
    if (kept.size > 4) kept.delete(kept.keys().next().value as string);
    kept.set(key, fresh);
    return fresh;
  };
}

function predictAll(
  base: Design,
  names: readonly UnknownName[],
  prepared: readonly Prepared[],
  values: Float64Array,
  runs: BenchRuns,
): readonly Trace[] | undefined {
  const traces: Trace[] = [];
  for (const c of prepared) {
    const design = withValues(c.start, names, shareOf(c, base, names, values));
    const run = runs.run(design, { until: c.until });
    if (run === undefined) return undefined;
    traces.push(observedTrace(run, c.observed));
  }
  return traces;
}
