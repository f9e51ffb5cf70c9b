import { amplifierOutput } from '../../../engine/sense-amplifier/amplifier.ts';
import { referToWire } from '../../../engine/sense-amplifier/referred.ts';
import { baselineShift } from '../../../engine/sense-amplifier/periodic-steady-state.ts';
import type { Simulation } from '../../../engine/solver/result.ts';
import type { Run } from '../../model/run.ts';
import { signedBand, type SignedBand } from '../../model/signed-band.ts';
import type { Page } from '../../state/page.ts';

/** Both reads of this design with their signs before the latch, V at the sense wire. */
export function signedReads(
  run: Run,
  heard: 'wire' | 'amplifier',
): readonly [one: Float64Array, zero: Float64Array] {
  const of = (read: Simulation): Float64Array => (heard === 'wire' ? read.senseVoltage : signedOutput(read));
  return [of(run.one), of(run.zero)];
}

const known = new WeakMap<Simulation, Float64Array>();

/**
 * What leaves the amplifier, V at the sense wire, with the sign that it has before an amplifier that hears both
 * polarities turns it: the run's own sizes, with signs from the same amplifier on the same read.
 */
export function signedOutput(read: Simulation): Float64Array {
  const made = known.get(read);
  if (made) return made;
  const { amplifier } = read.design;
  const referred = referToWire(amplifier, read.amplifierOutput);
  const fresh = amplifier.polarity === 'either' ? withSigns(read, referred) : referred;
  known.set(read, fresh);
  return fresh;
}

function withSigns(
  { design: { amplifier }, time, senseVoltage, commonMode, baseline = 0 }: Simulation,
  sizes: Float64Array,
): Float64Array {
  const coupling = baseline === 0 ? 0 : baseline / baselineShift(amplifier, 1);
  const turned = { ...amplifier, polarity: 'address' } as const;
  const { output } = amplifierOutput(turned, time, senseVoltage, commonMode, { coupling });
  return sizes.map((volts, i) => (output[i]! < 0 ? -volts : volts));
}

/** Of all cases, after the amplifier; on the wire itself they are not kept. Undefined where they are of other inputs. */
export const bandOfCases = ({ atoms, now }: Page): SignedBand | undefined =>
  atoms.heard.value === 'amplifier' && now.judged.value && !now.judgedIsOld.value
    ? signedBand(now.judged.value)
    : undefined;
