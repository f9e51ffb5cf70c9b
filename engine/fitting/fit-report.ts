import { applyPatches, valueAt as jsonAt, type Json } from '../base/json-patch.ts';
import { checkDesign } from '../check/check-design.ts';
import type { Design } from '../design/design.ts';
import type { FitOutcome, LeastSquaresFit } from '../numerics/levenberg-marquardt.ts';
import { studentQuantile } from '../numerics/statistics.ts';
import type { LineUp } from './align/line-up.ts';
import { FitError, type BenchRuns } from './bench-runs.ts';
import { compareCapture, neighbours } from './compare.ts';
import { shareOf, type Prepared } from './fit-captures.ts';
import type { FitResult } from './fit-result.ts';
import type { FittedUnknown } from './fit-result.ts';
import type { FitRequest } from './fit-result.ts';
import { describeFit } from './fit-words.ts';
import { UNKNOWNS } from './unknown-table.ts';
import { withValues, writeValues, type UnknownRange } from './unknowns.ts';

interface Ended {
  readonly request: FitRequest;
  readonly base: Design;
  readonly ranges: readonly UnknownRange[];
  readonly prepared: readonly Prepared[];
  /** Where each capture's extra parameters begin. */
  readonly places: readonly number[];
  readonly fit: LeastSquaresFit;
  readonly runs: BenchRuns;
}

/** What a fit found, with what stands behind each number, and the new design file. */
export function reportFit({ request, base, ranges, prepared, places, fit, runs }: Ended): FitResult {
  const { unknowns } = request;
  const n = fit.parameters.length;
  const values = fit.parameters.slice(0, unknowns.length);
  // Neighbouring differences that are alike carry less than their number: widen by sqrt((1 + r)/(1 - r)).
  const alike = Math.min(0.98, Math.max(0, neighbours(fit.residuals)));
  const quantile =
    studentQuantile(0.975, Math.max(1, fit.degreesOfFreedom)) * Math.sqrt((1 + alike) / (1 - alike));
  const fitted = unknowns.map((name, i): FittedUnknown => {
    const standardError = fit.standardErrors[i];
    const half = quantile * standardError;
    return {
      name,
      meaning: UNKNOWNS[name].meaning,
      unit: UNKNOWNS[name].unit,
      start: ranges[i].start,
      bounds: { low: ranges[i].low, high: ranges[i].high },
      value: values[i],
      standardError,
      interval: { low: values[i] - half, high: values[i] + half },
      atBound: fit.atBound[i],
    };
  });
  const captures = prepared.map((c, k) => {
    const at = places[k];
    const gain = c.extras === 3 ? fit.parameters[at + 2] : c.line.gain;
    const line: LineUp = {
      ...c.line,
      delay: c.line.delay + fit.parameters[at],
      offset: c.line.offset + fit.parameters[at + 1],
      gain,
      polarity: gain < 0 ? -1 : 1,
      outcome: fit.outcome,
    };
    const design = withValues(c.start, unknowns, shareOf(c, base, unknowns, values));
    const last = runs.run(design, { contributions: true, until: c.until });
    if (last === undefined)
      throw new FitError('/unknowns', 'The fitted values give no finite prediction; narrow the bounds.');
    return {
      label: c.capture.label,
      lineUp: line,
      comparison: compareCapture(last, c.capture.trace, line, c.observed),
    };
  });
  const file = writeValues(request.design, base, unknowns, values);
  const good = captures.every((c) => c.comparison.verdict === 'noise alone');
  const described = describeFit(
    fit,
    fitted,
    captures.map(({ label, comparison, lineUp }) => ({ label, statement: comparison.statement, lineUp })),
    good,
  );
  const note = { path: '/note', value: provenance(request, fitted, good, fit.outcome) };
  const design = unknowns.length === 0 ? request.design : applyPatches(file, [note]);
  const problem = problemOf(design);
  return {
    outcome: fit.outcome,
    statements: problem === undefined ? described.statements : [...described.statements, problem],
    unknowns: fitted,
    correlations: unknowns.map((_, i) => unknowns.map((_, j) => fit.correlations[i * n + j])),
    undetermined: described.undetermined,
    captures,
    reducedChiSquare: fit.degreesOfFreedom > 0 ? fit.cost / fit.degreesOfFreedom : NaN,
    good,
    design,
    iterations: fit.iterations,
    runs: runs.count,
  };
}

function problemOf(design: Json): string | undefined {
  try {
    checkDesign(design);
    return undefined;
  } catch (error) {
    return `The fitted values break a rule of the design: ${(error as Error).message}`;
  }
}

/** What the new design's note remembers; the old note is kept in front as far as there is room. */
function provenance(
  request: FitRequest,
  fitted: readonly FittedUnknown[],
  good: boolean,
  outcome: FitOutcome,
): string {
  const name = jsonAt(request.design, '/name');
  const note = jsonAt(request.design, '/note');
  const list = fitted.map((u) => u.name).join(', ');
  const from = request.captures
    .map((c) => `"${c.label.slice(0, 60)}" (${c.trace.time.length} samples)`)
    .join(', ');
  const text = `Fitted: ${list}; from ${from}; starting from "${typeof name === 'string' ? name : 'untitled'}"; ${outcome}, ${
    good ? 'noise alone explains what is left' : 'more than noise is left'
  }.`;
  const old = typeof note === 'string' && note !== '' ? `${note} ` : '';
  return `${old.slice(0, 1990 - text.length)}${text}`;
}
