import { readQuantity } from '../../engine/base/units.ts';
import { SET_NAMES, type Design, type DesignRequirement, type SetName } from '../../engine/design/design.ts';
import { setSentence, SET_WORDS } from '../../engine/strobe/verdict-words.ts';
import { decide, judge } from '../../engine/strobe/verdict.ts';
import type { StrobeWindow } from '../../engine/strobe/window-result.ts';
import { RequestError } from '../request-error.ts';

/**
 * What --require asks for: `design` for the design's own requirement, a set of cases by its name instead of those that
 * the design asks for, a voltage for the margin, a time for the width of the window; several together.
 */
export function readRequirement(
  words: readonly string[],
  own: DesignRequirement,
): DesignRequirement | undefined {
  if (words.length === 0) return undefined;
  const named = words.filter(isSet);
  const whole = words.includes('design') || words.length === named.length;
  let wanted: DesignRequirement = {
    ...own,
    ...(whole ? {} : { margin: 0, width: 0 }),
    ...(named.length > 0 ? { sets: named } : {}),
  };
  for (const word of words) {
    const margin = readQuantity(word, 'V');
    const width = readQuantity(word, 's');
    if (word === 'design' || isSet(word)) continue;
    else if (margin.ok) wanted = { ...wanted, margin: margin.value };
    else if (width.ok) wanted = { ...wanted, width: width.value };
    else throw badRequirement(word);
  }
  return wanted;
}

const isSet = (word: string): word is SetName => (SET_NAMES as readonly string[]).includes(word);

function badRequirement(word: string): RequestError {
  return new RequestError(400, {
    code: 'bad-option',
    field: '--require',
    message: `--require must be design, a set of cases (${SET_NAMES.join(', ')}), a margin such as "20 mV" or a width such as "30 ns"; received "${word.slice(0, 40)}": give one of these.`,
  });
}

/** One sentence for each set of which something is required that is not met. */
export function shortfalls(design: Design, { verdict }: StrobeWindow, wanted: DesignRequirement): string[] {
  const asked = { ...design, requirement: wanted };
  const { nominal, corners, core } = verdict.sets;
  // The sets judged again by what is required here, which need not be what the design asks for.
  const sets = {
    ...verdict.sets,
    nominal: { ...nominal, verdict: judge(nominal, wanted) },
    corners: corners && { ...corners, verdict: judge(corners, wanted) },
    core: core && { ...core, verdict: judge({ margin: core.low, width: Infinity }, { ...wanted, width: 0 }) },
  };
  const again = decide(sets, wanted.sets);
  return wanted.sets.flatMap((name) =>
    again.sets[name]?.verdict === 'reads'
      ? []
      : [`Not met: ${SET_WORDS[name]}: ${setSentence(asked, again, name)}.`],
  );
}
