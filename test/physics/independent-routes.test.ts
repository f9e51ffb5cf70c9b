/**
 * The coupled run against other ways to solve the same equations. Pairs: the ladder with inductors for cores against
 * the exponential of its own state matrix (ml-matrix, scaling and squaring); a 2 x 2 mat of real cores against a
 * library integrator (odex, Gragg-Bulirsch-Stoer) with every state explicit. Both networks are written down here anew
 * from the equations; the averaged capacitance (5/12 and 1/12 of a section at either node) and the loss as a lag of
 * the currents are part of the model.
 */
import { createRequire } from 'node:module';
import { Matrix, solve } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { elasticPerFlux, elasticSlope, switchingRate } from '../../engine/core/model.ts';
import type { CoreParameters } from '../../engine/design/core.ts';
import { design, inductor, ns, run, type File } from './bench-designs.ts';
import { greatest, peakOf } from './trace-tools.ts';

/** Currents and their slopes, straight between corners. */
interface Corners {
  readonly times: readonly number[];
  /** [x, y, inhibit] at each corner, A. */
  readonly values: readonly (readonly [number, number, number])[];
}

/** exp(A) by scaling, Taylor to the 18th power, and squaring. */
function exponential(A: Matrix): Matrix {
  const norm = A.norm('frobenius');
  const halvings = Math.max(0, Math.ceil(Math.log2(norm)) + 2);
  const scaled = Matrix.mul(A, 2 ** -halvings);
  let term = Matrix.eye(A.rows);
  let sum = Matrix.eye(A.rows);
  for (let n = 1; n <= 18; n++) {
    term = term.mmul(scaled).mul(1 / n);
    sum = Matrix.add(sum, term);
  }
  for (let i = 0; i < halvings; i++) sum = sum.mmul(sum);
  return sum;
}

/** Averaged capacitance of n equal sections, F. */
function capacitance(n: number, C: number): Matrix {
  const M = Matrix.zeros(n + 1, n + 1);
  for (let k = 0; k < n; k++) {
    for (const i of [k, k + 1]) M.set(i, i, M.get(i, i) + (5 / 12) * C);
    for (const [i, j] of [
      [k, k + 1],
      [k + 1, k],
    ] as const)
      M.set(i, j, M.get(i, j) + C / 12);
  }
  return M;
}

describe('the linear network', () => {
  const n = 8;
  const column = 2;
  const wire = { R: 0.5, L: 3e-9, C: 0.4e-12, G: 2e-6, tau: 0.8e-9, MX: 0.3e-9, MY: -0.2e-9, CC: 0.03e-12 };
  const eps = 1.2e-9;
  const lineL = 150e-9;
  const lineR = 2;
  const [RA, RB, RIN] = [80, 150, 2000];
  const I = 0.4;
  const H = 0.3;
  const file: File = {
    mat: { rows: 1, columns: n },
    selected: { row: 0, column, bit: 1 },
    core: inductor('1.2 nH'),
    wire: {
      resistancePerCore: '0.5 ohm',
      inductancePerCore: '3 nH',
      capacitancePerCore: '0.4 pF',
      leakagePerCore: '2 uS',
      lossTime: '0.8 ns',
      mutualX: '0.3 nH',
      mutualY: '-0.2 nH',
      couplingCapacitance: '0.03 pF',
    },
    terminations: { a: '80 ohm', b: '150 ohm' },
    amplifier: { inputResistance: '2 kohm' },
    drive: {
      x: { readAmplitude: '400 mA', rise: '10 ns', fall: '10 ns', inductance: '150 nH', resistance: '2 ohm' },
      y: { readAmplitude: '400 mA', rise: '10 ns', fall: '10 ns', inductance: '150 nH', resistance: '2 ohm' },
      inhibit: { amplitude: '300 mA', rise: '10 ns', fall: '10 ns', lead: '15 ns', lag: '15 ns' },
    },
    cycle: { readWidth: '20 ns', gap: '40 ns', writeWidth: '20 ns', period: '150 ns' },
    programme: [{ row: 0, column, write: 'zero' }],
  };
  // Read from 0 to 30 ns, write from 60 to 90 ns, inhibit from 45 to 105 ns, all with edges of 10 ns.
  const corners: Corners = {
    times: [0, 10, 20, 30, 45, 55, 60, 70, 80, 90, 95, 105, 130].map((t) => t * ns),
    values: [
      [0, 0, 0],
      [-I, -I, 0],
      [-I, -I, 0],
      [0, 0, 0],
      [0, 0, 0],
      [0, 0, H],
      [0, 0, H],
      [I, I, H],
      [I, I, H],
      [0, 0, H],
      [0, 0, H],
      [0, 0, 0],
      [0, 0, 0],
    ],
  };

  /**
   * State: v (n + 1), lagged section currents (n), lagged x and y, x, y, inhibit, and their three slopes.
   * Section: (L + eps) lag' = v_k - v_{k+1} - R j - (M + eps) lagX' ..., j = lag + tau lag'.
   * Node:    C v' = j_{k-1} - j_k - G v + inhibit + c_x V_x' + c_y V_y'.
   */
  function stateMatrix(): Matrix {
    const { tau } = wire;
    const at = { v: 0, lag: n + 1, lx: 2 * n + 1, ly: 2 * n + 2, x: 2 * n + 3, y: 2 * n + 4, h: 2 * n + 5 };
    const size = 2 * n + 9;
    const row = (): number[] => Array.from({ length: size }, () => 0);
    const add = (to: number[], from: readonly number[], factor: number): void =>
      from.forEach((value, i) => (to[i]! += factor * value));
    const unit = (i: number): number[] => row().map((_, j) => (i === j ? 1 : 0));
    const slope = { x: unit(at.x + 3), y: unit(at.y + 3), h: unit(at.h + 3) };
    const late = (current: number, lag: number): number[] => {
      const r = row();
      r[current] = 1 / tau;
      r[lag] = -1 / tau;
      return r;
    };
    const dlx = late(at.x, at.lx);
    const dly = late(at.y, at.ly);
    const second = (s: number[], d: number[]): number[] => s.map((value, i) => (value - d[i]!) / tau);
    const ddlx = second(slope.x, dlx);
    const ddly = second(slope.y, dly);

    const dlag = Array.from({ length: n }, (_, k) => {
      const r = row();
      r[k] = 1;
      r[k + 1] = -1;
      r[at.lag + k] = -wire.R;
      add(r, dlx, -(wire.MX + eps));
      if (k === column) add(r, dly, -(wire.MY + eps));
      return r.map((value) => value / (wire.L + eps + wire.R * tau));
    });
    const j = dlag.map((d, k) => d.map((value, i) => tau * value + (i === at.lag + k ? 1 : 0)));

    // Voltages of the lines: own resistance and inductance, their cores, the wire's answer left out.
    const rateX = row();
    add(rateX, slope.x, lineR);
    add(rateX, ddlx, lineL + n * eps);
    add(rateX, ddly, eps);
    const rateY = row();
    add(rateY, slope.y, lineR);
    add(rateY, ddly, lineL + eps);
    add(rateY, ddlx, eps);

    const flows = Array.from({ length: n + 1 }, (_, k) => {
      const r = row();
      if (k > 0) add(r, j[k - 1]!, 1);
      if (k < n) add(r, j[k]!, -1);
      r[k]! -= wire.G * (k === 0 || k === n ? 0.5 : 1) + (k === 0 ? 1 / RA : k === n ? 1 / RB : 0);
      if (k === 0 || k === n) r[k]! -= 1 / RIN;
      if (k === 0) r[at.h] = -1;
      if (k === n) r[at.h] = 1;
      for (const section of [k - 1, k]) {
        if (section < 0 || section >= n) continue;
        // A crossing sees the line's voltage in proportion to its distance from the far end.
        add(r, rateX, (wire.CC / 2) * (1 - (section + 0.5) / n));
        if (section === column) add(r, rateY, (wire.CC / 2) * 0.5);
      }
      return r;
    });
    const dv = solve(capacitance(n, wire.C), new Matrix(flows)).to2DArray();
    return new Matrix([...dv, ...dlag, dlx, dly, slope.x, slope.y, slope.h, row(), row(), row()]);
  }

  /** v_B - v_A each ns. */
  function exactly(): number[] {
    const A = stateMatrix();
    const step = exponential(Matrix.mul(A, 1 * ns));
    let z = Matrix.zeros(2 * n + 9, 1);
    const u = [0];
    for (let p = 0; p + 1 < corners.times.length; p++) {
      const span = corners.times[p + 1]! - corners.times[p]!;
      for (let i = 0; i < 3; i++) {
        z.set(2 * n + 3 + i, 0, corners.values[p]![i]!);
        z.set(2 * n + 6 + i, 0, (corners.values[p + 1]![i]! - corners.values[p]![i]!) / span);
      }
      for (let i = 0; i < Math.round(span / ns); i++) {
        z = step.mmul(z);
        u.push(z.get(n, 0) - z.get(0, 0));
      }
    }
    return u;
  }

  // L5: derived.
  it('with inductors for cores equals the exponential of its state matrix, and nears it with the square of the step', () => {
    const u = exactly();
    const peak = Math.max(...u.map(Math.abs));
    expect(peak).toBeGreaterThan(0.1);
    const error = (refine: number): number => {
      const s = run(
        { ...file, numerics: { sections: n, step: '4 ps' } },
        { until: 130 * ns, contributions: false, refine },
      );
      expect(s.method.sections).toBe(n);
      let most = 0;
      for (let i = 0; i < 130; i++) most = Math.max(most, Math.abs(s.senseVoltage[i]! - u[i]!));
      return most / peak;
    };
    const fine = error(8);
    expect(fine).toBeLessThan(1e-6);
    expect(Math.abs(Math.log2(error(1) / fine) / 3 - 2)).toBeLessThan(0.15);
  });
});

interface OdexSolver {
  absoluteTolerance: number;
  relativeTolerance: number;
  initialStepSize: number;
  maxSteps: number;
  solve(f: (t: number, y: number[]) => number[], t0: number, y0: number[], t1: number): { y: number[] };
}
const { Solver } = createRequire(import.meta.url)('odex') as { Solver: new (n: number) => OdexSolver };

describe('the non-linear network', () => {
  const n = 4;
  /** Wire order of a 2 x 2 mat in one run: 0, 1, 3, 2. */
  const order = [0, 1, 3, 2];
  const selected = { row: 0, column: 1, bit: 1 };
  const bits = Uint8Array.of(0, 1, 1, 0);
  const w = { R: 0.2, L: 2e-9, C: 2e-12, tau: 1e-9, M: 0.2e-9 };
  const file: File = {
    mat: { rows: 2, columns: 2 },
    selected,
    wire: {
      resistancePerCore: '0.2 ohm',
      inductancePerCore: '2 nH',
      capacitancePerCore: '2 pF',
      lossTime: '1 ns',
      mutualX: '0.2 nH',
      mutualY: '0.2 nH',
      couplingCapacitance: '0 F',
    },
    terminations: { a: '30 ohm', b: '50 ohm' },
    amplifier: { inputResistance: '100 Mohm' },
    drive: { x: { rise: '30 ns', fall: '30 ns' }, y: { rise: '30 ns', fall: '30 ns' } },
    cycle: { readWidth: '220 ns' },
    numerics: { sections: n },
  };
  const I = 0.37;
  /** Read current: up in 30 ns, down from 220 to 250 ns. */
  const current = (t: number): number =>
    -I * Math.max(0, Math.min(t / (30 * ns), 1, (250 * ns - t) / (30 * ns)));

  /** State: v (5), lagged section currents (4), lagged drive, phi by place on the wire (4). */
  function rates(p: CoreParameters): (t: number, z: number[]) => number[] {
    const C = capacitance(n, w.C);
    const inverse = solve(C, Matrix.eye(n + 1));
    return (t, z) => {
      const i = current(t);
      const lagLine = z[2 * n + 1]!;
      const dLine = (i - lagLine) / w.tau;
      const dlag: number[] = [];
      const dphi: number[] = [];
      const j: number[] = [];
      for (let k = 0; k < n; k++) {
        const core = order[k]!;
        const lines =
          (Math.floor(core / 2) === selected.row ? 1 : 0) + (core % 2 === selected.column ? 1 : 0);
        const lag = z[n + 1 + k]!;
        const phi = z[2 * n + 2 + k]!;
        const F = lines * lagLine + lag;
        const slope = elasticSlope(p, F, phi);
        const gain = 1 + elasticPerFlux(p, F);
        // lag' enters the drive of the main part through j = lag + tau lag': a few Newton steps by secant.
        const residual = (rate: number): number =>
          (w.L + slope) * rate +
          w.R * (lag + w.tau * rate) -
          (z[k]! - z[k + 1]!) +
          (slope + w.M) * lines * dLine +
          gain * switchingRate(p, lines * i + lag + w.tau * rate, phi);
        let rate = -residual(0) / (w.L + slope + w.R * w.tau);
        for (let tries = 0; tries < 4; tries++) rate -= residual(rate) / (w.L + slope + w.R * w.tau);
        dlag.push(rate);
        j.push(lag + w.tau * rate);
        dphi.push(switchingRate(p, lines * i + lag + w.tau * rate, phi));
      }
      const flow = Array.from(
        { length: n + 1 },
        (_, k) =>
          (k > 0 ? j[k - 1]! : 0) - (k < n ? j[k]! : 0) - (k === 0 ? z[0]! / 30 : k === n ? z[n]! / 50 : 0),
      );
      const dv = inverse.mmul(Matrix.columnVector(flow)).to1DArray();
      return [...dv, ...dlag, dLine, ...dphi];
    };
  }

  // Section 5 of the equations; the core's formulas are those of the 1965 paper (core/model.ts), tested on their own.
  it('of a 2 x 2 mat on one wire equals a library integrator with every state explicit', () => {
    const p = design(file).core.parameters;
    const solver = new Solver(3 * n + 2);
    solver.absoluteTolerance = 1e-12;
    solver.relativeTolerance = 1e-7;
    solver.initialStepSize = 1e-12;
    solver.maxSteps = 1e6;
    const f = rates(p);
    let z = [
      ...Array.from({ length: 2 * n + 2 }, () => 0),
      ...order.map((c) => (bits[c] ? 1 : -1) * p.remanentFlux),
    ];
    const end = 300;
    const u = [0];
    const phi = [z[2 * n + 3]!];
    for (let t = 0; t < end; t++) {
      // Flux and charge are a billionth of their unit: tolerance is that of scaled states.
      z = unscale(solver.solve((x, y) => scale(f(x * ns, unscale(y)), ns), t, scale(z), t + 1).y);
      u.push(z[n]! - z[0]!);
      phi.push(z[2 * n + 3]!);
    }
    const s = run(file, { bits, until: 310 * ns, refine: 8 });
    const peak = Math.abs(greatest(Float64Array.from(u)));
    const one = peakOf(s.time, s.contributions!.selectedCore, 60 * ns, 210 * ns).value;
    expect(one).toBeGreaterThan(5e-3);
    let most = 0;
    let between = 0;
    for (let i = 0; i <= end; i++) {
      const error = Math.abs(s.senseVoltage[i]! - u[i]!);
      most = Math.max(most, error);
      if ((i >= 55 && i <= 219) || i >= 275) between = Math.max(between, error);
    }
    // Core 1, the selected one, is second on the wire.
    expect(phi[210]! < -2e-9).toBe(true);
    expect(Math.abs(s.selected.state[210]! - phi[210]!)).toBeLessThan(1e-5 * 5.4e-9);
    expect(between).toBeLessThan(2e-5 * one);
    expect(most).toBeLessThan(2e-4 * peak);
  });

  /** Volts and amperes as they are, fluxes in nWb. */
  function scale(z: number[], by = 1): number[] {
    return z.map((value, i) => value * by * (i >= 2 * n + 2 ? 1e9 : 1));
  }
  function unscale(z: number[]): number[] {
    return z.map((value, i) => value * (i >= 2 * n + 2 ? 1e-9 : 1));
  }
});
