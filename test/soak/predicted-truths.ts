import { checkDesign } from '../../engine/check/check-design.ts';
import { applyPatches, type Json, type Patch } from '../../engine/base/json-patch.ts';
import type { Design } from '../../engine/design/design.ts';
import { fitDesign } from '../../engine/fitting/fit-design.ts';
import type { FitCapture } from '../../engine/fitting/fit-captures.ts';
import type { UnknownName } from '../../engine/fitting/unknown-table.ts';
import { randomStream } from '../../engine/numerics/random.ts';
import { knowledgeOf, type Knowledge } from '../../engine/predict/knowledge.ts';
import { BOARD, capture } from '../independent/builds.ts';
import { runTruth } from '../independent/memory.ts';
import { truthOf, type Departure } from '../independent/truth.ts';

/** Fields that were left to a default, and how far the truths have them off: within what the ledger calls honest. */
const OFF: readonly (readonly [field: string, unit: string, least: number, most: number])[] = [
  ['/wire/resistancePerCore', 'ohm', 0.85, 1.2],
  ['/wire/inductancePerCore', 'H', 0.75, 1.35],
  ['/wire/capacitancePerCore', 'F', 0.6, 1.7],
  ['/wire/lossTime', 's', 0.4, 2.5],
  ['/drive/x/rise', 's', 0.8, 1.3],
  ['/drive/y/rise', 's', 0.8, 1.3],
];

/** A build that the product does not know: its cores are off the start's, and of another family. */
export interface PlantedBuild {
  /** The design as the truth has it. */
  readonly file: Json;
  readonly departure: Departure;
}

export function plantBuild(index: number): PlantedBuild {
  const random = randomStream(1629, index);
  const between = (low: number, high: number): number => low * (high / low) ** random();
  const base = checkDesign(BOARD);
  const p = base.core.parameters;
  const soft = between(0.93, 1.07);
  const core: readonly (readonly [string, number, string])[] = [
    ['remanentFlux', p.remanentFlux * between(0.88, 1.12), 'Wb'],
    ['dynamicThreshold', p.dynamicThreshold * soft * between(0.97, 1.03), 'A'],
    ['coerciveDrive', p.coerciveDrive * soft * between(0.96, 1.04), 'A'],
    ['staticKneeWidth', p.staticKneeWidth * between(0.7, 1.3), 'A'],
    ['dynamicKneeWidth', p.dynamicKneeWidth * between(0.7, 1.3), 'A'],
    ['switchingResistance', p.switchingResistance * between(0.85, 1.15), 'ohm'],
  ];
  const patches: Patch[] = [
    ...core.map(([name, value, unit]) => ({ path: `/core/parameters/${name}`, value: `${value} ${unit}` })),
    ...OFF.map(([path, unit, low, high]) => ({
      path,
      value: `${valueOf(base, path) * between(low, high)} ${unit}`,
    })),
  ];
  return {
    file: applyPatches(BOARD, patches),
    departure: {
      skew: 0.6 * random() - 0.3,
      knee: random() < 0.5 ? 'other' : 'exponential',
      elastic: random() < 0.5 ? 'logarithmic' : 'hyperbolic',
      spread: 0.06 * random(),
      seed: index,
    },
  };
}

const valueOf = (design: Design, path: string): number =>
  path
    .split('/')
    .slice(1)
    .reduce<unknown>((at, part) => (at as Record<string, unknown>)[part], design) as number;

/** Read currents of both lines. */
export const atDrive = (ampere: number): Patch[] =>
  (['x', 'y'] as const).map((line) => ({ path: `/drive/${line}/readAmplitude`, value: `${ampere} A` }));

export const ofBit = (bit: 0 | 1): Patch => ({ path: '/selected/bit', value: bit });

/** Captures of a planted build, as an instrument takes them, under changes of the design. */
export const capturesOf = (
  { file, departure }: PlantedBuild,
  conditions: readonly (readonly Patch[])[],
  from = 0,
): FitCapture[] =>
  conditions.map((changes, k) => ({
    label: `capture ${from + k + 1}`,
    trace: capture(file, changes, { departure, instrument: { noise: 1e-3, index: from + k }, until: 500e-9 }),
    changes,
  }));

const UNKNOWNS: readonly UnknownName[] = ['coreFlux', 'coreThreshold', 'coreRate', 'mutual'];

/** What a fit of the design that the product knows tells of them. */
export function learnt(captures: readonly FitCapture[]): Knowledge {
  const fit = fitDesign({ design: BOARD, captures, unknowns: UNKNOWNS, maxIterations: 15 });
  return knowledgeOf(fit, captures);
}

/** What the build really gives under some changes: V at the sense wire, every `step` from the start of read. */
export function really(
  { file, departure }: PlantedBuild,
  changes: readonly Patch[],
  until: number,
): { readonly step: number; readonly sense: Float64Array } {
  const design = checkDesign(applyPatches(file, changes));
  return runTruth(truthOf(design, departure), { until });
}

/** Chance that at least `missed` of `all` miss that each miss with `share`. */
export function chanceOfMissing(missed: number, all: number, share: number): number {
  let [term, sum] = [(1 - share) ** all, 0];
  for (let k = 0; k <= all; k++) {
    if (k >= missed) sum += term;
    term *= ((all - k) / (k + 1)) * (share / (1 - share));
  }
  return sum;
}
