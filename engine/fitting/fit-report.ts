import { applyPatches, type Json } from '../base/json-patch.ts';
import { checkDesign } from '../check/check-design.ts';
import type { LeastSquaresFit } from '../numerics/levenberg-marquardt.ts';
import { mean } from '../numerics/statistics.ts';
import type { LineUp } from './align/line-up.ts';
import { againstBelief, alsoMoved } from './belief-words.ts';
import { compareCapture } from './compare.ts';
import type { EndedFit } from './ended-fit.ts';
import { finalValues } from './final-values.ts';
import { shareOf } from './fit-captures.ts';
import { bandwidthAt, lineOf } from './fit-extras.ts';
import { layoutOf, type FitModel } from './fit-problem.ts';
import { provenance } from './fit-provenance.ts';
import type { FitResult, FittedUnknown } from './fit-result.ts';
import { correlationsOf, fittedUnknown, instrumentOf } from './fitted-values.ts';
import { describeFit, instrumentWords } from './fit-words.ts';
import { withValues, writeValues } from './unknowns.ts';

/** What a fit found, with what stands behind each number, and the new design file. */
export function reportFit(ended: EndedFit): FitResult {
  const { request, model, fit, runs } = ended;
  const { unknowns } = request;
  const fitted = unknowns.map((_, i) => fittedUnknown(ended, i));
  const final = finalValues(ended);
  const { names, values } = final;
  const layout = layoutOf(model);
  const captures = model.prepared.map((c, k) => {
    const line: LineUp = { ...lineOf(c, fit.parameters, layout.places[k]), outcome: fit.outcome };
    const design = withValues(c.start, names, shareOf(c, model.base, names, values));
    const last = runs.need(
      design,
      { field: '/unknowns', what: 'The fitted values give no prediction; narrow the bounds' },
      { contributions: true, until: c.until },
    );
    return {
      label: c.capture.label,
      lineUp: line,
      comparison: compareCapture(
        last,
        c.capture.trace,
        line,
        c.observed,
        bandwidthAt(c, fit.parameters, layout.places[k]),
      ),
      instrument: instrumentOf(c, ended, layout.places[k]),
    };
  });
  const file = writeValues(request.design, model.base, names, values);
  const good = captures.every((c) => c.comparison.verdict === 'noise alone');
  const described = describeFit(
    fit,
    fitted,
    captures.map(({ label, comparison, lineUp }) => ({
      label,
      statement: comparison.statement,
      lineUp,
    })),
    good,
  );
  const note = { path: '/note', value: provenance(request, fitted, good, fit.outcome) };
  const design = unknowns.length === 0 ? request.design : applyPatches(file, [note]);
  const problem = problemOf(design);
  const correlations = correlationsOf(ended);
  return {
    outcome: fit.outcome,
    statements: [
      ...described.statements,
      ...captures.flatMap(({ label, instrument }) =>
        instrument.map((found) => instrumentWords(label, found)),
      ),
      ...againstBelief(model.base, fitted),
      ...alsoMoved(model.base, unknowns, final),
      ...togetherWords(fitted, correlations),
      ...(problem === undefined ? [] : [problem]),
    ],
    unknowns: fitted,
    correlations,
    undetermined: [...described.undetermined, ...untold(model, fit, fitted)],
    captures,
    reducedChiSquare: mean(captures.map((c) => c.comparison.reducedChiSquare)),
    good,
    design,
    iterations: fit.iterations,
    runs: runs.count,
  };
}

/** Asked unknowns whose interval is little narrower than what was believed before: the captures hardly tell them. */
function untold(model: FitModel, fit: LeastSquaresFit, fitted: readonly FittedUnknown[]): string[] {
  return fitted.flatMap(({ name }, i) => {
    const { prior } = model.parameters[i];
    return prior !== undefined && fit.standardErrors[i] > 0.8 * prior.spread
      ? [`The captures say hardly anything about ${name}: its interval is the range that was assumed for it.`]
      : [];
  });
}

/** Unknowns that trade against one another. */
function togetherWords(
  fitted: readonly FittedUnknown[],
  correlations: readonly (readonly number[])[],
): string[] {
  return fitted.flatMap((a, i) =>
    fitted.slice(i + 1).flatMap((b, k) => {
      const r = correlations[i][i + 1 + k];
      return Math.abs(r) > 0.9
        ? [
            `${a.name} and ${b.name} ${r > 0 ? 'rise together' : 'trade against one another'} (correlation ${r.toFixed(2)}): their intervals do not hold apart from one another.`,
          ]
        : [];
    }),
  );
}

function problemOf(design: Json): string | undefined {
  try {
    checkDesign(design);
    return undefined;
  } catch (error) {
    return `The fitted values break a rule of the design: ${(error as Error).message}`;
  }
}
