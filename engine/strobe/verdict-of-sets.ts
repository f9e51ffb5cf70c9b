/** reads: all that is asked for is there; short: it reads, but with less; fails: some bit would be read wrongly. */

import type { SetName } from '../design/requirement.ts';
import type { BrokenLimit } from '../estimates/constraints/constraint.ts';
import type { SoftestCore } from '../estimates/softest-core.ts';

export type Judgement = 'reads' | 'short' | 'fails';
/** A set of cases judged by its worst. */
export interface MarginVerdict {
  readonly verdict: Judgement;
  /** V at the sense wire: the worst case's distance from the threshold, its uncertainty in this set taken off. */
  readonly margin: number;
  /** s of strobe window about the strobe in force; 0 where it lies in none. */
  readonly width: number;
  /** The half of the margin that is the lesser. */
  readonly side: 'one' | 'zero';
  /** Name of the case that sets it. */
  readonly case: string;
  /**
   * V: what is left where a temperature coefficient of which nothing is known lies at the worse end of its range; it
   * has counted in `verdict`. Absent where the coefficients are known, or do not matter.
   */
  readonly unknownTemperature?: number;
}

/** A share of good ones among draws, with its 95 % interval. */
export interface Yield {
  readonly yield: number;
  readonly low: number;
  readonly high: number;
}

/** Share of whole mats and of whole stacks of parts as they come that read every bit. */
export interface PartsYield {
  readonly mat: Yield;
  readonly stack: Yield;
  /** Draws, and their seed. */
  readonly draws: number;
  readonly seed: number;
}

export interface PartsVerdict {
  /** Null: not known, since none were drawn and the softest core, which alone can only fail, holds. */
  readonly verdict: Judgement | null;
  /** Null: not drawn; only the softest core was looked at. */
  readonly mat: Yield | null;
  readonly stack: Yield | null;
  readonly draws: number;
  readonly seed: number;
  readonly softest: SoftestCore;
}

export interface CoreVerdict {
  readonly verdict: Judgement;
  /** V: interval of the corner margin over what is not known of the core. */
  readonly low: number;
  readonly high: number;
  /** The one parameter that takes most off, and the end of its range that does. */
  readonly worst: { readonly parameter: string; readonly value: number } | null;
  /** The one measurement that narrows the interval most, and to what, V. */
  readonly measureNext: { readonly what: string; readonly narrowsTo: readonly [number, number] } | null;
}

export interface NumbersVerdict {
  readonly verdict: Judgement;
  /** V at the sense wire: the runs' own error at the strobe. */
  readonly error: number;
}

/** Sets judged one by one; null: not computed here. */
export interface SetVerdicts {
  readonly nominal: MarginVerdict;
  readonly corners: MarginVerdict | null;
  readonly parts: PartsVerdict | null;
  readonly core: CoreVerdict | null;
  readonly numbers: NumbersVerdict | null;
}

export interface Verdict {
  /** The worst over the sets that the design asks for; never `reads` where there are `limits`. */
  readonly design: Judgement;
  /** The set that decides: of the worst ones that with the least margin; `limits` where all of them read beyond these. */
  readonly decides: SetName | 'limits';
  /** Sets that are asked for and were not computed (a quick answer; parts not drawn): the verdict may still become worse. */
  readonly missing: readonly SetName[];
  readonly sets: SetVerdicts;
  /**
   * What every set takes for granted and the design does not keep to: drivers and supply that cannot give the currents, or
   * wires that do not bear them. Where there are any, the judgement holds for another build than this one.
   */
  readonly limits: readonly BrokenLimit[];
}
