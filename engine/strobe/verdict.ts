import type { Requirement, SetName } from '../design/design.ts';
import type { SoftestCore } from '../estimates/softest-core.ts';
import type { CornerWindow } from './window-result.ts';

/** reads: all that is asked for is there; short: it reads, but with less; fails: some bit would be read wrongly. */
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

/** The runs' own error at the strobe is to stay under this part of the margin. */
export const NUMBERS_SHARE = 0.1;

/** Sets judged one by one; null: not computed here. */
export interface SetVerdicts {
  readonly nominal: MarginVerdict;
  readonly corners: MarginVerdict | null;
  readonly parts: PartsVerdict | null;
  readonly core: CoreVerdict | null;
  readonly numbers: NumbersVerdict | null;
}

export interface Verdict {
  /** The worst over the sets that the design asks for. */
  readonly design: Judgement;
  /** The set that decides: of the worst ones that with the least margin. */
  readonly decides: SetName;
  /** Sets that are asked for and were not computed (a quick answer; parts not drawn): the verdict may still become worse. */
  readonly missing: readonly SetName[];
  readonly sets: SetVerdicts;
}

const RANK: Readonly<Record<Judgement, number>> = { fails: 0, short: 1, reads: 2 };

/** Reads with what is wanted; reads with less; does not read. No width means that aperture and jitter do not fit. */
export function judge(has: Requirement, wanted: Requirement): Judgement {
  if (!(has.margin >= 0) || !(has.width > 0)) return 'fails';
  return has.margin >= wanted.margin && has.width >= wanted.width ? 'reads' : 'short';
}

/** The softest core must keep its state; then the share of good stacks drawn, its whole interval, must be what is asked for. */
export function judgeParts(
  softest: SoftestCore,
  drawn: PartsYield | undefined,
  wanted: number,
): PartsVerdict {
  const { mat, stack, draws, seed } = drawn ?? { mat: null, stack: null, draws: 0, seed: 0 };
  const enough = stack && (stack.low >= wanted ? 'reads' : stack.high >= wanted ? 'short' : 'fails');
  return { verdict: softest.holds ? enough : 'fails', mat, stack, draws, seed, softest };
}

/** The worse of two judgements. */
export const worseOf = (a: Judgement, b: Judgement): Judgement => (RANK[a] <= RANK[b] ? a : b);

/** A window of one set, nominal or at its corners, as a verdict. */
export function judgeMargin(
  { margin, distance }: Pick<CornerWindow, 'margin' | 'distance'>,
  names: { readonly one: string; readonly zero: string },
  wanted: Requirement,
): MarginVerdict {
  const side = margin.one < margin.zero ? 'one' : 'zero';
  const has = { margin: margin.left, width: distance ? distance.toStart + distance.toEnd : 0 };
  return { verdict: judge(has, wanted), ...has, side, case: names[side] };
}

/** The sets that are margins held against another requirement than the design's; the others as they were. */
export function judgeAgain(sets: SetVerdicts, wanted: Requirement): SetVerdicts {
  const { nominal, corners, core } = sets;
  const margin = Math.min(corners?.margin ?? NaN, corners?.unknownTemperature ?? Infinity);
  return {
    ...sets,
    nominal: { ...nominal, verdict: judge(nominal, wanted) },
    corners: corners && { ...corners, verdict: judge({ ...corners, margin }, wanted) },
    core: core && { ...core, verdict: judgeCore(core, wanted) },
  };
}

/** A core that is not known is judged by the lower end of its interval; it has no window of its own. */
export const judgeCore = ({ low }: Pick<CoreVerdict, 'low'>, { margin }: Requirement): Judgement =>
  judge({ margin: low, width: Infinity }, { margin, width: 0 });

/** The verdict of a design: the worst of the sets asked for. */
export function decide(sets: SetVerdicts, asked: readonly SetName[]): Verdict {
  const found = asked.flatMap((name) => {
    const set = sets[name];
    return !set?.verdict ? [] : [{ name, verdict: set.verdict, margin: marginOf(set) }];
  });
  const judged = found.length > 0 ? found : [{ name: 'nominal' as const, ...sets.nominal }];
  const worst = judged.reduce((least, set) =>
    RANK[set.verdict] < RANK[least.verdict] || (set.verdict === least.verdict && set.margin < least.margin)
      ? set
      : least,
  );
  return {
    design: worst.verdict,
    decides: worst.name,
    missing: asked.filter((name) => !sets[name]?.verdict),
    sets,
  };
}

/** V of margin that a set leaves; a set that is no margin never decides by less of it. */
function marginOf(set: NonNullable<SetVerdicts[SetName]>): number {
  if ('margin' in set) return set.margin;
  return 'low' in set ? set.low : Infinity;
}
