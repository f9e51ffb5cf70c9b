import type { Design, Simulation, StrobeWindow } from '../engine/index.ts';

/** A warning of the design check; `field` is a JSON pointer into the design. */
export interface DesignWarning {
  readonly code: string;
  readonly field: string;
  readonly message: string;
  readonly remedy: string;
}

/** Everything the page shows of one design: the selected bit read as ONE and as ZERO, and the strobe analysis. */
export interface Run {
  readonly design: Design;
  readonly one: Simulation;
  readonly zero: Simulation;
  readonly window: StrobeWindow;
  readonly warnings: readonly DesignWarning[];
}
