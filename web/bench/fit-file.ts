import { VERSION } from '../../engine/base/version.ts';
import { toJsonDocument } from '../../engine/export/serialise.ts';
import type { FitResult } from '../../engine/fitting/fit-result.ts';
import type { Knowledge } from '../../engine/predict/knowledge.ts';
import type { BenchCapture } from '../model/bench-capture.ts';

/** What is kept of a capture beside the number of its samples. */
const TOLD = [
  'label',
  'bit',
  'observed',
  'row',
  'column',
  'write',
  'readCurrent',
  'part',
  'polarity',
  'probeGain',
  'bandwidth',
] as const;

/** The whole answer as a file: what was asked, of what, and what came out. */
export function fitFile(fit: FitResult, captures: readonly BenchCapture[], known?: Knowledge): string {
  return toJsonDocument({
    version: VERSION,
    captures: captures.map((capture) => ({
      ...Object.fromEntries(TOLD.map((name) => [name, capture[name]])),
      samples: capture.trace.time.length,
    })),
    outcome: fit.outcome,
    statements: fit.statements,
    undetermined: fit.undetermined,
    unknowns: fit.unknowns,
    correlations: fit.correlations,
    lineUps: fit.captures.map(({ label, lineUp }) => ({ label, ...lineUp })),
    reducedChiSquare: fit.reducedChiSquare,
    design: fit.design,
    // What a prediction takes from it, at the command line as here.
    ...(known ? { known } : {}),
  });
}
