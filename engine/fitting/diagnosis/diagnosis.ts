import type { Part } from './parts.ts';

/** An explanation laid over one capture. */
export interface ExplainedTrace {
  readonly label: string;
  /** s from the start of read. */
  readonly time: Float64Array;
  /** V, offset removed. */
  readonly measured: Float64Array;
  /** V, with what a healthy build may differ by. */
  readonly predicted: Float64Array;
}

/** How well an explanation fits, best first in the list. */
export interface Explanation {
  /** 'healthy', or the fault's code; of two together both, with a plus between them. */
  readonly code: string;
  readonly title: string;
  /** Fitted degree of the fault (a share, or s); undefined where there is only one, and of two together. */
  readonly severity: number | undefined;
  /** Its 95 % interval, as wide as noise, model and leeway make it; undefined where only a few degrees were tried. */
  readonly interval: { readonly low: number; readonly high: number } | undefined;
  /** True when that is as bad as is tried: it may be worse. */
  readonly atLimit: boolean;
  /** One sentence: how bad, how much it explains, what is left. */
  readonly evidence: string;
  /** Mean square of what is left over what noise and leeway allow; about 1 or less: nothing is left. */
  readonly misfit: number;
  /** The same of each part of the cycle, the greatest over the captures. */
  readonly parts: Readonly<Partial<Record<Part, number>>>;
  /** The most by which any healthy part had to depart for it, in standard deviations of what parts come with. */
  readonly strain: number;
  /** Share of what differs from the healthy design, with no leeway, that this removes, 0..1 (0 for 'healthy'; negative: it fits worse). */
  readonly explains: number;
  /** Chi-square at the worst degree that is tried: of a fault that cannot be seen it is that of the healthy design. */
  readonly worst: number;
  /** Chi-square plus the logarithm of the number of samples for each fitted severity; differences rank. */
  readonly score: number;
  /** Laid over each capture; only for the first three and for 'healthy'. */
  readonly traces: readonly ExplainedTrace[] | undefined;
}

/** What the captures support; only 'healthy', 'fault' and 'two faults' are said with confidence. */
export type DiagnosisVerdict =
  | 'healthy'
  | 'nothing seen'
  | 'fault'
  | 'one of several'
  | 'two faults'
  | 'small difference'
  | 'none of these';

/**
 * Which fault explains the captures best. 'Nothing seen' stands for 'healthy' where some fault would look the same. "None of these" is an answer, and so is that the build is healthy, which is
 * said only where edges, bell, tail and write all agree; so is a small difference whose cause is not told.
 */
export interface Diagnosis {
  readonly verdict: DiagnosisVerdict;
  /** One or two sentences. */
  readonly statement: string;
  /** Codes that the verdict names, likeliest first; of 'nothing seen' the faults that would look the same. */
  readonly named: readonly string[];
  /** All explanations that could be tried, 'healthy' among them, best first; then two faults together where one would not do. */
  readonly explanations: readonly Explanation[];
  /** Faults left out because these captures could not show them. */
  readonly notTried: readonly string[];
  readonly runs: number;
}
