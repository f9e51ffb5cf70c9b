import type { Design } from '../design/design.ts';
import type { SetName } from '../design/requirement.ts';
import { bindWords } from '../warnings/limit-words.ts';
import { formatFigure, formatQuantity } from '../base/format-quantity.ts';
import { worstOf } from './verdict.ts';
import type { Verdict } from './verdict-of-sets.ts';
import type { CoreVerdict } from './verdict-of-sets.ts';
import type { MarginVerdict } from './verdict-of-sets.ts';
import type { Judgement } from './verdict-of-sets.ts';
import type { StrobeWindow } from './window-result.ts';

/** A verdict in words: the same on the command line, over HTTP, in the report and on the page. */
const volts = (value: number): string => formatQuantity(value, 'V', 2);
const seconds = (value: number): string => formatQuantity(value, 's', 3);
const percent = (share: number): string => `${Number((share * 100).toPrecision(3))} %`;

export const JUDGEMENT_WORDS: Readonly<Record<Judgement, string>> = {
  reads: 'Reads',
  short: 'Reads, but less than asked',
  fails: 'Does not read',
};

/** Names of the sets as rows and cells show them. */
export const SET_WORDS: Readonly<Record<SetName, string>> = {
  nominal: 'As designed',
  corners: 'At the corners',
  parts: 'Yield of parts',
  core: 'Core uncertainty',
  numbers: 'Error of the run',
};

/**
 * The answer in one or two sentences, the first line of every door: whether the design reads, which set of cases decides
 * that, and by how much.
 */
export function verdictSentence(design: Design, { verdict }: Pick<StrobeWindow, 'verdict'>): string {
  const { decides, missing } = verdict;
  const later =
    missing.length === 0
      ? ''
      : ` Asked for, but not computed: ${missing.map((name) => lower(SET_WORDS[name])).join(', ')}.`;
  if (decides === 'limits') {
    const { name } = worstOf(verdict.sets, design.requirement.sets);
    const within = `Were that given, ${lower(SET_WORDS[name])}: ${setSentence(design, verdict, name)}.`;
    return `${BEYOND}. What its runs take for granted decides: ${limitWords(verdict)}. ${within}${later}${beyondWhatIsAsked(design, verdict)}`;
  }
  return `${JUDGEMENT_WORDS[verdict.design]}. ${SET_WORDS[decides]}, which decides: ${setSentence(design, verdict, decides)}.${later}${beyondWhatIsAsked(design, verdict)}${limitsSentence(verdict)}`;
}

/** What fails though nobody asked for it: a first line that says "Reads" must not leave it to the lines below. */
function beyondWhatIsAsked({ requirement }: Design, { design, sets }: Verdict): string {
  if (design === 'fails') return '';
  const failing = (['nominal', 'corners', 'parts', 'core'] as const).filter(
    (name) => sets[name]?.verdict === 'fails' && !requirement.sets.includes(name),
  );
  if (failing.length === 0) return '';
  return ` Not asked for, and there it does not read: ${failing.map((name) => lower(SET_WORDS[name])).join(', ')}.`;
}

/** What the judgement takes for granted and the design does not keep to; nothing where it keeps to all. Begins with a blank. */
export const limitsSentence = ({ limits }: Pick<Verdict, 'limits'>): string =>
  limits.length === 0
    ? ''
    : ` Taken for granted in this, but beyond ${limits.length === 1 ? 'its limit' : 'their limits'}: ${limitWords({ limits })}.`;

/** "average current of the supply: 1.8 A of 1.5 A; …" */
export const limitWords = ({ limits }: Pick<Verdict, 'limits'>): string =>
  limits.map((limit) => bindWords(limit)).join('; ');

/** Where all sets read, of a build that its drivers, supply or wires do not allow. */
const BEYOND = 'Reads, but beyond its limits';

/** One set, a row: name, judgement, what it rests on; last what all of them take for granted in vain. */
export function setRows(design: Design, { verdict }: Pick<StrobeWindow, 'verdict'>): string[][] {
  const { sets, limits } = verdict;
  const beyond = limits.length === 0 ? [] : [['Limits', 'Beyond them', limitWords(verdict)]];
  const rows = (Object.keys(SET_WORDS) as SetName[]).flatMap((name) => {
    const set = sets[name];
    if (set === null) return [];
    const asked = design.requirement.sets.includes(name) ? '' : ' (not asked for)';
    return [
      [SET_WORDS[name], `${judgementWord(name, set.verdict)}${asked}`, setSentence(design, verdict, name)],
    ];
  });
  return [...rows, ...beyond];
}

function judgementWord(name: SetName, verdict: Judgement | null): string {
  if (verdict === null) return 'Not known';
  return name === 'numbers' ? FINENESS[verdict] : JUDGEMENT_WORDS[verdict];
}

/** The run's own error is no question of reading or not. */
const FINENESS: Readonly<Record<Judgement, string>> = {
  reads: 'Small enough',
  short: 'Not small enough',
  fails: 'Not small enough',
};

/** What one set leaves, without its name or a full stop. */
export function setSentence({ requirement }: Design, { sets }: Verdict, name: SetName): string {
  const { nominal, corners, parts, core, numbers } = sets;
  const given = { nominal, corners, parts, core, numbers }[name];
  if (given === null) return 'not computed';
  switch (name) {
    case 'nominal':
      return marginSentence(nominal, requirement);
    case 'corners':
      return marginSentence(corners!, requirement) + unknownHeat(corners!);
    case 'core':
      return `the corner margin lies between ${volts(core!.low)} and ${volts(core!.high)} over what is not known of the core, where ${volts(requirement.margin)} is asked for${nextSentence(core!)}`;
    case 'numbers':
      return `the run's own error at the strobe is ${formatFigure(numbers!.error, 'V', 2)}${numbers!.verdict === 'reads' ? '' : ', more than a tenth of the margin'}`;
    case 'parts':
      return partsSentence(parts!, requirement.yield);
  }
}

const unknownHeat = ({ unknownTemperature }: MarginVerdict): string =>
  unknownTemperature === undefined
    ? ''
    : `; nothing is known of how the core changes with temperature, and at the worse end of what such cores do ${volts(unknownTemperature)} is left`;

function marginSentence(
  { margin, width, side, case: worst }: MarginVerdict,
  asked: { readonly margin: number; readonly width: number },
): string {
  const who = `the ${side === 'one' ? 'least ONE' : 'greatest ZERO'} (${worst.replace(/^(ONE|ZERO), /u, '')})`;
  if (Number.isNaN(margin)) return 'no run could be completed';
  if (margin < 0)
    return side === 'one'
      ? `${who} falls ${volts(-margin)} short of the threshold with its uncertainty`
      : `${who} is ${volts(-margin)} too high for the threshold with its uncertainty`;
  if (width <= 0)
    return `the margin is ${volts(margin)} (${who}), but the strobe, with its aperture and jitter, lies in no window`;
  const wanted = `where ${volts(asked.margin)} and ${seconds(asked.width)} are asked for`;
  return `the margin is ${volts(margin)} (${who}) in a window of ${seconds(width)}, ${wanted}`;
}

function nextSentence({ measureNext }: CoreVerdict): string {
  if (measureNext === null) return '';
  const [low, high] = measureNext.narrowsTo.map(volts);
  return `; to measure ${measureNext.what} would narrow it to about ${low === high ? low : `${low} to ${high}`}`;
}

function partsSentence(
  { stack, draws, softest }: NonNullable<Verdict['sets']['parts']>,
  wanted: number,
): string {
  const soft = softest.holds
    ? ''
    : `the softest core of the stack (${softest.sigmas.toFixed(1)} standard deviations) ${keeps(softest.one, 'ONE')} and ${keeps(softest.zero, 'ZERO')} after long trains of half-selects and inhibited writes, where ${percent(softest.least)} is to be kept`;
  const drawn =
    stack === null
      ? ''
      : `${percent(stack.yield)} of whole stacks read every bit (${percent(stack.low)} to ${percent(stack.high)} at 95 %, ${draws} drawn), where ${percent(wanted)} is asked for`;
  return (
    [drawn, soft].filter((text) => text !== '').join('; ') ||
    'no parts were drawn; the softest core of the stack keeps its state'
  );
}

/** What a core keeps of a bit, or that it has turned over. */
const keeps = (share: number, bit: 'ONE' | 'ZERO'): string =>
  share > 0
    ? `keeps ${formatQuantity(100 * share, '1', 2)} % of a ${bit}`
    : `is turned over where it held a ${bit}`;

const lower = (text: string): string => text[0]!.toLowerCase() + text.slice(1);
