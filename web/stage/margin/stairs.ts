import { CHAIN_WORDS } from '../../../engine/strobe/chain-words.ts';
import type { ChainStep } from '../../../engine/strobe/chain.ts';
import { SET_WORDS } from '../../../engine/strobe/verdict-words.ts';

/** One stair of the margin: from one height on the trace's own axis to another, V. A sum stands from nothing. */
export interface Stair {
  readonly label: string;
  readonly volts: number;
  readonly from: number;
  readonly to: number;
  readonly sum: boolean;
}

/** V: what takes or adds less is told together, as the rest. */
const REST = 0.3e-3;

/** The chain of the margin as stairs that sum exactly; where a set's margin is reached, its sum. */
export function stairsOf(chain: readonly ChainStep[]): readonly Stair[] {
  const stairs: Stair[] = [];
  let height = 0;
  let rest = 0;
  const step = (label: string, volts: number): void => {
    stairs.push({ label, volts, from: height, to: height + volts, sum: false });
    height += volts;
  };
  const setDownRest = (): void => {
    if (rest !== 0) step('The rest', rest);
    rest = 0;
  };
  for (const { step: code, volts, set } of chain) {
    if (code === 'left') continue;
    if (Math.abs(volts) < REST) rest += volts;
    else step(CHAIN_WORDS[code], volts);
    if (set === undefined) continue;
    setDownRest();
    stairs.push({ label: `${SET_WORDS[set]}, this side`, volts: height, from: 0, to: height, sum: true });
  }
  setDownRest();
  return stairs;
}

/** Lowest and highest of all stairs, V, zero among them. */
export const stairSpan = (stairs: readonly Stair[]): readonly [number, number] => [
  Math.min(0, ...stairs.flatMap(({ from, to }) => [from, to])),
  Math.max(1e-6, ...stairs.flatMap(({ from, to }) => [from, to])),
];
