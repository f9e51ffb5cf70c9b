import { type File } from './bench-designs.ts';

/*
 * A steep core in a loop of little resistance as a design, and the same circuit written out in currents, with the bell
 * written out once more, by the implicit midpoint rule and Newton's method at a twentieth of a nanosecond. The design is
 * invented.
 */

/** One core of 1.3 mm: Wb, A, ohm, H. */
const CORE = {
  phiR: 19.1e-9,
  squareness: 0.859,
  coercive: 0.343,
  knee: 0.006,
  threshold: 0.39,
  soft: 0.019,
  rho: 0.54,
  elasticKnee: 0.8e-9,
  elasticSaturated: 0.5e-9,
  bend: 0.2,
};
const TAU = 1e-9;
const RISE = 20e-9;
const core = {
  preset: 'ferrite-50-mil',
  parameters: {
    remanentFlux: '19.1 nWb',
    squareness: CORE.squareness,
    coerciveDrive: '343 mA',
    staticKneeWidth: '6 mA',
    dynamicThreshold: '390 mA',
    dynamicKneeWidth: '19 mA',
    switchingResistance: '0.54 ohm',
    elasticKnee: '0.8 nH',
    elasticSaturated: '0.5 nH',
    elasticBend: '200 mA',
  },
};
export const jig = (line: object, wire: object, ends: string): File => ({
  core,
  mat: { rows: 1, columns: 1 },
  winding: { kind: 'shared-one-run' },
  selected: { row: 0, column: 0, bit: 1 },
  stored: { kind: 'ones' },
  wire: {
    resistancePerCore: '20 mohm',
    inductancePerCore: '20 nH',
    capacitancePerCore: '0.01 pF',
    mutualX: '0 nH',
    mutualY: '0 nH',
    couplingCapacitance: '0 pF',
    lossTime: '1 ns',
    ...wire,
  },
  amplifier: { inputResistance: '100 Mohm' },
  terminations: { a: ends, b: ends },
  drive: { x: line, y: line },
  cycle: { readWidth: '1.5 us', gap: '1 us', writeWidth: '1.5 us', period: '8 us' },
});
/** X and Y alike, 560 mA together when nothing holds them back. */
export const behindVoltage = (ohm: number, inductance: string): File =>
  jig(
    {
      source: { kind: 'voltage', voltage: `${0.28 * ohm} V`, resistance: `${ohm} ohm` },
      inductance,
      resistance: '0 ohm',
      rise: '20 ns',
      fall: '20 ns',
      clamp: '5 V',
    },
    {},
    '1 kohm',
  );

/** dphi/dt, V, of the bell for a read (F < 0) of a core at phi. */
function readRate(F: number, phi: number): number {
  const f = -F;
  const p = -phi;
  if (f <= 0) return 0;
  const phiS = CORE.phiR / CORE.squareness;
  const phiD = CORE.phiR * (2 / (1 + Math.exp((CORE.coercive - f) / CORE.knee)) - 1);
  if (p >= phiD || phiS + phiD <= 0) return 0;
  const u = (2 * p + phiS - phiD) / (phiS + phiD);
  if (u <= -1) return 0;
  const reach = Math.log1p(Math.exp((f - CORE.threshold) / CORE.soft));
  const rest = Math.log1p(Math.exp(-CORE.threshold / CORE.soft));
  return -CORE.rho * CORE.soft * (reach - rest) * (1 - u * u);
}

/** Sense voltage of the read at every nanosecond up to `end` ns: lines of R and L behind E(t), the wire of 2,000 ohm. */
export function reference(R: number, L: number, end: number): number[] {
  const [a, b] = [
    (CORE.elasticKnee + CORE.elasticSaturated) / 2,
    (CORE.elasticKnee - CORE.elasticSaturated) / 2 / CORE.phiR,
  ];
  const wireOhm = 2000.02;
  const h = 0.05e-9;
  // Lagged currents of each line and of the wire, flux; and their rates.
  const y = [0, 0, CORE.phiR];
  let z = [0, 0, 0];
  const equations = (t: number, rates: readonly number[]): number[] => {
    const [l, m, phi] = y.map((value, k) => value + (h / 2) * rates[k]!);
    const [dl, dm, dphi] = rates as [number, number, number];
    const E = -0.28 * R * Math.min(1, t / RISE);
    const slow = 2 * l! + m!;
    const root = Math.hypot(slow, CORE.bend);
    const emf = dphi * (1 - b * (root - CORE.bend)) + (a - (b * phi! * slow) / root) * (2 * dl + dm);
    const i = l! + TAU * dl;
    const j = m! + TAU * dm;
    return [E - R * i - L * dl - emf, wireOhm * j + 20e-9 * dm + emf, readRate(2 * i + j, phi!) - dphi];
  };
  const out: number[] = [0];
  // The amplifier is across the ends: u = v_B - v_A = 2 x 1 kohm x j.
  for (let n = 0; n < end * 20; n++) {
    const before = z[1]!;
    const t = (n + 0.5) * h;
    for (let tries = 0; tries < 60; tries++) {
      const miss = equations(t, z);
      const jacobian = z.map((value, k) => {
        const nudge = [1e2, 1e2, 1e-7][k]!;
        return equations(t, z.with(k, value + nudge)).map((f, row) => (f - miss[row]!) / nudge);
      });
      const change = solve3(jacobian, miss);
      z = z.map((value, k) => value - change[k]!);
      if (Math.abs(change[0]!) < 1 && Math.abs(change[2]!) < 1e-9) break;
    }
    for (let k = 0; k < 3; k++) y[k]! += h * z[k]!;
    // Rates are those of mid-step; at its end they are half a step on.
    if (n % 20 === 19) out.push(2000 * (y[1]! + TAU * (1.5 * z[1]! - 0.5 * before)));
  }
  return out;
}

/** Solves columns x = b by Cramer's rule. */
function solve3(columns: number[][], right: number[]): number[] {
  const determinant = (p: number[], q: number[], r: number[]): number =>
    p[0]! * (q[1]! * r[2]! - q[2]! * r[1]!) -
    q[0]! * (p[1]! * r[2]! - p[2]! * r[1]!) +
    r[0]! * (p[1]! * q[2]! - p[2]! * q[1]!);
  const [p, q, r] = columns as [number[], number[], number[]];
  const whole = determinant(p, q, r);
  return [determinant(right, q, r), determinant(p, right, r), determinant(p, q, right)].map((d) => d / whole);
}
