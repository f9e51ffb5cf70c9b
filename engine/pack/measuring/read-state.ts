import { elasticPerFlux, switchingRate } from '../../core/model.ts';
import { advanceCore, decayRate, type CoreState } from '../../core/state.ts';
import type { CoreParameters } from '../../design/core.ts';

/** Pieces of a rise or a fall; the drive is held in the middle of each. */
const PIECES = 40;

/** State of a core after one trapezoidal pulse. @param cut s, from the start of the rise to the start of the fall */
export function afterPulse(
  p: CoreParameters,
  start: CoreState,
  amplitude: number,
  rise: number,
  cut: number,
): CoreState {
  const h = rise / PIECES;
  let state = start;
  for (let k = 0; k < PIECES && k * h < cut; k++)
    state = advanceCore(p, state, (amplitude * (k + 0.5)) / PIECES, Math.min(h, cut - k * h));
  const top = amplitude * Math.min(1, cut / rise);
  if (cut > rise) state = advanceCore(p, state, amplitude, cut - rise);
  for (let k = PIECES - 1; k >= 0; k--) state = advanceCore(p, state, (top * (k + 0.5)) / PIECES, h);
  return state;
}

/** V: what a core gives `t` seconds after a drive reached its flat top. */
export function emfOnTop(p: CoreParameters, start: CoreState, drive: number, t: number): number {
  const { phi, psi, rings } = advanceCore(p, start, drive, t);
  return (1 + elasticPerFlux(p, drive)) * switchingRate(p, drive, phi, rings) + decayRate(p, drive, psi);
}

/** The same core with what it holds the other way round: a read of it is a write of this. */
export const mirrored = ({ phi, psi, rings }: CoreState): CoreState => ({
  phi: -phi,
  psi: -psi,
  ...(rings === undefined ? {} : { rings: rings.map((each) => -each) }),
});
