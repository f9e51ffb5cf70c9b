import type { CaptureOptions, CaptureReading } from '../../engine/capture/capture.ts';
import type { CoreReport } from '../../engine/core/handbook/core-report.ts';
import type { LineUp } from '../../engine/fitting/align/line-up.ts';
import type { BenchProgress } from '../../engine/fitting/bench-runs.ts';
import type { Comparison } from '../../engine/fitting/comparison.ts';
import type { Diagnosis } from '../../engine/fitting/diagnosis/diagnosis.ts';
import type { Judgement } from '../../engine/fitting/judge/judgement.ts';
import type { FitResult } from '../../engine/fitting/fit-result.ts';
import type { SeveralFit } from '../../engine/fitting/jig/fit-several.ts';
import type { FittedCore, JigCaptures } from '../../engine/fitting/jig/fit-core.ts';
import type { AskedRanges } from '../../engine/fitting/unknown-ranges.ts';
import type { UnknownName } from '../../engine/fitting/unknown-table.ts';
import type { Patch } from '../../engine/base/json-patch.ts';
import type { Knowledge } from '../../engine/predict/knowledge.ts';
import type { WhatNext } from '../../engine/predict/next/what-next.ts';
import type { Prediction } from '../../engine/predict/prediction.ts';
import type { RawDesign } from '../model/pointer.ts';
import type { BenchCapture } from '../model/bench-capture.ts';

/** What the bench asks of its worker, by kind: the question and the answer. */
export interface BenchTasks {
  readonly read: {
    readonly piece: never;
    readonly ask: { readonly content: string | Uint8Array; readonly options: CaptureOptions };
    readonly answer: CaptureReading;
  };
  readonly judge: {
    readonly piece: never;
    readonly ask: { readonly raw: RawDesign; readonly capture: BenchCapture };
    readonly answer: Judgement;
  };
  readonly compare: {
    readonly piece: never;
    readonly ask: { readonly raw: RawDesign; readonly capture: BenchCapture };
    readonly answer: Laid;
  };
  readonly fit: {
    readonly piece: BenchProgress;
    readonly ask: {
      readonly raw: RawDesign;
      readonly captures: readonly BenchCapture[];
      readonly unknowns: readonly UnknownName[];
      readonly ranges: AskedRanges;
    };
    readonly answer: FitResult;
  };
  readonly predict: {
    readonly piece: BenchProgress;
    readonly ask: { readonly known: Knowledge; readonly changes: readonly Patch[] };
    readonly answer: Prediction;
  };
  readonly next: {
    readonly piece: BenchProgress;
    readonly ask: { readonly known: Knowledge };
    readonly answer: WhatNext;
  };
  readonly diagnose: {
    readonly piece: BenchProgress;
    readonly ask: {
      readonly raw: RawDesign;
      readonly captures: readonly BenchCapture[];
      /** s on the first capture's own axis. */
      readonly strobeAt: number | undefined;
    };
    readonly answer: Diagnosis;
  };
  readonly measure: {
    readonly piece: never;
    readonly ask: JigCaptures;
    readonly answer: FittedCore['measured'];
  };
  readonly several: {
    readonly piece: never;
    readonly ask: {
      /** The file of captures, and by name the texts that it names. */
      readonly file: unknown;
      readonly texts: ReadonlyMap<string, Uint8Array>;
    };
    readonly answer: SeveralFit;
  };
  readonly core: {
    readonly piece: never;
    readonly ask: { readonly handbook: unknown };
    readonly answer: CoreReport;
  };
}

/** A capture laid over its prediction. */
export interface Laid {
  readonly line: LineUp;
  readonly comparison: Comparison;
  /** V, greatest of the selected core's part: what the chart makes room for. */
  readonly signal: number;
  /** s from the start of read: where that is. */
  readonly signalTime: number;
}
