import type { Design } from '../../design/design.ts';

/** How bad a fault is: one number that the diagnosis fits between bounds. */
export interface Severity {
  /** Values tried before the refinement. */
  readonly tried: readonly number[];
  readonly low: number;
  readonly high: number;
  /** Which end is the worse one; 'both' where the fault may go either way. */
  readonly worst: 'low' | 'high' | 'both';
  readonly describe: (value: number, healthy: Design) => string;
}

/** One thing that may be wrong with a build, as a change of its design. */
export interface Fault {
  readonly code: string;
  readonly title: string;
  /** Undefined: there is only one degree of it. */
  readonly severity: Severity | undefined;
  readonly change: (design: Design, severity: number) => Design;
  /** -1: what is seen is upside down. */
  readonly polarity?: -1;
  /** True for the fault of the strobe, which moves no trace: severity is its lateness in s. */
  readonly movesStrobe?: true;
  /** False where the design cannot have the fault; left out: any may. */
  readonly possible?: (design: Design) => boolean;
  /** False where the captures could not show it; left out: any may. */
  readonly shows?: (shown: Shown) => boolean;
}

/** What the captures could show. */
export interface Shown {
  /** A write of a ZERO, so that inhibit current flows. */
  readonly inhibit: boolean;
  /** The output of the amplifier. */
  readonly amplifier: boolean;
  /** The instant of the strobe. */
  readonly strobe: boolean;
}
