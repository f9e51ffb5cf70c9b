import type { Design } from '../design/design.ts';
import type { WireSource } from '../mat/wire-sources.ts';
import type { StrobeWindow } from '../strobe/window-result.ts';
import type { ExpectedTraces } from './expected-traces.ts';
import type { MeasuringPlan } from './measuring/measuring-plan.ts';
import type { PackStage } from './pack-stages.ts';
import type { Part } from './part.ts';
import type { PlanStep } from './plan-step.ts';
import type { Threading } from './threading-result.ts';
import type { Timing } from './timing.ts';

/** Everything to make a design from. */
export interface BuildPack {
  readonly design: Design;
  readonly window: StrobeWindow;
  readonly threading: Threading;
  readonly timing: Timing;
  readonly parts: readonly Part[];
  /** What to measure on one core before anything is threaded. */
  readonly measuring: MeasuringPlan;
  readonly plan: readonly PlanStep[];
  readonly traces: ExpectedTraces;
  /** What to build on the way, the whole last, each with what it is to show and what changes from one to the next. */
  readonly stages: readonly PackStage[];
  /** Where every value about wires comes from. */
  readonly wires: readonly WireSource[];
}
