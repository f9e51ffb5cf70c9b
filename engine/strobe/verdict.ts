import type { Requirement, SetName } from '../design/requirement.ts';
import type { BrokenLimit } from '../estimates/constraints/constraint.ts';
import type { SoftestCore } from '../estimates/softest-core.ts';
import type {
  CoreVerdict,
  Judgement,
  MarginVerdict,
  PartsVerdict,
  PartsYield,
  SetVerdicts,
  Verdict,
} from './verdict-of-sets.ts';
import type { CornerWindow } from './window-result.ts';

/** The runs' own error at the strobe is to stay under this part of the margin. */
export const NUMBERS_SHARE = 0.1;

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

/**
 * The verdict of a design: the worst of the sets asked for. Where all of these read, but take for granted what the design
 * does not keep to, that decides: no build of it does what its runs show.
 */
export function decide(
  sets: SetVerdicts,
  asked: readonly SetName[],
  limits: readonly BrokenLimit[],
): Verdict {
  const worst = worstOf(sets, asked);
  const beyond = worst.verdict === 'reads' && limits.length > 0;
  return {
    design: beyond ? 'short' : worst.verdict,
    decides: beyond ? 'limits' : worst.name,
    missing: asked.filter((name) => !sets[name]?.verdict),
    sets,
    limits,
  };
}

/** Of the sets asked for that were computed the worst, of the worst that with the least margin; else as designed. */
export function worstOf(
  sets: SetVerdicts,
  asked: readonly SetName[],
): { readonly name: SetName; readonly verdict: Judgement } {
  const found = asked.flatMap((name) => {
    const set = sets[name];
    return !set?.verdict ? [] : [{ name, verdict: set.verdict, margin: marginOf(set) }];
  });
  const judged = found.length > 0 ? found : [{ name: 'nominal' as const, ...sets.nominal }];
  return judged.reduce((least, set) =>
    RANK[set.verdict] < RANK[least.verdict] || (set.verdict === least.verdict && set.margin < least.margin)
      ? set
      : least,
  );
}

/** V of margin that a set leaves; a set that is no margin never decides by less of it. */
function marginOf(set: NonNullable<SetVerdicts[SetName]>): number {
  if ('margin' in set) return set.margin;
  return 'low' in set ? set.low : Infinity;
}
