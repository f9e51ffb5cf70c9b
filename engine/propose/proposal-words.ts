import { formatQuantity } from '../base/format-quantity.ts';
import type { WindingKind } from '../design/mat.ts';
import { JUDGEMENT_WORDS } from '../strobe/verdict-words.ts';
import type { Combination } from './combinations.ts';
import type { Bind } from './bindings.ts';
import type { Proved } from './prove.ts';
import type { Proposals, Rejected } from './answer.ts';
import type { ValueRange } from './moves.ts';
import type { Relaxed } from './relax.ts';
import type { Proposal } from './choose.ts';

/** The answer to needs in words, the same on the command line and on the page. */

const WINDINGS: Readonly<Record<WindingKind, string>> = {
  'shared-one-run': 'one run',
  'shared-two-halves': 'two halves',
  'separate-diagonal': 'fourth wire, diagonal',
  'separate-rectangular': 'fourth wire, rectangular',
  custom: 'a winding of its own',
};

/** "two halves, 16 × 16, 1 amplifier a bit"; with the core's number where there are several. */
export function combinationWords(c: Combination, cores = 1): string {
  const core = cores > 1 ? `, core ${c.core + 1}` : '';
  return `${WINDINGS[c.winding]}, ${c.rows} × ${c.columns}, ${c.amplifiers} amplifier${c.amplifiers === 1 ? '' : 's'} a bit${core}`;
}

const LIMITS: Readonly<Record<Bind['code'], string>> = {
  'softest-core': 'flux that the softest core keeps',
  cycle: 'time that read, gap, write and recovery take',
  'half-select-over-knee': 'half-select drive at the knee of the warm core',
  'inhibited-core-over-knee': 'drive of an inhibited core at its knee',
  'inhibit-over-knee': 'inhibit at the knee of the warm core',
  'no-switching': 'drive that makes the core switch at all',
  'read-incomplete': 'time that the slowest core needs in the read',
  'write-incomplete': 'time that the slowest core needs in the write',
  'core-untested': 'stray of a core away from the drive of its data',
  'inhibit-late': 'start of the inhibit before the write',
  'inhibit-short': 'end of the inhibit after the write',
  'disturb-meets-inhibit': 'gap before the disturb pulse',
  'line-volts': 'volts that X and Y lines need',
  'inhibit-volts': 'volts that the inhibit wire needs',
  'inhibit-clamp': 'volts at the inhibit clamp',
  'turn-off-kick': 'kick of a line at turn-off',
  'supply-voltage': 'volts that drivers take of the supply',
  dissipation: 'heat of a driver',
  tracking: 'error of drives that follow the temperature',
  'supply-current': 'average current of the supply',
  'supply-peak': 'peak current of the supply',
  reservoir: 'reservoir beside the drivers',
  'wire-heat': 'heat of the wire',
  'core-heat': 'heat of a core that is always addressed',
  hole: 'wires through the hole of the core',
  recovery: 'recovery before the next read',
  'strobe-outside-read': 'strobe within the read',
  'threshold-above-one': 'threshold under a ONE',
  'amplifier-saturates': 'output of the amplifier',
  mismatch: 'echo at the end of the wire',
  sag: 'sag of the coupling capacitor',
};

/** "average current of the supply 1.42 A of 1.5 A"; a share of flux is one that must be passed. */
export function bindWords({ code, used, limit, unit }: Bind): string {
  const q = (value: number): string =>
    unit === '1' ? `${Number((100 * value).toPrecision(3))} %` : formatQuantity(value, unit, 3);
  return code === 'softest-core'
    ? `${LIMITS[code]}: ${q(limit)}, at least ${q(used)}`
    : `${LIMITS[code]}: ${q(used)} of ${q(limit)}`;
}

/** What holds a build back: cases that decide its margin, then limits that it comes near. */
export const whyWords = ({ proof, binding }: Pick<Proposal, 'proof' | 'binding'>): string =>
  [
    `margin between "${proof.setBy.one}" and "${proof.setBy.zero}"`,
    ...binding.map((bind) => bindWords(bind)),
  ].join('; ');

/** "half-select current 330 mA (322 mA to 338 mA)": a value with how far it may move by itself. */
export const rangeWords = ({ label, unit, value, low, high }: ValueRange): string => {
  const q = (each: number): string => formatQuantity(each, unit, 3);
  return `${label} ${q(value)} (${q(low)} to ${q(high)})`;
};

export const reserveWords = (reserve: number): string => `${Math.round(100 * reserve)} %`;

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

/** What one need must become, or that alone it never does. */
export function relaxedWords({ need, label, unit, from, to, best, farthest, also }: Relaxed): string {
  if (also !== undefined) {
    const both = [
      { need, label, unit, from, to, best, farthest },
      { ...also, best },
    ];
    return to === null
      ? `${label} and ${also.label}: not even together, ${reached(best)}`
      : both.map((each) => relaxedWords(each)).join(', together with ');
  }
  const q = (value: number): string =>
    unit === '1' ? `${Number((100 * value).toPrecision(2))} %` : formatQuantity(value, unit, 2);
  if (need === '/drivers/track')
    return to === null ? `${label}: not enough alone, ${reached(best)}` : `${label}: enough`;
  return to === null
    ? `${label}: ${q(from)}; never alone, ${reached(best)} at ${q(farthest)}`
    : `${label}: ${q(from)} to ${q(to)}`;
}

const reached = (best: number): string =>
  best < 0 ? 'other limits stay broken' : `best ${reserveWords(best)}`;

/** What a builder compares of proposals: a row each, in the order of `proposalRow`. */
export const PROPOSAL_ROWS = [
  'reserve',
  'margin at the corners',
  'window at the corners',
  'margin, core as it may be',
  'yield of stacks, at least',
  'wires through a core',
  'drivers',
  'amplifiers',
  'supply, average',
  'drives together, peak',
  'drivers need',
  'inhibit needs',
  'shortest cycle',
] as const;

export function proposalRow({ reserve, proof }: Proposal): string[] {
  const stack = proof.verdict.sets.parts?.stack;
  return [
    reserveWords(reserve),
    formatQuantity(proof.margin, 'V', 3),
    formatQuantity(proof.width, 's', 2),
    coreRange(proof),
    stack ? `${(100 * stack.low).toFixed(1)} %` : 'not drawn',
    String(proof.wires),
    String(proof.drivers),
    String(proof.amplifiers),
    formatQuantity(proof.supplyAverage, 'A', 3),
    formatQuantity(proof.supplyPeak, 'A', 3),
    formatQuantity(proof.driverVolts, 'V', 3),
    formatQuantity(proof.inhibitVolts, 'V', 3),
    formatQuantity(proof.shortestCycle, 's', 3),
  ];
}

/** Between what the corner margin lies over what is not known of the core. */
function coreRange({ verdict }: Proposal['proof']): string {
  const { core } = verdict.sets;
  if (core === null) return 'not known';
  return `${formatQuantity(core.low, 'V', 2)} to ${formatQuantity(core.high, 'V', 2)}`;
}

/** What is not known of the core does to a build, and what to measure; undefined where it reads all the same. */
export function coreWords({ proof }: Pick<Proposal, 'proof'>): string | undefined {
  const { core } = proof.verdict.sets;
  if (core === null || core.verdict === 'reads') return undefined;
  const next = core.measureNext;
  const measure =
    next === null
      ? 'measure one on a jig'
      : `measure ${next.what}, which narrows it to ${next.narrowsTo.map((value) => formatQuantity(value, 'V', 2)).join(' to ')}`;
  return `The core is taken as its data say. Over what is not known of it the margin at the corners lies between ${coreRange(proof).replace(' to ', ' and ')}: ${measure}, and search again with what was found.`;
}

/** "widest margin, shortest cycle": what a proposal is best at. */
export const meritWords = ({ merits }: Pick<Proposal, 'merits'>): string =>
  merits.length === 0 ? 'a middle way' : merits.join(', ');

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

/** "1-shared-two-halves-16x16.json": what the file of a proposed design is called. */
export function proposalFileName(number: number, c: Combination): string {
  const amplifiers = c.amplifiers === 1 ? '' : `-${c.amplifiers}-amplifiers`;
  const core = c.core === 0 ? '' : `-core-${c.core + 1}`;
  return `${number}-${c.winding}-${c.rows}x${c.columns}${amplifiers}${core}.json`;
}
