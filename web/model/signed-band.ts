import { polarityOf } from '../../engine/mat/winding.ts';
import type { Run } from './run.ts';

/** Least and greatest at each instant, V at the sense wire. */
interface Stretch {
  readonly low: Float64Array;
  readonly high: Float64Array;
}

/** All cases of the design as it stands, as they leave the amplifier. */
export interface SignedBand {
  /** s, before the detector's delay. */
  readonly time: Float64Array;
  readonly one: Stretch;
  readonly zero: Stretch;
}

const known = new WeakMap<object, SignedBand>();

/**
 * How far the cases go to either side of zero before an amplifier that hears both polarities turns them, with the sign
 * that the read of this design has. Cases at other addresses count as if their core were threaded as this one's.
 */
export function signedBand({ design, ensemble }: Run): SignedBand | undefined {
  if (!ensemble) return undefined;
  const made = known.get(ensemble);
  if (made) return made;
  const { mat, winding, selected, amplifier } = design;
  const sign =
    amplifier.polarity === 'either'
      ? polarityOf(mat, winding)[selected.row * mat.columns + selected.column]!
      : 1;
  const { time } = ensemble.envelope;
  const of = (bit: 0 | 1): Stretch => {
    const low = new Float64Array(time.length).fill(Infinity);
    const high = new Float64Array(time.length).fill(-Infinity);
    for (const item of ensemble.cases)
      if (item.bit === bit && !item.corner)
        for (let i = 0; i < time.length; i++) {
          const value = sign * item.signed[i]!;
          low[i] = Math.min(low[i]!, value);
          high[i] = Math.max(high[i]!, value);
        }
    return { low, high };
  };
  const band = { time, one: of(1), zero: of(0) };
  known.set(ensemble, band);
  return band;
}
