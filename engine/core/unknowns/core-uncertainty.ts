import { keepsDisturbed, strayAt, workingAs } from './core-draws.ts';
import { withPeak } from './drive-stray.ts';
import { keepReadings, turnedBy } from './keep-readings.ts';
import { readCore, type TestReadings } from './tested-core.ts';
import { CORE_PROPERTIES } from '../../design/schema/core.ts';
import type { CoreChoice, CoreOrigin, CoreParameters, CoreProperty } from '../../design/core.ts';

/**
 * What the readings of a core leave open together: a factor on its voltages, one on its times, and one on its peak at
 * the drive at which it is used, where that is none of those at which it was read.
 */
export type CoreReading = 'voltage of the readings' | 'time of the readings' | 'peak away from the readings';

/** One thing that is not known of a core, with the cores at both its ends. */
export interface CoreUnknown {
  readonly parameter: CoreProperty | CoreReading;
  /** In the parameter's own unit; of a reading, a factor. */
  readonly value: number;
  /** Ends that still give a memory core which answers the test; nearer than the range's where it reaches too far. */
  readonly low: number;
  readonly high: number;
  readonly from: CoreOrigin;
  /** The whole core at either end: parameters that the readings fix have followed. */
  readonly cores: { readonly low: CoreParameters; readonly high: CoreParameters };
  /** The measurement that would narrow it, in words. */
  readonly measure: string;
}

/** Halvings of the way back from an end of a range that no memory core has. */
const HALVINGS = 7;

/**
 * What is not known of a core, one by one; a parameter that is known exactly is not in the list.
 *
 * @param asked A, the drive at which it is to be used; left out: one of those at which it was read
 */
export function coreUncertainty(core: CoreChoice, asked?: number): readonly CoreUnknown[] {
  const { parameters, range, test } = core;
  const wanted = readCore(parameters, test);
  const turned = turnedBy(test, (name) => range[name].from === 'given');
  const works = workingAs(core);
  const coreWith = (changed: Partial<CoreParameters>, readings = wanted): CoreParameters | undefined => {
    const found = keepReadings({ ...parameters, ...changed }, test, readings, turned);
    const good = found && works(found) && keepsDisturbed(core, found);
    return good ? found : undefined;
  };
  const reach = (
    value: number,
    end: number,
    make: (at: number) => CoreParameters | undefined,
  ): readonly [number, CoreParameters] => {
    const whole = make(end);
    if (whole) return [end, whole];
    let best: readonly [number, CoreParameters] = [value, parameters];
    let [good, bad] = [value, end];
    for (let i = 0; i < HALVINGS; i++) {
      const at = (good + bad) / 2;
      const found = make(at);
      if (found) [good, best] = [at, [at, found]];
      else bad = at;
    }
    return best;
  };
  const unknowns: CoreUnknown[] = [];
  const add = (
    parameter: CoreUnknown['parameter'],
    value: number,
    ends: readonly [number, number],
    from: CoreOrigin,
    make: (at: number) => CoreParameters | undefined,
  ): void => {
    const [low, atLow] = reach(value, ends[0], make);
    const [high, atHigh] = reach(value, ends[1], make);
    if (low === high) return;
    unknowns.push({
      parameter,
      value,
      low,
      high,
      from,
      cores: { low: atLow, high: atHigh },
      measure: MEASURE[parameter],
    });
  };
  for (const name of CORE_PROPERTIES) {
    if ((turned as readonly CoreProperty[]).includes(name)) continue;
    const { low, high, from } = range[name];
    if (high > low) add(name, parameters[name], [low, high], from, (at) => coreWith({ [name]: at }));
  }
  const from = range.switchingResistance.from;
  if (test.tolerance > 0 && turned.length > 0) {
    const ends = [1 - test.tolerance, 1 + test.tolerance] as const;
    add('voltage of the readings', 1, ends, from, (at) => coreWith({}, scaled(wanted, at, 1)));
    add('time of the readings', 1, ends, from, (at) => coreWith({}, scaled(wanted, 1, at)));
  }
  const stray = strayAt(core, asked);
  if (stray > 0) {
    const ends = [Math.exp(-1.96 * stray), Math.exp(1.96 * stray)] as const;
    add('peak away from the readings', 1, ends, 'assumed', (at) => {
      const found = withPeak(parameters, at);
      return works(found) ? found : undefined;
    });
  }
  return unknowns;
}

const scaled = (wanted: TestReadings, volts: number, time: number): TestReadings => ({
  peak: wanted.peak * volts,
  peakTime: wanted.peakTime * time,
  switchingTime: wanted.switchingTime * time,
  second: wanted.second * volts,
});

const OTHER_DRIVES = 'the peak of a ONE at 0.8, 0.9, 1.1 and 1.2 of full drive';
const KNEE = 'what is left of a ZERO after 1, 32 and 1,024 half-select pulses of 0.40 to 0.65 of full drive';
const TAIL = 'a second pulse in the same direction, 3 us long, at two drives';
const EDGES = 'the edge of a ONE and of a ZERO at 0.4 of full drive, and with the core held by a magnet';
const WARM = 'a ONE and its disturbed reading at +10 and at +50 degrees';

/** Which measurement on one core narrows which unknown most (the measuring plan has all of them in order). */
export const MEASURE: Readonly<Record<CoreUnknown['parameter'], string>> = {
  remanentFlux: 'the area of a ONE',
  squareness: 'the peak time of a ONE at 0.8 and 1.2 of full drive',
  coerciveDrive: KNEE,
  staticKneeWidth: KNEE,
  dynamicThreshold: OTHER_DRIVES,
  dynamicKneeWidth: KNEE,
  switchingResistance: OTHER_DRIVES,
  ringSpread: 'peak and width of a ONE together at 0.8 to 1.2 of full drive',
  elasticSaturated: EDGES,
  elasticKnee: EDGES,
  elasticBend: EDGES,
  decayResistance: TAIL,
  decayCharge: TAIL,
  decayThreshold: TAIL,
  driveTemperatureCoefficient: WARM,
  fluxTemperatureCoefficient: WARM,
  'voltage of the readings': 'the peak of a ONE again, with the current on the same picture',
  'time of the readings': 'the peak time of a ONE again, with the current on the same picture',
  'peak away from the readings': 'the peak of a ONE at the drive that you will use',
};
