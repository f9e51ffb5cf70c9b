import type { Design } from '../../design/design.ts';
import type { Explanation } from './diagnosis.ts';
import { atLimit, type Fault } from './fault.ts';
import type { Part } from './parts.ts';

type Found = Pick<Explanation, 'misfit' | 'explains' | 'interval'>;

const rounded = (misfit: number): number => Number(misfit.toPrecision(2));
/** Explanations told in one sentence at most. */
const MOST_TOLD = 4;
const ALLOWED = 'times what noise, model and the leeway of healthy parts allow';

/** How bad faults together are, how much of the difference they explain, and what is left. */
export function evidenceSentence(
  faults: readonly Fault[],
  severities: readonly number[],
  { misfit, explains, interval }: Found,
  healthy: Design,
): string {
  const left = `what is left is ${rounded(misfit)} ${ALLOWED}`;
  if (faults[0].code === 'healthy') return `As designed, ${left}.`;
  const words = faults.map((f, i) => faultWords(f, severities[i], healthy, interval)).join('; and ');
  if (!Number.isFinite(misfit)) return `${words}: the model has no finite answer with it.`;
  const share =
    explains > 0
      ? `explains ${Math.floor(explains * 1000) / 10} % of what differs`
      : 'fits no better than the design as it is';
  return `${words}: ${share}; ${left}.`;
}

function faultWords(
  { title, severity: range, ...fault }: Fault,
  severity: number,
  healthy: Design,
  interval: Explanation['interval'],
): string {
  if (range === undefined) return title;
  const told = (value: number): string => range.describe(value, healthy);
  const limit = atLimit({ ...fault, title, severity: range }, severity)
    ? ', the worst that is tried: it may be worse'
    : '';
  const ends = interval && [told(interval.low), told(interval.high)];
  const between =
    limit !== '' || ends === undefined || ends[0] === ends[1]
      ? ''
      : `; 95 %: from "${ends[0]}" to "${ends[1]}"`;
  return `${title} (${told(severity)}${limit}${between})`;
}

function partWords(parts: readonly Part[]): string {
  return parts.length < 2 ? parts.join('') : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`;
}

export const healthySentence = (parts: readonly Part[]): string =>
  `The captures are what the design predicts, in ${partWords(parts)}${parts.length > 1 ? ' alike' : ''}; no fault explains them decisively better.`;

/** @param unseen faults that would look the same */
export const nothingSeenSentence = (parts: readonly Part[], unseen: readonly Explanation[]): string =>
  `Nothing wrong is seen: the captures are what the design predicts, in ${partWords(parts)}${parts.length > 1 ? ' alike' : ''}. They would look the same with ${unseen.length === 1 ? 'this fault' : 'any of these faults'}, so it is not ruled out: ${unseen.map(({ title }) => title).join('; ')}.`;

/** @param likely best first */
export const severalSentence = (likely: readonly Explanation[]): string =>
  `One of these, which the captures cannot tell apart: ${likely
    .slice(0, MOST_TOLD)
    .map((e) => e.evidence)
    .join(' ')}${likely.length > MOST_TOLD ? ` And ${likely.length - MOST_TOLD} more, as ranked.` : ''}`;

export const twoFaultsSentence = ({ evidence }: Explanation): string =>
  `No single fault explains the captures; two together do: ${evidence}`;

/** @param where the parts that differ */
export const smallSentence = (healthy: Explanation, best: Explanation, where: readonly Part[]): string =>
  `A small difference${where.length === 0 ? '' : ` in ${partWords(where)}`}, its cause not told: ${rounded(healthy.misfit)} ${ALLOWED}. "${best.title}" would fit best, but so small a difference has many causes: fit the core first, or capture a healthy address beside it.`;

/** @param rivals more than one pair of faults would explain them */
export function unexplainedSentence(
  { parts }: Explanation,
  best: Explanation,
  where: readonly Part[],
  rivals: boolean,
): string {
  const places = where.length === 0 ? (Object.keys(parts) as Part[]) : where;
  return `The captures differ from the design in ${partWords(places)}, and no single fault of the list explains them: the best, "${best.title}", explains ${Math.max(0, Math.floor(best.explains * 100))} % and leaves ${rounded(best.misfit)} ${ALLOWED}.${rivals ? ' Two faults at once would, but the captures do not tell which two.' : ''} Fit the design to a healthy build first, or capture more addresses and both bits.`;
}
