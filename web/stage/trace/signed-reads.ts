import { referToWire } from '../../../engine/sense-amplifier/referred.ts';
import type { Run } from '../../model/run.ts';

/** Both reads of this design with their signs before the latch, V at the sense wire. */
export function signedReads(
  run: Run,
  heard: 'wire' | 'amplifier',
): readonly [one: Float64Array, zero: Float64Array] {
  const of = (read: Run['one']): Float64Array =>
    heard === 'wire' ? read.senseVoltage : referToWire(run.design.amplifier, read.amplifierOutput);
  return [of(run.one), of(run.zero)];
}
