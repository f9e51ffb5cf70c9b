import { formatQuantity } from '../../base/format-quantity.ts';
import type { LineUp } from './line-up.ts';

/** What is to be told where a capture lies about as well in a second place; '' where it does not. */
export function rivalWords({ delay, polarity, rival }: LineUp): string {
  if (rival === undefined) return '';
  const how = rival.polarity === polarity ? 'with the same polarity' : 'with the other polarity';
  return `It lies about as well ${formatQuantity(Math.abs(rival.delay - delay), 's', 3)} ${rival.delay > delay ? 'later' : 'earlier'} on its own time, ${how}: if that is meant, say which part of the cycle it holds, or how the probe lies.`;
}
