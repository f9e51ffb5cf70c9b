import type { Explanation } from './explanation.ts';
import type { Part } from './seen.ts';

export type DiagnosisVerdict =
  'healthy' | 'fault' | 'one of several' | 'two faults' | 'small difference' | 'none of these';

export interface Conclusion {
  readonly verdict: DiagnosisVerdict;
  /** One or two sentences. */
  readonly statement: string;
  /** Codes that the verdict names, likeliest first; none for 'healthy', 'small difference' and 'none of these'. */
  readonly named: readonly string[];
}

/** An explanation must beat another by this much (ten: chances of about 150 to 1). */
const DECISIVE = 10;
/** A part agrees when this is left of it; a named fault may leave this of one. */
const LEFT = 1.8;
const LEFT_BY_FAULT = 3;
/** Share of what differs that a named fault must explain. */
const MOST = 0.75;
/** Explanations named together at most. */
const SEVERAL = 3;
/** A misfit under this is small. */
const SMALL = 4;

/** What the explanations support, and no more. */
export function conclude(singles: readonly Explanation[], pairs: readonly Explanation[] = []): Conclusion {
  const healthy = singles.find((e) => e.code === 'healthy') as Explanation;
  const faults = singles.filter((e) => e !== healthy);
  const best = faults[0];
  const agrees = disagreeing(healthy, LEFT).length === 0;
  const better = best !== undefined && best.score < healthy.score - DECISIVE;
  if (agrees && !better)
    return {
      verdict: 'healthy',
      statement: `The captures are what the design predicts, in ${partWords(Object.keys(healthy.parts) as Part[])} alike; no fault explains them decisively better.`,
      named: [],
    };
  if (agrees) return small(healthy, best);
  const likely = faults.filter(
    (e) => stands(e) && e.score < healthy.score - DECISIVE && e.score < best.score + DECISIVE,
  );
  if (likely.length === 1 && likely[0] === best)
    return { verdict: 'fault', statement: best.evidence, named: [best.code] };
  if (likely.length > 1 && likely.length <= SEVERAL && likely[0] === best)
    return {
      verdict: 'one of several',
      statement: `One of these, which the captures cannot tell apart: ${likely.map((e) => e.evidence).join(' ')}`,
      named: likely.map((e) => e.code),
    };
  const [pair, next] = pairs;
  if (pair !== undefined && stands(pair) && pair.score < best.score - 2 * DECISIVE)
    return next !== undefined && next.score < pair.score + DECISIVE
      ? unexplained(healthy, best, ' Two faults at once would, but the captures do not tell which two.')
      : {
          verdict: 'two faults',
          statement: `No single fault explains the captures; two together do: ${pair.evidence}`,
          named: pair.code.split(' + '),
        };
  return healthy.misfit < SMALL && better ? small(healthy, best) : unexplained(healthy, best);
}

const disagreeing = ({ parts }: Explanation, allowed: number): Part[] =>
  (Object.entries(parts) as [Part, number][]).filter(([, left]) => left > allowed).map(([part]) => part);

/** It explains most of what differs, and leaves no part of the cycle badly off. */
const stands = (e: Explanation): boolean => e.explains >= MOST && disagreeing(e, LEFT_BY_FAULT).length === 0;

const WORDS: Readonly<Record<Part, string>> = { edges: 'edges', bell: 'bell', tail: 'tail', write: 'write' };

function partWords(parts: readonly Part[]): string {
  const words = parts.map((part) => WORDS[part]);
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}

function small(healthy: Explanation, best: Explanation): Conclusion {
  const where = disagreeing(healthy, LEFT);
  const place = where.length === 0 ? '' : ` in ${partWords(where)}`;
  return {
    verdict: 'small difference',
    statement: `A small difference${place}, its cause not told: ${Number(healthy.misfit.toPrecision(2))} times what noise and model tolerance allow. "${best.title}" would fit best, but so small a difference has many causes: fit the core first, or capture a healthy address beside it.`,
    named: [],
  };
}

const unexplained = (healthy: Explanation, best: Explanation, more = ''): Conclusion => ({
  verdict: 'none of these',
  statement: `The captures differ from the design in ${partWords(disagreeing(healthy, LEFT))}, and no single fault of the list explains them: the best, "${best.title}", explains ${Math.max(0, Math.floor(best.explains * 100))} % and leaves ${Number(best.misfit.toPrecision(2))} times what noise and model tolerance allow.${more} Fit the design to a healthy build first, or capture more addresses and both bits.`,
  named: [],
});
