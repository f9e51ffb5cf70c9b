import { formatQuantity } from '../../engine/base/format-quantity.ts';
import type { CoreVerdict } from '../../engine/strobe/verdict-of-sets.ts';
import type { PartsVerdict } from '../../engine/strobe/verdict-of-sets.ts';
import type { MarginVerdict } from '../../engine/strobe/verdict-of-sets.ts';
import { limitsSentence } from '../../engine/strobe/verdict-words.ts';
import { intervalText } from './interval-words.ts';
import type { StrobeState } from './strobe-state.ts';
import { CELLS, conclude, type Cell, type SetName, type Verdict } from './verdict-cells.ts';

export const millivolts = (value: number): string => formatQuantity(value, 'V', 3);

/** The four cells of a strobe state and their headline; a set that the engine has not judged is unknown. */
export function verdictOf(strobe: StrobeState | undefined, coreFrom: string): Verdict {
  if (!strobe)
    return conclude([
      unknown('nominal', 'being computed'),
      unknown('corners', 'being computed'),
      unknown('parts', 'ask for it'),
      unknown('core', coreFrom),
    ]);
  const { nominal, corners, parts, core } = strobe.verdict.sets;
  const wanted = `${formatQuantity(strobe.required.margin, 'V', 3)} asked for`;
  const cells = [
    marginCell('nominal', nominal, wanted),
    corners ? marginCell('corners', corners, wanted) : unknown('corners', 'being computed'),
    parts ? partsCell(parts) : unknown('parts', 'ask for it'),
    core ? coreCell(core, coreFrom) : unknown('core', coreFrom),
  ];
  return withLimits(conclude(cells, strobe.verdict.decides), strobe.verdict);
}

/** What all cells take for granted and the design does not keep to: no row of them is good then. */
function withLimits(verdict: Verdict, told: StrobeState['verdict']): Verdict {
  if (told.limits.length === 0) return verdict;
  const because = `${verdict.because}${limitsSentence(told)}`;
  if (verdict.standing !== 'reads') return { ...verdict, because };
  return {
    ...verdict,
    because,
    standing: 'short',
    headline: `${verdict.headline.replace(/\.$/u, '')}, if drivers and supply gave more than they can.`,
    short: 'Beyond its limits',
  };
}

const unknown = (set: SetName, detail: string): Cell => ({
  set,
  title: titleOf(set),
  standing: 'unknown',
  figure: 'not known yet',
  detail,
  margin: undefined,
});

const titleOf = (set: SetName): string => CELLS.find((cell) => cell.set === set)!.title;

function marginCell(set: 'nominal' | 'corners', has: MarginVerdict, wanted: string): Cell {
  if (Number.isNaN(has.margin)) return unknown(set, 'no run gave an answer');
  return {
    set,
    title: titleOf(set),
    standing: has.verdict,
    figure: `${millivolts(has.margin)} left`,
    detail: has.width > 0 ? wanted : 'no window at this strobe',
    margin: has.margin,
  };
}

function partsCell({ verdict, stack, mat, draws, softest }: PartsVerdict): Cell {
  const drawn = stack ?? mat;
  const percent = (share: number): number => Math.round(100 * share);
  return {
    set: 'parts',
    title: titleOf('parts'),
    standing: verdict ?? 'unknown',
    figure: drawn
      ? `${Math.round(drawn.yield * draws)} of ${draws}`
      : softest.holds
        ? 'not drawn'
        : 'cores fail',
    detail: drawn
      ? `${percent(drawn.low)} to ${percent(drawn.high)} % of ${stack ? 'stacks' : 'mats'}`
      : `softest core ${softest.holds ? 'holds' : 'fails'}`,
    margin: undefined,
  };
}

const coreCell = ({ verdict, low, high }: CoreVerdict, coreFrom: string): Cell => ({
  set: 'core',
  title: titleOf('core'),
  standing: verdict,
  figure: intervalText(low, high, 'V'),
  detail: coreFrom,
  margin: low,
});
