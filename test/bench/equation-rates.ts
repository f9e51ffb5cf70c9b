import { staticFlux } from '../../engine/core/model.ts';
import type { EquationSystem } from './same-equations.ts';

/**
 * Right-hand side of an EquationSystem for a general-purpose integrator. State: v, l, phi/phi_r of every class, lagged
 * X, Y and inhibit current; time in nanoseconds, so that one scalar tolerance serves all.
 */
export interface Rates {
  readonly size: number;
  readonly start: number[];
  /** Straight pieces of the drive: from, to (ns). */
  readonly spans: readonly (readonly [number, number])[];
  /** Chooses the piece whose slopes are in force. */
  enter(span: number): void;
  /** Rates per nanosecond into `out`. */
  evaluate(t: number, y: ArrayLike<number>, out: number[]): void;
}

const NS = 1e-9;
/** V per turn: slower than this a core stands still, as in the engine. */
const STILL = 1e-8;

export function makeRates(system: EquationSystem): Rates {
  const { sections: n, lossTime: tau, classes: c, drive, air, resistance, inductance } = system;
  const count = c.count.length;
  const size = 2 * n + 1 + count + 3;
  const atFlux = 2 * n + 1;
  const atLag = atFlux + count;
  const members: number[][] = Array.from({ length: n }, () => []);
  c.section.forEach((k, i) => members[k]!.push(i));
  const quiet = c.threshold.map((f, i) =>
    Math.max(0, f + c.softWidth[i]! * Math.log(STILL / (c.rho[i]! * c.softWidth[i]!))),
  );
  const rest = c.threshold.map((f, i) => Math.log1p(Math.exp(-f / c.softWidth[i]!)));
  const factored = factorCapacitance(system);
  const warm = new Float64Array(n);
  const current = new Float64Array(n);
  let span = 0;
  let rate = 0;
  let rateSlope = 0;

  /** dphi/dt of class i and its derivative by F. */
  function move(i: number, F: number, phi: number): void {
    rate = rateSlope = 0;
    const sign = F < 0 ? -1 : 1;
    const f = sign * F;
    if (f < quiet[i]!) return;
    const phiR = c.phiR[i]!;
    const phiD = staticFlux(phiR, c.coercive[i]!, c.kneeWidth[i]!, f);
    const p = sign * phi;
    const width = c.phiS[i]! + phiD;
    if (p >= phiD || width <= 0) return;
    const u = (2 * p + c.phiS[i]! - phiD) / width;
    if (u <= -1) return;
    const z = (f - c.threshold[i]!) / c.softWidth[i]!;
    const reach = z > 36 ? z : Math.log1p(Math.exp(z));
    const vP = c.rho[i]! * c.softWidth[i]! * (reach - rest[i]!);
    const vPSlope = c.rho[i]! / (1 + Math.exp(-z));
    const phiDSlope = (phiR * phiR - phiD * phiD) / (2 * phiR * c.kneeWidth[i]!);
    rate = sign * vP * (1 - u * u);
    rateSlope = vPSlope * (1 - u * u) + (2 * u * vP * phiDSlope * (1 + u)) / width;
  }

  return {
    size,
    start: [
      ...Array.from({ length: 2 * n + 1 }, () => 0),
      ...c.phi0.map((phi, i) => phi / c.phiR[i]!),
      0,
      0,
      0,
    ],
    spans: drive.time.slice(1).map((to, i) => [drive.time[i]! / NS, to / NS] as const),
    enter(next) {
      span = next;
    },
    evaluate(t, y, out) {
      const t0 = drive.time[span]!;
      const length = drive.time[span + 1]! - t0;
      const part = (t * NS - t0) / length;
      const slope = [0, 0, 0];
      const now = [0, 0, 0];
      const lag = [0, 0, 0];
      const lagSlope = [0, 0, 0];
      for (let w = 0; w < 3; w++) {
        const values = drive.currents[w]!;
        slope[w] = (values[span + 1]! - values[span]!) / length;
        now[w] = values[span]! + part * (values[span + 1]! - values[span]!);
        lag[w] = tau > 0 ? y[atLag + w]! : now[w]!;
        lagSlope[w] = tau > 0 ? (now[w]! - lag[w]!) / tau : slope[w]!;
        out[atLag + w] = tau > 0 ? lagSlope[w]! * NS : 0;
      }
      for (let k = 0; k < n; k++) {
        const l = y[n + 1 + k]!;
        let own = inductance[k]! + resistance[k]! * tau;
        let drop = y[k]! - y[k + 1]! - resistance[k]! * l;
        for (let w = 0; w < 3; w++) drop -= air[w]![k]! * lagSlope[w]!;
        for (const i of members[k]!) {
          const s = c.polarity[i]!;
          const phi = y[atFlux + i]! * c.phiR[i]!;
          const F =
            c.factorX[i]! * lag[0]! +
            c.factorY[i]! * lag[1]! +
            c.factorInhibit[i]! * lag[2]! +
            s * l +
            c.bias[i]!;
          const softer = c.elasticA[i]! - (c.elasticB[i]! * phi * F) / Math.sqrt(F * F + c.bend[i]! ** 2);
          own += c.count[i]! * softer;
          drop -=
            c.count[i]! *
            s *
            softer *
            (c.factorX[i]! * lagSlope[0]! +
              c.factorY[i]! * lagSlope[1]! +
              c.factorInhibit[i]! * lagSlope[2]!);
        }
        // The cores' rates depend on the current itself, i = l + tau dl/dt: Newton from the last answer.
        let z = warm[k]!;
        for (let tries = 0; tries < 20; tries++) {
          let miss = own * z - drop;
          let steep = own;
          for (const i of members[k]!) {
            const s = c.polarity[i]!;
            const bare =
              c.factorX[i]! * now[0]! + c.factorY[i]! * now[1]! + c.factorInhibit[i]! * now[2]! + c.bias[i]!;
            const phi = y[atFlux + i]! * c.phiR[i]!;
            move(i, bare + s * (l + tau * z), phi);
            out[atFlux + i] = (rate / c.phiR[i]!) * NS;
            if (rate === 0) continue;
            const F =
              c.factorX[i]! * lag[0]! +
              c.factorY[i]! * lag[1]! +
              c.factorInhibit[i]! * lag[2]! +
              s * l +
              c.bias[i]!;
            const left = 1 - c.elasticB[i]! * (Math.sqrt(F * F + c.bend[i]! ** 2) - c.bend[i]!);
            miss += c.count[i]! * s * left * rate;
            steep += c.count[i]! * left * rateSlope * tau;
          }
          const step = miss / steep;
          z -= step;
          if (Math.abs(step) * own < 1e-9) break;
        }
        warm[k] = z;
        out[n + 1 + k] = z * NS;
        current[k] = l + tau * z;
      }
      for (let k = 0; k <= n; k++)
        out[k] =
          (k > 0 ? current[k - 1]! : 0) -
          (k < n ? current[k]! : 0) -
          system.conductance[k]! * y[k]! +
          system.injection[k]! * now[2]!;
      factored(out);
      for (let k = 0; k <= n; k++) out[k]! *= NS;
    },
  };
}

/** Solves C x = b in place for the tridiagonal node capacitance. */
function factorCapacitance({ capacitance, capacitanceOff }: EquationSystem): (b: number[]) => void {
  const last = capacitance.length - 1;
  const pivot = [...capacitance];
  const lower = capacitance.map(() => 0);
  for (let k = 1; k <= last; k++) {
    lower[k] = capacitanceOff[k - 1]! / pivot[k - 1]!;
    pivot[k]! -= lower[k]! * capacitanceOff[k - 1]!;
  }
  return (b) => {
    for (let k = 1; k <= last; k++) b[k]! -= lower[k]! * b[k - 1]!;
    b[last]! /= pivot[last]!;
    for (let k = last - 1; k >= 0; k--) b[k] = (b[k]! - capacitanceOff[k]! * b[k + 1]!) / pivot[k]!;
  };
}
