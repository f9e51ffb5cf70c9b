import type { Design, Simulation, StrobeWindow } from '../engine/index.ts';
import type { Run } from './run.ts';
const N = 3001;
const axis = Float64Array.from({ length: N }, (_, i) => i * 1e-9);
const f = (g: (t: number) => number) => axis.map((t) => g(t * 1e9));
const sech2 = (x: number) => 1 / Math.cosh(x) ** 2;
const edge = (t: number, c: number, w: number) => Math.exp(-(((t - c) / w) ** 2));
function sim(bit: 0 | 1): Simulation {
  const direct = f((t) => 0.4 * (edge(t, 30, 14) - edge(t, 560, 14) - edge(t, 1100, 14) + edge(t, 1640, 14)));
  const rev = f((t) => 0.08 * (edge(t, 32, 16) - edge(t, 562, 16)));
  const irr = f((t) => 0.004 * Math.exp(-Math.max(0, t - 60) / 120) * (t > 60 ? 1 : 0));
  const sel = f(
    (t) => (bit ? 0.036 : 0.003) * sech2((t - 240) / 90) - (bit ? 0.034 * sech2((t - 1340) / 90) : 0),
  );
  const inh = f((t) =>
    bit
      ? 0
      : 0.3 * (edge(t, 1050, 20) - edge(t, 1700, 20)) + (t > 1700 ? 0.05 * Math.exp(-(t - 1700) / 200) : 0),
  );
  const sum = f((t) => {
    const i = Math.round(t);
    return direct[i]! + rev[i]! + irr[i]! + sel[i]! + inh[i]!;
  });
  const pulse = (a: number, b: number, A: number) =>
    f((t) => A * Math.min(1, Math.max(0, (t - a) / 40), Math.max(0, (b - t) / 40)));
  const x = f((t) => {
    const i = Math.round(t);
    return -pulse(0, 580, 0.37)[i]! * 0;
  });
  const rd = pulse(0, 580, 0.37),
    wr = pulse(1080, 1660, 0.37);
  return {
    time: axis,
    senseVoltage: sum,
    commonMode: sum,
    contributions: {
      directCoupling: direct,
      halfSelectedReversible: rev,
      halfSelectedIrreversible: irr,
      selectedCore: sel,
      inhibit: inh,
    },
    amplifierOutput: sum.map((v) => Math.max(-0.12, Math.min(0.12, v)) * 50),
    detectorOutput: Uint8Array.from(sum, (v) => (v > 0.02 ? 1 : 0)),
    currents: {
      x: x.map((_, i) => wr[i]! - rd[i]!),
      y: x.map((_, i) => wr[Math.max(0, i - 20)]! - rd[Math.max(0, i - 20)]!),
      inhibit: pulse(1040, 1700, bit ? 0 : 0.34),
      sense: x,
    },
    selected: {
      flux: f((t) => (bit ? 3e-9 : -3e-9) * (t < 240 ? 1 : -1)),
      state: x,
      drive: x.map((_, i) => 2 * (wr[i]! - rd[i]!)),
    },
    strobe: { time: 260e-9, threshold: 0.02, value: 0.03, bit },
    energy: { source: 1e-6, resistive: 5e-7, stored: 0, cores: 5e-7, residual: 1e-12 },
    fluxClosure: 1e-5,
    error: { senseVoltage: 1e-4, betweenEdges: 1e-5 },
    method: { steps: 6000, sections: 8, classes: 20, step: 5e-10 },
    outcome: { kind: 'done' },
    design: undefined as unknown as Design,
  };
}
export function fakeRun(): Run {
  const one = sim(1),
    zero = sim(0);
  const ref = (x: Float64Array, d: number, k = 0) => x.map((v, i) => v / 50 + d + k * edge(i, 30, 60));
  const window: StrobeWindow = {
    reason: undefined,
    strobe: { start: 200e-9, end: 330e-9, width: 130e-9, best: 260e-9 },
    intervals: [{ start: 200e-9, end: 330e-9 }],
    threshold: { low: 0.01, high: 0.03, best: 0.02 },
    inForce: { time: 260e-9, threshold: 0.02 },
    margin: { one: 0.012, zero: 0.014, total: 0.026, ratioDb: 12 },
    taps: [],
    tap: undefined,
    errorChance: 1e-12,
    atStrobe: {
      one: {
        directCoupling: 0,
        halfSelectedIrreversible: 0,
        halfSelectedReversible: 0,
        inhibit: 0,
        selectedCore: 0.03,
      },
      zero: {
        directCoupling: 0,
        halfSelectedIrreversible: 0,
        halfSelectedReversible: 0,
        inhibit: 0,
        selectedCore: 0.003,
      },
    },
    envelope: {
      time: axis,
      one: ref(one.amplifierOutput, -0.003),
      oneHigh: ref(one.amplifierOutput, 0.004),
      zero: ref(zero.amplifierOutput, 0.004),
      zeroLow: ref(zero.amplifierOutput, -0.004),
    },
    opening: [],
    cases: [],
  };
  const design = {
    name: 'Fake',
    amplifier: { gain: 50, divider: 1 },
    numerics: { output: 1e-9 },
    strobe: { aperture: 1e-8 },
    detector: { uncertainty: 0.002, threshold: 0.02, hysteresis: 0, slope: 0, delay: 0 },
    mat: { rows: 16, columns: 16 },
  } as unknown as Design;
  return { design, one, zero, window, warnings: [] };
}
