import { amplify, type Amplified, type AmplifyOptions } from './amplifier.ts';
import type { Design } from '../design/design.ts';
import type { EndVoltages } from '../solver/end-voltages.ts';
import { makeResampler } from '../solver/resample.ts';

interface Heard {
  /** Uniform, from 0. */
  readonly time: Float64Array;
  readonly senseVoltage: Float64Array;
  readonly commonMode: Float64Array;
}

/**
 * The amplifier on the observed cycle as it comes out of the cycle before: overload and its recovery, and what the
 * poles and the AC coupling still hold, are carried over. `options.coupling` is the state before all that is heard.
 *
 * @param before the cycle before, one period long; undefined: the amplifier was at rest
 */
export function amplifyAfter(
  design: Design,
  before: EndVoltages | undefined,
  observed: Heard,
  options: AmplifyOptions,
): Amplified {
  const { time, senseVoltage, commonMode } = observed;
  if (before === undefined || time.length < 2)
    return amplify(design, time, senseVoltage, commonMode, options);
  const { output: step } = design.numerics;
  const { period } = design.cycle;
  const earlier = Math.floor(period / step + 1e-9);
  const times = Float64Array.from({ length: earlier }, (_, i) => period - (earlier - i) * step);
  const at = makeResampler(before.time, before.jumps, times);
  const a = at(before.endA);
  const b = at(before.endB);
  const all = amplify(
    design,
    join(
      times.map((t) => t - period),
      time,
    ),
    join(
      a.map((value, i) => b[i]! - value),
      senseVoltage,
    ),
    join(
      a.map((value, i) => (b[i]! + value) / 2),
      commonMode,
    ),
    options,
  );
  return {
    output: all.output.slice(earlier),
    referred: all.referred.slice(earlier),
    detector: all.detector.slice(earlier),
    pulses: all.pulses.filter((pulse) => pulse.end >= 0),
  };
}

function join(first: Float64Array, second: Float64Array): Float64Array {
  const whole = new Float64Array(first.length + second.length);
  whole.set(first);
  whole.set(second, first.length);
  return whole;
}
