import { formatQuantity } from '../base/format-quantity.ts';
import { CAUSE_NAMES } from '../network/causes.ts';
import type { MisfitCause } from './comparison.ts';
import type { Comparison } from './comparison.ts';

/** A cause, or a shift in time, as the head of a row. */
export const causeWords = ({ cause }: MisfitCause): string =>
  cause === 'later' ? 'All of it, shifted in time' : CAUSE_NAMES[cause].title;

/** "a tenth more" as it is counted: +10 %, or a shift with its direction. */
export function changeWords({ cause, change }: MisfitCause): string {
  if (cause === 'later')
    return `${formatQuantity(Math.abs(change), 's', 2)} ${change < 0 ? 'earlier' : 'later'}`;
  const percent = Number((Math.abs(change) * 100).toPrecision(2));
  return `${percent} % ${change < 0 ? 'less' : 'more'}`;
}

/** Least share of the difference that one cause must explain to be worth naming. */
const WORTH = 0.2;

/** What the misfit looks like, in one sentence. */
export function misfitWords({ verdict, misfitLooksLike }: Comparison): string {
  if (verdict === 'noise alone') return 'Nothing is left for a cause to explain.';
  const [best] = misfitLooksLike;
  if (!best || best.share < WORTH) return 'What is left looks like none of the causes alone.';
  const removed = `would remove ${Math.round(best.share * 100)} % of the difference`;
  return best.cause === 'later'
    ? `What is left looks most like a shift in time: ${changeWords(best)} ${removed}.`
    : `What is left looks most like ${CAUSE_NAMES[best.cause].phrase}: ${changeWords(best)} of it ${removed}.`;
}
