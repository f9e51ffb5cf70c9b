import {
  healthySentence,
  nothingSeenSentence,
  severalSentence,
  smallSentence,
  twoFaultsSentence,
  unexplainedSentence,
} from './diagnose-words.ts';
import type { Diagnosis, Explanation } from './diagnosis.ts';
import type { Part } from './parts.ts';

type Conclusion = Pick<Diagnosis, 'verdict' | 'statement' | 'named'>;

/** An explanation must beat another by this much, in chi-square over the best one's misfit (ten: chances of about 150 to 1). */
const DECISIVE = 10;
/** Standard deviations by which a healthy part may depart. */
const STRAINED = 2;
/** A part agrees when this is left of it; a named fault may leave this of one. */
const LEFT = 2;
const LEFT_BY_FAULT = 2.5;
/** Share of what differs that a named fault must explain. */
const MOST = 0.75;
/** A misfit, and a strain, under this are small. */
const SMALL = 4;

/**
 * What the explanations support, and no more.
 * @param pairs of faults, where no single one would do
 */
export function conclude(singles: readonly Explanation[], pairs: readonly Explanation[] = []): Conclusion {
  const healthy = singles.find((e) => e.code === 'healthy') as Explanation;
  const faults = singles.filter((e) => e !== healthy);
  const [best] = faults;
  const room = DECISIVE * Math.max(1, best.misfit);
  const agrees = disagreeing(healthy, LEFT).length === 0 && healthy.strain <= STRAINED;
  const better = best.score < healthy.score - room;
  if (agrees && !better) return asDesigned(healthy, faults, room);
  if (agrees) return small(healthy, best);
  // A rival that lies as well forbids a name, even where it explains less with nothing let go.
  const likely = faults.filter((e) => lies(e) && e.score < best.score + room);
  const told = stands(best) && better;
  if (told && likely.length === 1) return { verdict: 'fault', statement: best.evidence, named: [best.code] };
  if (told)
    return {
      verdict: 'one of several',
      statement: severalSentence(likely),
      named: likely.map((e) => e.code),
    };
  const [pair, next] = pairs;
  if (pair !== undefined && stands(pair) && pair.score < best.score - 2 * room) {
    // One of the two is the best single fault: where that has a rival, so has the pair.
    const rivals = faults.filter((e) => e.score < best.score + 2 * room).length > 1;
    return rivals || (next !== undefined && next.score < pair.score + room)
      ? unexplained(healthy, best, true)
      : { verdict: 'two faults', statement: twoFaultsSentence(pair), named: pair.code.split(' + ') };
  }
  return Math.max(healthy.misfit, healthy.strain) < SMALL
    ? small(healthy, best)
    : unexplained(healthy, best, false);
}

/** Nothing differs; is there a fault that would look the same? */
function asDesigned(healthy: Explanation, faults: readonly Explanation[], room: number): Conclusion {
  const parts = Object.keys(healthy.parts) as Part[];
  const unseen = faults.filter(({ worst }) => worst < healthy.score + room);
  return unseen.length === 0
    ? { verdict: 'healthy', statement: healthySentence(parts), named: [] }
    : {
        verdict: 'nothing seen',
        statement: nothingSeenSentence(parts, unseen),
        named: unseen.map((e) => e.code),
      };
}

const disagreeing = ({ parts }: Explanation, allowed: number): Part[] =>
  (Object.entries(parts) as [Part, number][]).filter(([, left]) => left > allowed).map(([part]) => part);

/** It leaves no part of the cycle badly off, and strains no healthy part. */
const lies = (e: Explanation): boolean => e.strain <= STRAINED && disagreeing(e, LEFT_BY_FAULT).length === 0;

/** It lies well, and explains most of what differs. */
const stands = (e: Explanation): boolean => lies(e) && e.explains >= MOST;

const small = (healthy: Explanation, best: Explanation): Conclusion => ({
  verdict: 'small difference',
  statement: smallSentence(healthy, best, disagreeing(healthy, LEFT)),
  named: [],
});

const unexplained = (healthy: Explanation, best: Explanation, pairsRival: boolean): Conclusion => ({
  verdict: 'none of these',
  statement: unexplainedSentence(healthy, best, disagreeing(healthy, LEFT), pairsRival),
  named: [],
});
