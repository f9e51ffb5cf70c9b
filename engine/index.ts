/**
 * The public library: what a script around it needs. Each name is documented where it is defined. All quantities are
 * SI numbers, all arrays over time `Float64Array`; what is refused is thrown as one sentence (what, requirement with
 * unit, value received, remedy). Page, server and tests import other modules from their own files.
 */

// A design: from text or JSON to a checked value, and back.
export { checkDesign, parseDesignText } from './check/check-design.ts';
export { designToJson } from './design/design-to-json.ts';
export { designJsonSchema } from './design/schema/design-schema.ts';
export { DesignError } from './design/design-error.ts';
export { CORE_PRESETS } from './design/core-presets.ts';
export { designWarnings } from './warnings/design-warnings.ts';
export type { Design } from './design/design.ts';

// One run, its window, what the whole sense line does, what would help.
export { simulate } from './simulate/simulate.ts';
export { wholeWindow } from './studies/whole-window.ts';
export { verdictSentence } from './strobe/verdict-words.ts';
export { channelReport } from './channel/channel-report.ts';
export { advise } from './advice/advice.ts';
export type { Simulation } from './solver/result.ts';
export type { StrobeWindow } from './strobe/window-result.ts';

// From needs to builds that meet them.
export { propose } from './propose/propose.ts';
export type { Proposals } from './propose/answer.ts';

// Studies: many runs, point by point.
export { evaluatePoint, mergeStudies, planStudy, summarise } from './studies/study.ts';
export { StudyError } from './studies/shared/shape.ts';
export type { StudyPlan, StudyResult } from './studies/shared/shape.ts';

// The bench: captures, fits, faults, and single cores.
export { readCapture } from './capture/read-capture.ts';
export { CaptureError } from './capture/capture.ts';
export { judgeCaptures } from './fitting/judge/judge-captures.ts';
export { fitDesign } from './fitting/fit-design.ts';
export { fitSeveral } from './fitting/jig/fit-several.ts';
export { analyseReads } from './fitting/reads/analyse-reads.ts';
export { diagnose } from './fitting/diagnosis/diagnose.ts';
export { predict } from './predict/predict.ts';
export { whatNext } from './predict/next/what-next.ts';
export { knowledgeOf } from './predict/knowledge.ts';
export { FitError } from './fitting/bench-runs.ts';
export { checkHandbook } from './core/handbook/check-handbook.ts';
export { coreReport } from './core/handbook/core-report.ts';
export { HandbookError } from './core/handbook/values.ts';
export type { FitResult } from './fitting/fit-result.ts';
export type { Diagnosis } from './fitting/diagnosis/diagnosis.ts';

// Results as documents, tables and text.
export { makeReport } from './report/report.ts';
export { buildPack, packFiles } from './pack/build-pack.ts';
export { simulationCsv, studyCsv, toJsonText, windowCsv } from './export/serialise.ts';
export { formatQuantity } from './base/format-quantity.ts';
export { parseQuantity } from './base/units.ts';
export { VERSION } from './base/version.ts';
