import { CAUSE_NAMES } from '../network/causes.ts';
import type { ChainCode } from './chain-step.ts';
import type { ChainStep } from './chain-step.ts';
import { SET_WORDS } from './verdict-words.ts';

/** Heads of the steps of the chain of the margin. */
export const CHAIN_WORDS: Readonly<Record<ChainCode, string>> = {
  directCoupling: CAUSE_NAMES.directCoupling.title,
  halfSelectedReversible: CAUSE_NAMES.halfSelectedReversible.title,
  halfSelectedIrreversible: CAUSE_NAMES.halfSelectedIrreversible.title,
  selectedCore: CAUSE_NAMES.selectedCore.title,
  inhibit: CAUSE_NAMES.inhibit.title,
  commonMode: 'Common mode that the balance lets through',
  overload: 'Amplifier at its limit, and its recovery',
  otherCase: 'Another case, worse at this strobe',
  threshold: 'Threshold',
  uncertainty: 'Its stated uncertainty',
  drive: 'Drive currents at their end',
  supply: 'Supply at its end',
  temperature: 'Temperature at its end',
  interaction: 'Those together, and another case',
  thresholdTolerance: 'Tolerance of the threshold',
  core: 'What is not known of the core',
  left: 'Left',
};

/** Step, what it adds or takes, and the margin of a set where the sum has come to one. Steps of nothing are left out. */
export function chainRows(
  chain: readonly ChainStep[],
  millivolts: (volts: number) => string,
): [string, string, string][] {
  let sum = 0;
  return chain.flatMap(({ step, volts, set }) => {
    if (step !== 'left') sum += volts;
    if (Math.abs(volts) < NOTHING && set === undefined && step !== 'left') return [];
    const so = set === undefined ? '' : `${SET_WORDS[set].toLowerCase()}: ${millivolts(sum)}`;
    return [[CHAIN_WORDS[step], millivolts(volts), so] satisfies [string, string, string]];
  });
}

/** V: a step that would be printed as nothing. */
const NOTHING = 5e-6;
