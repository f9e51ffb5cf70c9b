import { applyPatches, type Patch } from '../../engine/base/json-patch.ts';
import { checkDesign } from '../../engine/check/check-design.ts';
import { fitDesign } from '../../engine/fitting/fit-design.ts';
import type { FitCapture } from '../../engine/fitting/fit-captures.ts';
import type { FitResult } from '../../engine/fitting/fit-result.ts';
import { numberAt } from '../../engine/fitting/unknowns.ts';
import { UNKNOWNS, type UnknownName } from '../../engine/fitting/unknown-table.ts';
import { randomStream } from '../../engine/numerics/random.ts';
import { BOARD, capture } from './builds.ts';
import type { Departure } from './truth.ts';

/** A build whose cores are not of the family of the model that is fitted to it, and how it was seen. */
export interface OffFamily {
  readonly index: number;
  readonly changes: readonly Patch[];
  readonly departure: Departure;
  /** V rms of one sample. */
  readonly noise: number;
  /** SI, by name of unknown. */
  readonly truth: Readonly<Partial<Record<UnknownName, number>>>;
}

/** What is asked of the fit: what a builder asks first, and what F_0 of its own adds. */
export const ASKED = [
  'coreFlux',
  'coreRate',
  'coreDynamicThreshold',
  'mutual',
] as const satisfies UnknownName[];

/** A of X and of Y, and the address, of each capture. */
const SEEN = [
  { drive: 0.37, row: 3, column: 5 },
  { drive: 0.4, row: 3, column: 5 },
  { drive: 0.345, row: 6, column: 1 },
] as const;

const FIELDS = {
  coreFlux: ['remanentFlux', 0.85, 1.15],
  coreRate: ['switchingResistance', 0.8, 1.25],
  coreDynamicThreshold: ['dynamicThreshold', 0.9, 1.1],
  coreCoercive: ['coerciveDrive', 0.93, 1.07],
  coreStaticKnee: ['staticKneeWidth', 0.6, 1.5],
  coreDynamicKnee: ['dynamicKneeWidth', 0.6, 1.4],
} as const;

/** Truth number `index`: other values, other knees, a bell skewed by up to 30 %, cores that differ by up to 6 %. */
export function offFamily(index: number): OffFamily {
  const draw = randomStream(20_911, index);
  const between = (low: number, high: number): number => low + (high - low) * draw();
  const start = checkDesign(BOARD);
  const changes: Patch[] = [];
  const truth: Partial<Record<UnknownName, number>> = {};
  for (const [name, [field, low, high]] of Object.entries(FIELDS)) {
    const value = numberAt(start, `/core/parameters/${field}`) * between(low, high);
    const { unit } = UNKNOWNS[name as UnknownName];
    truth[name as UnknownName] = value;
    changes.push({ path: `/core/parameters/${field}`, value: `${value} ${unit}` });
  }
  truth.mutual = start.wire.mutualX * between(0.5, 2);
  for (const line of ['X', 'Y']) changes.push({ path: `/wire/mutual${line}`, value: `${truth.mutual} H` });
  return {
    index,
    changes,
    truth,
    noise: 0.3e-3 * 10 ** draw(),
    departure: {
      skew: between(-0.3, 0.3),
      knee: draw() < 0.5 ? 'other' : 'exponential',
      elastic: draw() < 0.5 ? 'logarithmic' : 'hyperbolic',
      spread: between(0, 0.06),
      seed: index + 1,
    },
  };
}

/** Read currents of X and of Y. */
export const drivenBy = (amperes: number): Patch[] =>
  ['x', 'y'].map((line) => ({ path: `/drive/${line}/readAmplitude`, value: `${amperes} A` }));

/** What an instrument would record of such a build, and the start's design fitted to that. */
export function fitOffFamily({ index, changes, departure, noise }: OffFamily): {
  readonly fit: FitResult;
  readonly captures: readonly FitCapture[];
} {
  const captures = SEEN.map(({ drive, row, column }, k): FitCapture => {
    const taken: Patch[] = [...drivenBy(drive), { path: '/selected', value: { row, column, bit: 1 } }];
    const trace = capture(applyPatches(BOARD, changes), taken, {
      departure,
      until: 700e-9,
      instrument: {
        noise,
        step: noise / 2,
        offset: 2e-3,
        bandwidth: 200e6,
        delay: 0.3e-6 * (k + 1),
        interval: 2e-9,
        index: 3 * index + k,
      },
    });
    return { label: `${Math.round(2 * drive * 1e3)} mA at ${row},${column}`, trace, changes: taken };
  });
  return { fit: fitDesign({ design: BOARD, captures, unknowns: ASKED }), captures };
}
