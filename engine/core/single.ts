import { elasticFlux, elasticPerFlux, elasticSlope, switchingRate } from './model.ts';
import type { CoreDrive } from './drive.ts';
import { advanceCore, decayRate, type CoreState } from './state.ts';
import type { CoreParameters } from '../design/core.ts';

/**
 * One core alone, one value per step. At a slope jump two values stand at one time: the limits from the left and
 * from the right. All in SI; the EMF is that of one turn, positive while the linkage rises (write direction).
 */
export interface CoreTrace {
  readonly time: Float64Array;
  /** A, ampere-turns. */
  readonly drive: Float64Array;
  /** Wb. */
  readonly phi: Float64Array;
  readonly psi: Float64Array;
  /** Wb: phi + psi + phi_el. */
  readonly lambda: Float64Array;
  /** V: switching + elastic + decaying. */
  readonly emf: Float64Array;
  /** V: dphi/dt. */
  readonly switching: Float64Array;
  /** V: d phi_el/dt, the share of dphi/dt that changes phi_el included. */
  readonly elastic: Float64Array;
  /** V: dpsi/dt. */
  readonly decaying: Float64Array;
}

export interface CoreRunOptions {
  /** s, greatest step. */
  readonly step: number;
  readonly initial: CoreState;
}

/**
 * Run one core through a drive: the exact step at the drive in the middle of each step, which is second order in
 * the step (exponential midpoint rule) and exact while the drive stands still. A jump of the drive itself is
 * allowed; its elastic EMF would be an impulse and is left out (lambda shows the jump).
 */
export function runCore(p: CoreParameters, drive: CoreDrive, options: CoreRunOptions): CoreTrace {
  const counts = drive.map((piece) =>
    Math.max(1, Math.ceil((piece.end - piece.start) / options.step - 1e-9)),
  );
  const length = counts.reduce((sum, n) => sum + n + 1, 0);
  const make = (): Float64Array => new Float64Array(length);
  const trace = {
    time: make(),
    drive: make(),
    phi: make(),
    psi: make(),
    lambda: make(),
    emf: make(),
    switching: make(),
    elastic: make(),
    decaying: make(),
  };
  let state = options.initial;
  let k = 0;
  const record = (t: number, F: number, dF: number): void => {
    const { phi, psi, rings } = state;
    const rate = switchingRate(p, F, phi, rings);
    const elastic = elasticSlope(p, F, phi) * dF + elasticPerFlux(p, F) * rate;
    const decaying = decayRate(p, F, psi);
    trace.time[k] = t;
    trace.drive[k] = F;
    trace.phi[k] = phi;
    trace.psi[k] = psi;
    trace.lambda[k] = phi + psi + elasticFlux(p, F, phi);
    trace.switching[k] = rate;
    trace.elastic[k] = elastic;
    trace.decaying[k] = decaying;
    trace.emf[k] = rate + elastic + decaying;
    k++;
  };
  drive.forEach((piece, i) => {
    const n = counts[i];
    const h = (piece.end - piece.start) / n;
    record(piece.start, piece.at(piece.start), piece.slope(piece.start));
    for (let j = 0; j < n; j++) {
      state = advanceCore(p, state, piece.at(piece.start + (j + 0.5) * h), h);
      const t = j === n - 1 ? piece.end : piece.start + (j + 1) * h;
      record(t, piece.at(t), piece.slope(t));
    }
  });
  return trace;
}

/** Integral of y over time, trapezoidal; second order, slope jumps being samples of the trace. */
export function integrateTrace(time: Float64Array, y: Float64Array, from = 0, to = time.length - 1): number {
  let sum = 0;
  for (let k = from + 1; k <= to; k++) sum += ((y[k] + y[k - 1]) / 2) * (time[k] - time[k - 1]);
  return sum;
}
