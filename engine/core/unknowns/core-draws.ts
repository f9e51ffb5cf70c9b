import { peakStray, withPeak } from './drive-stray.ts';
import { keepReadings, turnedBy } from './keep-readings.ts';
import { disturbedPeak, isAdmissible, readCore, worksAsMemory, type TestReadings } from './tested-core.ts';
import { CORE_PROPERTIES } from '../../design/schema/core.ts';
import type { CoreChoice, CoreParameters, CoreProperty, CoreRange } from '../../design/core.ts';
import { normalDeviates, randomStream, type RandomSource } from '../../numerics/random.ts';

/** Properties whose range spans a ratio: drawn evenly in the logarithm. */
const SCALED: ReadonlySet<CoreProperty> = new Set(['staticKneeWidth', 'dynamicKneeWidth', 'decayCharge']);
/** Draws that may be thrown away for each that is kept; after half of them the ranges are looked at nearer to the core. */
const TRIES = 60;
const NEARER = 0.4;
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
 *
 * @param asked A, the drive at which they are to be used: each strays there as the model may from its readings; left
 * out, they are as at the drives of the test
 */
export function coreDraws(core: CoreChoice, count: number, seed: number, asked?: number): CoreDraws {
  const { parameters, range, test } = core;
  const wanted = readCore(parameters, test);
  const turned = turnedBy(test, (name) => range[name].from === 'given');
  const works = workingAs(core);
  const free = CORE_PROPERTIES.filter((name) => !(turned as readonly CoreProperty[]).includes(name));
  const stray = strayAt(core, asked);
  const cores: CoreParameters[] = [];
  let tried = 0;
  for (let i = 0; i < count; i++) {
    const source = randomStream(seed, i);
    const normal = normalDeviates(source);
    for (let n = 0; n < TRIES; n++) {
      tried++;
      const drawn = { ...parameters };
      const reach = n < TRIES / 2 ? 1 : NEARER;
      for (const name of free)
        drawn[name] = drawFrom(name, range[name], parameters[name], reach, source, normal);
      if (drawn.elasticKnee < drawn.elasticSaturated) drawn.elasticKnee = drawn.elasticSaturated;
      const found = keepReadings(drawn, test, shift(wanted, test.tolerance, normal), turned);
      if (found === undefined || !works(found)) continue;
      if (!keepsDisturbed(core, found)) continue;
      cores.push(stray > 0 ? withPeak(found, Math.exp(stray * normal())) : found);
      break;
    }
  }
  return { cores, tried };
}

/** Standard deviation of ln(peak) at the drive asked for; 0 of a core that is taken at its word. */
export const strayAt = ({ test, range }: CoreChoice, asked: number | undefined): number =>
  asked === undefined || range.switchingResistance.from === 'given' ? 0 : peakStray(test, asked);

function drawFrom(
  name: CoreProperty,
  { low, high, from }: CoreRange,
  value: number,
  reach: number,
  source: RandomSource,
  normal: RandomSource,
): number {
  if (!(high > low)) return low;
  if (reach < 1) {
    const [near, far] = [value + reach * (low - value), value + reach * (high - value)];
    return drawFrom(name, { low: near, high: far, from }, value, 1, source, normal);
  }
  if (from === 'measured' || from === 'handbook')
    return Math.min(high, Math.max(low, (low + high) / 2 + (normal() * (high - low)) / ENDS));
  const share = source();
  return SCALED.has(name) && low > 0 ? low * (high / low) ** share : low + share * (high - low);
}

/**
 * Readings as another hand would have taken them: times by one factor, voltages by another, and what the second drive
 * gives by one of its own besides, since two settings of a current are never off alike.
 */
function shift(wanted: TestReadings, tolerance: number, normal: RandomSource): TestReadings {
  const volts = Math.exp((normal() * tolerance) / 2);
  const time = Math.exp((normal() * tolerance) / 2);
  const apart = Number.isNaN(wanted.second) ? 1 : Math.exp((normal() * tolerance) / 2);
  return {
    peak: wanted.peak * volts,
    peakTime: wanted.peakTime * time,
    switchingTime: wanted.switchingTime * time,
    second: wanted.second * volts * apart,
  };
}

/**
 * What a core must be to be the one that is known: a memory core at the test where that one is, else (a jig may drive it
 * harder than any memory would) within the limits of the model. Of one that lies outside them nothing is asked: else no
 * core beside it would be left, and it would pass for known exactly.
 */
export function workingAs({ parameters, test }: CoreChoice): (p: CoreParameters) => boolean {
  const asked = [worksAsMemory, isAdmissible].find((holds) => holds(parameters, test));
  return (p) => asked?.(p, test) ?? true;
}

/** Does the core give the disturbed reading, if one was taken, within its tolerance? */
export function keepsDisturbed({ test, parameters }: CoreChoice, p: CoreParameters): boolean {
  if (test.disturbTolerance === undefined) return true;
  const off = Math.abs(disturbedPeak(p, test) - disturbedPeak(parameters, test));
  return off <= test.disturbTolerance * readCore(parameters, test).peak;
}
