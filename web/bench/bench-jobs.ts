import { wholeGain } from '../../engine/sense-amplifier/referred.ts';
import { readCapture } from '../../engine/capture/read-capture.ts';
import { checkHandbook } from '../../engine/core/handbook/check-handbook.ts';
import { coreReport } from '../../engine/core/handbook/core-report.ts';
import { overlayCapture } from '../../engine/fitting/align/overlay.ts';
import { diagnose } from '../../engine/fitting/diagnosis/diagnose.ts';
import type { FitCapture } from '../../engine/fitting/fit-captures.ts';
import { fitDesign } from '../../engine/fitting/fit-design.ts';
import { judgeCaptures, requireUsable } from '../../engine/fitting/judge/judge-captures.ts';
import { fitSeveral } from '../../engine/fitting/jig/fit-several.ts';
import { readSessionFile } from '../../engine/fitting/jig/session-file.ts';
import { measureJig } from '../../engine/fitting/jig/fit-core.ts';
import { whatNext } from '../../engine/predict/next/what-next.ts';
import { predict } from '../../engine/predict/predict.ts';
import type { Handlers } from '../compute/serve.ts';
import type { RawDesign } from '../model/pointer.ts';
import { asJson, toFitCapture, type BenchCapture } from '../model/bench-capture.ts';
import type { BenchTasks, Laid } from './bench-messages.ts';

/** Everything that the bench computes: the engine's own functions, and what stands between them and the page. */
export const BENCH_JOBS: Handlers<BenchTasks> = {
  read: ({ content, options }) => readCapture(content, options),
  judge: ({ raw, capture }) => judgeCaptures(asJson(raw), [toFitCapture(raw, capture)]).judgements[0]!,
  compare: ({ raw, capture }) => layOver(raw, capture),
  fit: ({ raw, captures, unknowns, ranges }, onProgress) =>
    fitDesign({
      design: asJson(raw),
      captures: usable(raw, captures),
      unknowns,
      ranges,
      onProgress,
    }),
  predict: ({ known, changes }, onProgress) => predict({ known, changes, onProgress }),
  next: ({ known }, onProgress) => whatNext({ known, onProgress }),
  diagnose: ({ raw, captures, strobeAt }, onProgress) =>
    diagnose({
      design: asJson(raw),
      captures: usable(raw, captures),
      strobeAt,
      onProgress,
    }),
  several: ({ file, texts }) => fitSeveral(readSessionFile(file, texts)),
  measure: (captures) => measureJig(captures),
  core: ({ handbook }) => coreReport(checkHandbook(handbook).handbook),
};

/** Judged and made ready. Throws FitError for one that is not usable. */
const usable = (raw: RawDesign, captures: readonly BenchCapture[]): readonly FitCapture[] =>
  requireUsable(
    judgeCaptures(
      asJson(raw),
      captures.map((capture) => toFitCapture(raw, capture)),
    ),
  );

function layOver(raw: RawDesign, capture: BenchCapture): Laid {
  const { design, run, lineUp, comparison } = overlayCapture(asJson(raw), usable(raw, [capture])[0]!);
  const part = run.contributions?.selectedCore ?? run.senseVoltage;
  // The bell of the read, not the equal one of the write.
  const { readWidth } = design.cycle;
  const at = part.reduce(
    (best, value, i) => (run.time[i]! <= readWidth && Math.abs(value) > Math.abs(part[best]!) ? i : best),
    0,
  );
  const peak = Math.abs(part[at]!);
  return {
    line: lineUp,
    comparison,
    signalTime: run.time[at]!,
    signal: capture.observed === 'sense' ? peak : peak * wholeGain(design.amplifier),
  };
}
