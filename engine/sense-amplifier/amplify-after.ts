import {
  amplify,
  amplifierOutput,
  type Amplified,
  type AmplifierOutput,
  type AmplifyOptions,
} from './amplifier.ts';
import type { Design } from '../design/design.ts';
import type { Amplifier } from '../design/sense.ts';
import type { EndVoltages } from '../solver/end-voltages.ts';
import { makeResampler } from '../solver/resample.ts';

interface Heard {
  /** Uniform, from 0. */
  readonly time: Float64Array;
  readonly senseVoltage: Float64Array;
  readonly commonMode: Float64Array;
}

/** Time constants after which what a pole held before is under a double's last digit (e^-40 is 4e-18). */
const SETTLED = 40;

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
  const { heard, earlier } = withBefore(design, before, observed, design.cycle.period);
  const all = amplify(design, heard.time, heard.senseVoltage, heard.commonMode, options);
  return {
    output: all.output.slice(earlier),
    referred: all.referred.slice(earlier),
    detector: all.detector.slice(earlier),
    pulses: all.pulses.filter((pulse) => pulse.end >= 0),
  };
}

/** Its output alone, from only so much of the cycle before as it can remember: the same but for the last digit. */
export function outputAfter(
  design: Design,
  before: EndVoltages | undefined,
  observed: Heard,
  options: AmplifyOptions,
): AmplifierOutput {
  const memory = Math.min(design.cycle.period, memoryOf(design.amplifier));
  const { heard, earlier } = withBefore(design, before, observed, memory);
  const all = amplifierOutput(design.amplifier, heard.time, heard.senseVoltage, heard.commonMode, options);
  return { output: all.output.slice(earlier), referred: all.referred.slice(earlier) };
}

/** How long an amplifier remembers, s: its poles, and behind them an output that recovers. Without end when AC coupled. */
export function memoryOf({ highPass, bandwidth, secondPole, recovery }: Amplifier): number {
  const slowest = Math.min(bandwidth, secondPole);
  return highPass > 0 ? Infinity : SETTLED / (2 * Math.PI * slowest) + recovery;
}

/** What is heard with the last `span` (s) of the cycle before put before it, and how many samples those are. */
function withBefore(
  design: Design,
  before: EndVoltages | undefined,
  observed: Heard,
  span: number,
): { readonly heard: Heard; readonly earlier: number } {
  const { time, senseVoltage, commonMode } = observed;
  if (before === undefined || time.length < 2) return { heard: observed, earlier: 0 };
  const { output: step } = design.numerics;
  const { period } = design.cycle;
  const earlier = Math.min(Math.floor(period / step + 1e-9), Math.ceil(span / step));
  const instants = new Float64Array(earlier);
  for (let i = 0; i < earlier; i++) instants[i] = period - (earlier - i) * step;
  const at = makeResampler(before.time, before.jumps, instants);
  const a = at(before.endA);
  const b = at(before.endB);
  const heard = {
    time: roomBefore(earlier, time),
    senseVoltage: roomBefore(earlier, senseVoltage),
    commonMode: roomBefore(earlier, commonMode),
  };
  for (let i = 0; i < earlier; i++) {
    heard.time[i] = instants[i]! - period;
    heard.senseVoltage[i] = b[i]! - a[i]!;
    heard.commonMode[i] = (b[i]! + a[i]!) / 2;
  }
  return { heard, earlier };
}

function roomBefore(count: number, values: Float64Array): Float64Array {
  const whole = new Float64Array(count + values.length);
  whole.set(values, count);
  return whole;
}
