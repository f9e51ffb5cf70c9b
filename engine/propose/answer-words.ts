import { formatQuantity } from '../base/format-quantity.ts';
import { JUDGEMENT_WORDS } from '../strobe/verdict-words.ts';
import type { Proved } from './prove.ts';
import type { Proposals, Rejected } from './answer.ts';
import type { Relaxed } from './relax.ts';
import type { Proposal } from './choose.ts';
import { combinationWords, reserveWords } from './build-words.ts';
import { bindWords } from '../warnings/limit-words.ts';

/** The answer to needs in sentences: met or not, why a combination is not proposed, what a need must become. */

/** The first line: how many builds, or how near the nearest comes. */
export function proposalsSentence({ met, complete, proposals, nearest }: Proposals): string {
  const early = complete ? '' : ' The search has not come to its end.';
  if (met) {
    const n = proposals.length;
    return `Met. ${n === 1 ? 'One build does' : `${n} builds do`} all that is asked for at the worst corner, shown by the strobe window of ${n === 1 ? 'its own file' : 'each file'}.${early}`;
  }
  if (nearest === null)
    return complete
      ? 'Not met. No build of these needs gives a read to judge.'
      : `Nothing is known yet.${early}`;
  if (nearest.value >= 1)
    return nearest.proof === undefined
      ? `Not shown yet. ${capital(combinationWords(nearest.combination))} promises ${reserveWords(nearest.reserve)} of what is asked for; its strobe window was not run.${early}`
      : `Not met. ${capital(combinationWords(nearest.combination))} comes to ${reserveWords(nearest.reserve)} of what is asked for in the search, but the strobe window of its file does not show it: ${JUDGEMENT_WORDS[nearest.proof.verdict.design].toLowerCase()}${drawnWords(nearest.proof.verdict)}.${early}`;
  return `Not met. ${nearestWords(nearest)}${early}`;
}

/** In a few words what is known of a search that goes on. */
export function soFarWords({ proposals, nearest }: Proposals): string {
  const [first, ...more] = proposals;
  if (first !== undefined) {
    const others = more.length === 0 ? '' : `, and ${more.length} more`;
    return `shown: ${combinationWords(first.combination)}, reserve ${reserveWords(first.reserve)}${others}`;
  }
  return nearest === null
    ? ''
    : `nearest, not shown yet: ${combinationWords(nearest.combination)}, reserve ${reserveWords(nearest.reserve)}`;
}

/** Where stacks of parts as they come decide: how many of them read every bit. */
function drawnWords({ decides, sets: { parts } }: Proposal['proof']['verdict']): string {
  if (decides !== 'parts' || !parts?.stack) return '';
  const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;
  const { low, high } = parts.stack;
  return `; of stacks of parts as they come between ${percent(low)} and ${percent(high)} read every bit (${parts.draws} draws, 95 % confidence), and the lower end must reach the yield that is asked for`;
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

function nearestWords(nearest: Proved): string {
  const broken = nearest.binding.filter(({ excess }) => excess > 1e-9);
  const reserve =
    nearest.reserve < 0
      ? 'its least ONE lies under its greatest ZERO'
      : `it reaches ${reserveWords(nearest.reserve)} of margin and window asked for at the worst corner`;
  const over =
    broken.length === 0 ? '' : ` Beyond their limits: ${broken.map((b) => bindWords(b)).join('; ')}.`;
  return `The nearest build is ${combinationWords(nearest.combination)}: ${reserve}.${over}`;
}

/** Why a combination is not proposed. */
export function rejectedWords({ why, reserve, refined, binding }: Rejected): string {
  const upper = refined ? '' : ' at most';
  const broken = binding.filter(({ excess }) => excess > 1e-9).map((bind) => bindWords(bind));
  switch (why) {
    case 'short':
      return [`reserve ${reserveWords(reserve)}${upper}`, ...broken].join('; ');
    case 'not-shown':
      return `reserve ${reserveWords(reserve)} in the search, but its strobe window does not show all that is asked for`;
    case 'beaten':
      return 'a proposed build is at least as good in everything';
    case 'more-lines':
      return `reserve ${reserveWords(reserve)} at most: another mat with this winding promises as much, or has fewer lines`;
    case 'not-searched':
      return `reserve ${reserveWords(reserve)} at most: others promised more and were searched`;
  }
}

/** What one need must become, or that no value was found to be enough alone. */
export function relaxedWords({ need, label, unit, from, to, short, best, farthest, also }: Relaxed): string {
  if (also !== undefined) {
    const both = [
      { need, label, unit, from, to, short, best, farthest },
      { ...also, best },
    ];
    return to === null
      ? `${label} and ${also.label}: not found enough together either, ${reached(best)}`
      : both.map((each) => relaxedWords(each)).join(', together with ');
  }
  const q = (value: number): string =>
    unit === '1' ? `${Number((100 * value).toPrecision(2))} %` : formatQuantity(value, unit, 2);
  if (need === '/drivers/track')
    return to === null ? `${label}: not found enough alone, ${reached(best)}` : `${label}: enough`;
  if (to === null) return `${label}: ${q(from)}; not found enough alone, ${reached(best)} at ${q(farthest)}`;
  // Nothing between was tried, or nothing that was tried fell short.
  const tried = short === null || short === from ? '' : ` (${q(short)} was not found enough)`;
  return `${label}: ${q(from)} to ${q(to)}${tried}`;
}

const reached = (best: number): string =>
  best < 0 ? 'other limits stay broken' : `best ${reserveWords(best)}`;
