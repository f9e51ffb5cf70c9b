import type { ChainCode } from '../../../engine/strobe/chain-step.ts';
import type { ChainStep } from '../../../engine/strobe/chain-step.ts';

/** Columns of the stairs in their order, with what stands under each. */
export const COLUMNS = {
  core: 'core',
  half: 'half-sel.',
  coupling: 'coupling',
  inhibit: 'inhibit',
  amplifier: 'amplifier',
  other: 'other case',
  rest: 'rest',
  corners: 'corners',
  unknown: 'core ±',
} as const;
export type ColumnKey = keyof typeof COLUMNS;

const COLUMN_OF: Readonly<Record<ChainCode, ColumnKey | 'band' | undefined>> = {
  selectedCore: 'core',
  halfSelectedReversible: 'half',
  halfSelectedIrreversible: 'half',
  directCoupling: 'coupling',
  inhibit: 'inhibit',
  commonMode: 'amplifier',
  overload: 'amplifier',
  otherCase: 'other',
  threshold: 'band',
  uncertainty: 'band',
  thresholdTolerance: 'band',
  drive: 'corners',
  supply: 'corners',
  temperature: 'corners',
  interaction: 'corners',
  core: 'unknown',
  left: undefined,
};

/** What the steps of one side's chain come to. */
export interface Sums {
  /** V: what the signal itself gains in each column. */
  readonly steps: Record<ColumnKey, number>;
  /** V: the threshold at the strobe, its uncertainty, and its tolerance. */
  readonly level: number;
  readonly uncertainty: number;
  readonly tolerance: number;
  /** V: the chain's own sum at the end of each set. */
  readonly left: Readonly<Partial<Record<'nominal' | 'corners' | 'core', number>>>;
}

/** `sign`: what is good for the ONE lifts its signal, what is good for the ZERO lowers it. */
export function sumsOf(chain: readonly ChainStep[], sign: 1 | -1): Sums {
  const steps = Object.fromEntries(Object.keys(COLUMNS).map((key) => [key, 0])) as Record<ColumnKey, number>;
  const of = (code: ChainCode): number => chain.find(({ step }) => step === code)?.volts ?? 0;
  const left: { -readonly [Set in keyof Sums['left']]: number } = {};
  let sum = 0;
  for (const { step, volts, set } of chain) {
    if (step === 'left') continue;
    sum += volts;
    if (set !== undefined) left[set] = sum;
    const column = COLUMN_OF[step];
    if (column !== undefined && column !== 'band') steps[column] += sign * volts;
  }
  return {
    steps,
    level: -sign * of('threshold'),
    uncertainty: -of('uncertainty'),
    tolerance: -of('thresholdTolerance'),
    left,
  };
}
