import type { ExplainedTrace } from './fit-fault.ts';

/** How well one explanation fits, best first in the list. */
export interface Explanation {
  /** 'healthy', or the fault's code. */
  readonly code: string;
  readonly title: string;
  /** Fitted degree of the fault (a share, or s); undefined where there is only one. */
  readonly severity: number | undefined;
  /** True when that is as bad as is tried: it may be worse. */
  readonly atLimit: boolean;
  /** One sentence: how bad, how much it explains, what is left. */
  readonly evidence: string;
  /** Mean square of what is left over that of noise and model tolerance; about 1 or less: nothing is left. */
  readonly misfit: number;
  /** Share of the healthy design's misfit that this removes, 0..1 (0 for 'healthy'; negative: it fits worse). */
  readonly explains: number;
  /** Chi-square plus the logarithm of the number of samples for a fitted severity; differences rank. */
  readonly score: number;
  /** Laid over each capture; only for the first three and for 'healthy'. */
  readonly traces: readonly ExplainedTrace[] | undefined;
}

/**
 * Which single fault explains the captures best; "none of these" is an answer, and so is that the build is healthy. It
 * ranks, it does not prove: two faults at once are not tried.
 */
export interface Diagnosis {
  readonly verdict: 'healthy' | 'fault' | 'none of these';
  /** One or two sentences. */
  readonly statement: string;
  /** All explanations that could be tried, 'healthy' among them, best first. */
  readonly explanations: readonly Explanation[];
  /** Faults left out because these captures could not show them. */
  readonly notTried: readonly string[];
  readonly runs: number;
}
