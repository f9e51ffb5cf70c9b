import { readQuantity } from '../../engine/base/units.ts';
import { type Design } from '../../engine/design/design.ts';
import {
  SET_NAMES,
  type DesignRequirement,
  type Requirement,
  type SetName,
} from '../../engine/design/requirement.ts';
import { limitWords, setSentence, SET_WORDS } from '../../engine/strobe/verdict-words.ts';
import { judgeAgain } from '../../engine/strobe/verdict.ts';
import type { StrobeWindow } from '../../engine/strobe/window-result.ts';
import { RequestError } from '../request-error.ts';

/**
 * What --require asks for, all of it together: `design` for the design's own requirement; sets of cases by their names,
 * instead of those that the design asks for, or with `design` besides them; a voltage for the margin, a time for the
 * width of the window. Of several margins or widths the greatest counts.
 */
export function readRequirement(
  words: readonly string[],
  own: DesignRequirement,
): DesignRequirement | undefined {
  if (words.length === 0) return undefined;
  const named = words.filter(isSet);
  const design = words.includes('design');
  const quantities = words.filter((word) => word !== 'design' && !isSet(word)).map(readLeast);
  const whole = design || quantities.length === 0;
  const greatest = (of: 'margin' | 'width'): number =>
    Math.max(whole ? own[of] : 0, ...quantities.map((least) => least[of]));
  const asked = SET_NAMES.filter((name) => named.includes(name) || (design && own.sets.includes(name)));
  return {
    ...own,
    margin: greatest('margin'),
    width: greatest('width'),
    sets: asked.length > 0 ? asked : own.sets,
  };
}

/** A margin or a width: the least that is asked for of either. */
function readLeast(word: string): Requirement {
  const margin = readQuantity(word, 'V');
  const width = readQuantity(word, 's');
  const least = { margin: margin.ok ? margin.value : 0, width: width.ok ? width.value : 0 };
  if ((margin.ok || width.ok) && least.margin >= 0 && least.width >= 0) return least;
  throw badRequirement(word);
}

const isSet = (word: string): word is SetName => (SET_NAMES as readonly string[]).includes(word);

function badRequirement(word: string): RequestError {
  return new RequestError(400, {
    code: 'bad-option',
    field: '--require',
    message: `--require must be design, a set of cases (${SET_NAMES.join(', ')}), a margin such as "20 mV" or a width such as "30 ns"; received "${word.slice(0, 40)}": give one of these.`,
  });
}

/**
 * One sentence for each set of which something is required that is not met, and one for what all of them take for granted
 * and the design does not keep to: whatever is required, a build that cannot be had does not meet it.
 */
export function shortfalls(design: Design, { verdict }: StrobeWindow, wanted: DesignRequirement): string[] {
  const asked = { ...design, requirement: wanted };
  const again = { ...verdict, sets: judgeAgain(verdict.sets, wanted) };
  const short = wanted.sets.flatMap((name) =>
    again.sets[name]?.verdict === 'reads'
      ? []
      : [`Not met: ${SET_WORDS[name]}: ${setSentence(asked, again, name)}.`],
  );
  return verdict.limits.length === 0 ? short : [...short, `Not met: Limits: ${limitWords(verdict)}.`];
}
