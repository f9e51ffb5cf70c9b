import type { CoreParameters } from '../design/core.ts';
import { lineDrive } from './drive.ts';
import { elasticFlux } from './model.ts';
import { runCore } from './single.ts';
import { restState, settleUnder, type CoreState } from './state.ts';

/** Points of a closed loop in order of travel; all arrays of one length. */
export interface CoreLoop {
  /** A, ampere-turns. */
  readonly drive: Float64Array;
  /** Wb, main flux. */
  readonly phi: Float64Array;
  /** Wb, phi + elastic flux: what an integrating bench draws. The decaying part is at rest and left out. */
  readonly lambda: Float64Array;
}

/**
 * The static loop between -peak and +peak (A): each point is where the core comes to rest when the drive is moved
 * without haste. `points` per branch. The core only moves where the drive pushes it beyond the static curve.
 */
export function staticLoop(p: CoreParameters, peak: number, points = 200): CoreLoop {
  const drive = new Float64Array(2 * points);
  const phi = new Float64Array(2 * points);
  const lambda = new Float64Array(2 * points);
  let state: CoreState = restState(p, 0);
  // Twice round: a core that starts at -phi_r has settled after the first turn.
  for (let n = 0; n < 4 * points; n++) {
    const k = n % (2 * points);
    const along = ((k % points) / (points - 1)) * 2 - 1;
    const F = (k < points ? along : -along) * peak;
    state = settleUnder(p, state, F);
    drive[k] = F;
    phi[k] = state.phi;
    lambda[k] = state.phi + elasticFlux(p, F, state.phi);
  }
  return { drive, phi, lambda };
}

/** Periods run before and with the one that is kept. */
const SETTLING = 4;

/**
 * The loop that a core runs through under a triangular drive of the given peak (A) and period (s), after it has
 * settled. The faster the drive, the wider the loop.
 */
export function dynamicLoop(p: CoreParameters, peak: number, period: number, points = 400): CoreLoop {
  const corners: [number, number][] = [[0, 0]];
  for (let n = 0; n < SETTLING; n++) {
    corners.push([(n + 0.25) * period, peak], [(n + 0.75) * period, -peak]);
  }
  const trace = runCore(p, lineDrive(corners), { step: period / points, initial: restState(p, 0) });
  const from = trace.time.findIndex((t) => t >= (SETTLING - 1.25) * period * (1 - 1e-12));
  const lambda = trace.lambda.map((value, k) => value - trace.psi[k]);
  return { drive: trace.drive.slice(from), phi: trace.phi.slice(from), lambda: lambda.slice(from) };
}
