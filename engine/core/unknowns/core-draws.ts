import { keepReadings, turnedBy } from './keep-readings.ts';
import { disturbedPeak, readCore, worksAsMemory, type TestReadings } from './tested-core.ts';
import { CORE_PROPERTIES } from '../../design/schema/core.ts';
import type { CoreChoice, CoreParameters, CoreProperty, CoreRange } from '../../design/design.ts';
import { normalDeviates, randomStream, type RandomSource } from '../../numerics/random.ts';

/** Properties whose range spans a ratio: drawn evenly in the logarithm. */
const SCALED: ReadonlySet<CoreProperty> = new Set(['staticKneeWidth', 'dynamicKneeWidth', 'decayCharge']);
/** Draws that may be thrown away for each that is kept. */
const TRIES = 60;
/** Standard deviations between the ends of a range of about 95 %. */
const ENDS = 2 * 1.96;

/** Cores that could be the one which is known so far. */
export interface CoreDraws {
  readonly cores: readonly CoreParameters[];
  /** Draws that were made; those thrown away are no memory cores or do not answer the test. */
  readonly tried: number;
}

/**
 * Cores drawn from what is not known of one: parameters from their ranges, even where nothing is known of them and
 * normal where they were read or fitted; readings from their tolerance; and the parameters that the readings fix (see
 * keepReadings) turned until the core answers so. Every one works as a memory core and, where a disturbed reading was
 * taken, gives it within its tolerance. Draw i depends on seed and i alone. Fewer than `count` where the ranges hold
 * hardly any such core.
 */
export function coreDraws(core: CoreChoice, count: number, seed: number): CoreDraws {
  const { parameters, range, test } = core;
  const wanted = readCore(parameters, test);
  const turned = turnedBy(test, (name) => range[name].from === 'given');
  const free = CORE_PROPERTIES.filter((name) => !(turned as readonly CoreProperty[]).includes(name));
  const cores: CoreParameters[] = [];
  let tried = 0;
  for (let i = 0; i < count; i++) {
    const source = randomStream(seed, i);
    const normal = normalDeviates(source);
    for (let n = 0; n < TRIES; n++) {
      tried++;
      const drawn = { ...parameters };
      for (const name of free) drawn[name] = drawFrom(name, range[name], source, normal);
      if (drawn.elasticKnee < drawn.elasticSaturated) drawn.elasticKnee = drawn.elasticSaturated;
      const found = keepReadings(drawn, test, shift(wanted, test.tolerance, normal), turned);
      if (found === undefined || !worksAsMemory(found, test)) continue;
      if (!keepsDisturbed(core, found)) continue;
      cores.push(found);
      break;
    }
  }
  return { cores, tried };
}

function drawFrom(
  name: CoreProperty,
  { low, high, from }: CoreRange,
  source: RandomSource,
  normal: RandomSource,
): number {
  if (!(high > low)) return low;
  if (from === 'measured' || from === 'handbook')
    return Math.min(high, Math.max(low, (low + high) / 2 + (normal() * (high - low)) / ENDS));
  const share = source();
  return SCALED.has(name) && low > 0 ? low * (high / low) ** share : low + share * (high - low);
}

/** Readings as another hand would have taken them: times by one factor, voltages by another. */
function shift(wanted: TestReadings, tolerance: number, normal: RandomSource): TestReadings {
  const volts = Math.exp((normal() * tolerance) / 2);
  const time = Math.exp((normal() * tolerance) / 2);
  return {
    peak: wanted.peak * volts,
    peakTime: wanted.peakTime * time,
    switchingTime: wanted.switchingTime * time,
    second: wanted.second * volts,
  };
}

/** Does the core give the disturbed reading, if one was taken, within its tolerance? */
export function keepsDisturbed({ test, parameters }: CoreChoice, p: CoreParameters): boolean {
  if (test.disturbTolerance === undefined) return true;
  const off = Math.abs(disturbedPeak(p, test) - disturbedPeak(parameters, test));
  return off <= test.disturbTolerance * readCore(parameters, test).peak;
}
