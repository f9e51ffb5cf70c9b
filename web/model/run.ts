import type { Design } from '../../engine/design/design.ts';
import type { Simulation } from '../../engine/solver/result.ts';
import type { StrobeEnsemble } from '../../engine/strobe/ensemble-result.ts';

/** A warning of the design check; `field` is a JSON pointer into the design. */
export interface DesignWarning {
  readonly field: string;
  readonly message: string;
  readonly remedy: string;
}

/** The one of the two traces that has come, while the other is being read. */
export interface FirstTrace {
  readonly bit: 0 | 1;
  readonly trace: Simulation;
}

/** Everything the page shows of one design. */
export interface Run {
  readonly design: Design;
  /** The design as it stands with a ONE, and with a ZERO, in the selected core. */
  readonly one: Simulation;
  readonly zero: Simulation;
  /** What strobe and threshold are judged by; undefined when no ONE or no ZERO could be computed. */
  readonly ensemble: StrobeEnsemble | undefined;
  /** Why there is no ensemble. */
  readonly reason: string | undefined;
  /** 'traces': not yet judged; 'quick': patterns and disturb states only; 'full': addresses, history and corners too. */
  readonly grade: 'traces' | 'quick' | 'full';
  readonly warnings: readonly DesignWarning[];
}
