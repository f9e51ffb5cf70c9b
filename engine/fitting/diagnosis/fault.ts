import type { Design } from '../../design/design.ts';
import type { Trace } from '../align/trace-tools.ts';

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

/** Runs whose traces are added with weights: what no single design can say. */
export type Term = { readonly design: Design; readonly weight: number };

/** One thing that may be wrong with a build, as a change of its design. */
export interface Fault {
  readonly code: string;
  readonly title: string;
  /** Undefined: there is only one degree of it. */
  readonly severity: Severity | undefined;
  readonly change: (design: Design, severity: number) => Design;
  /** In place of `change` where lines are driven that no design drives together. */
  readonly terms?: (design: Design) => readonly Term[];
  /** -1: what is seen is upside down. */
  readonly polarity?: -1;
  /** Nothing in the build is wrong, but it is seen otherwise: what becomes of a trace. */
  readonly seen?: (trace: Trace, severity: number) => Trace;
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
  /** A write of a ONE, so that none should. */
  readonly one: boolean;
  /** The output of the amplifier. */
  readonly amplifier: boolean;
  /** The instant of the strobe. */
  readonly strobe: boolean;
}

/** Is the fitted severity the worst that is tried? */
export function atLimit({ severity: range }: Fault, severity: number): boolean {
  if (range === undefined) return false;
  const near = (end: number): boolean => Math.abs(severity - end) <= 1e-3 * Math.abs(end);
  return (range.worst !== 'low' && near(range.high)) || (range.worst !== 'high' && near(range.low));
}
