import type { Contribution } from '../network/causes.ts';

/**
 * The margin of one side of the threshold, from the signal of the selected core to what is left: every step adds or
 * takes, and all of them together are what is left, to rounding. At the ends of sets that were computed the sum so far
 * is that set's own margin on this side.
 */
export interface ChainStep {
  readonly step: ChainCode;
  /** V at the sense wire; negative: takes from the margin. The step `left` is the sum of all before. */
  readonly volts: number;
  /** The sum up to and with this step is the margin of this set on this side. */
  readonly set?: 'nominal' | 'corners' | 'core';
  /** Name of the case, where the step belongs to one. */
  readonly of?: string;
}

export type ChainCode =
  | Contribution
  /** What the mean of the two terminals adds through the finite rejection. */
  | 'commonMode'
  /** Clamp, output limit and recovery of the amplifier. */
  | 'overload'
  /** Another case is worse than the one that was split (after the strobe was moved). */
  | 'otherCase'
  | 'threshold'
  | 'uncertainty'
  /** One input alone moved to the end that the worst corner has it at. */
  | 'drive'
  | 'supply'
  | 'temperature'
  /** Tolerance of the threshold, at the corners. */
  | 'thresholdTolerance'
  /** What inputs do together beyond the sum of each alone, and what another case at the corners adds. */
  | 'interaction'
  /** What is not known of the core. */
  | 'core'
  | 'left';
