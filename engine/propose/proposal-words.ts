import { formatQuantity } from '../base/format-quantity.ts';
import type { Proposal } from './choose.ts';
import { reserveWords } from './build-words.ts';
import { bindWords } from '../warnings/limit-words.ts';

/** Proposed builds side by side, and what decides each. */

/** What holds a build back: cases that decide its margin, then limits that it comes near. */
export const whyWords = ({ proof, binding }: Pick<Proposal, 'proof' | 'binding'>): string =>
  [
    `margin between "${proof.setBy.one}" and "${proof.setBy.zero}"`,
    ...binding.map((bind) => bindWords(bind)),
  ].join('; ');

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
