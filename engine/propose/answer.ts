import { nameProposals } from './choose.ts';
import type { Proposal } from './choose.ts';
import type { JobResult } from './jobs.ts';
import type { Proved } from './prove.ts';
import type { Needs } from './needs.ts';
import type { Relaxed } from './relax.ts';
import type { ValueRange } from './moves.ts';
import { found, kindOf, nearest, provedOf } from './results.ts';

/** The answer to needs: builds that meet them at the worst corner, best first, or what stands in the way of any. */
export interface Proposals {
  /** Is there a build that does all that is asked for, shown by the strobe window of its own file? */
  readonly met: boolean;
  /** False where the search was stopped before its end. */
  readonly complete: boolean;
  /** Each with how far its values may move, once that has been looked at. */
  readonly proposals: readonly (Proposal & { readonly ranges?: readonly ValueRange[] })[];
  /** Combinations that were tried and are not proposed, best first. */
  readonly rejected: readonly Rejected[];
  /** Where nothing is proposed: what came nearest, and the needs that stand in its way. */
  readonly nearest: Proved | null;
  readonly relax: readonly Relaxed[];
}

export interface Rejected extends Pick<Proved, 'combination' | 'value' | 'reserve' | 'binding' | 'current'> {
  /** Was it searched in earnest, by the worst of all cases? Else `value` is an upper end. */
  readonly refined: boolean;
  /**
   * short: it does not do what is asked for; not-shown: its own strobe window says so; beaten: another proposed build is
   * better in everything; more-lines: a mat with fewer lines does as well; not-searched: others promised more.
   */
  readonly why: 'short' | 'not-shown' | 'beaten' | 'more-lines' | 'not-searched';
}

/** The answer from whatever was done; results in the order of their jobs. */
export function summariseProposals(
  needs: Needs,
  results: readonly JobResult[],
  complete: boolean,
): Proposals {
  const proposals = nameProposals(needs, provedOf(results));
  const chosen = new Set(proposals.map(({ combination }) => JSON.stringify(combination)));
  const seen = new Set<string>();
  const refined = found(results, 'refine');
  const like = new Set(refined.map(({ combination }) => kindOf(combination)));
  const rejected = [...refined, ...found(results, 'try')].flatMap((item, i): Rejected[] => {
    const key = JSON.stringify(item.combination);
    if (chosen.has(key) || seen.has(key)) return [];
    seen.add(key);
    const { combination, value, reserve, binding, current } = item;
    const isRefined = i < refined.length;
    const why = reasonOf(item, isRefined, like.has(kindOf(combination)));
    return [{ combination, value, reserve, binding, current, refined: isRefined, why }];
  });
  const relax = new Map<string, Relaxed>();
  for (const result of results) {
    if (result.step !== 'relax') continue;
    const key = `${result.relaxed.need} ${result.relaxed.also?.need ?? ''}`;
    const before = relax.get(key);
    if (before === undefined || easier(result.relaxed, before) < 0) relax.set(key, result.relaxed);
  }
  return {
    met: proposals.length > 0,
    complete,
    proposals: proposals.map((item) => {
      const like = JSON.stringify(item.combination);
      const move = results.find(
        (result) => result.step === 'move' && JSON.stringify(result.combination) === like,
      );
      return move?.step === 'move' ? { ...item, ranges: move.ranges } : item;
    }),
    rejected: rejected.sort((a, b) => Number(b.refined) - Number(a.refined) || b.value - a.value),
    nearest: proposals.length > 0 ? null : (nearest(results) ?? null),
    relax: [...relax.values()].sort(easier),
  };
}

function reasonOf({ value, proof }: Proved, refined: boolean, likeRefined: boolean): Rejected['why'] {
  if (value < 1) return 'short';
  if (!refined) return likeRefined ? 'more-lines' : 'not-searched';
  return proof?.verdict.design === 'reads' ? 'beaten' : 'not-shown';
}

/** The smaller change first; of those that do not help alone, what reaches more. */
const easier = (a: Relaxed, b: Relaxed): number =>
  (a.to === null || b.to === null ? Number(a.to === null) - Number(b.to === null) : effort(a) - effort(b)) ||
  b.best - a.best;

/** How far a need must move, over what it is or becomes. */
const effort = ({ to, from }: Relaxed): number =>
  from === 0 || to === null ? 1 : Math.abs(to - from) / Math.max(Math.abs(from), Math.abs(to));
