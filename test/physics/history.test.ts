import { beforeAll, describe, expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import { restState } from '../../engine/core/state.ts';
import type { Design } from '../../engine/design/design.ts';
import type { Cycle } from '../../engine/design/drive.ts';
import type { KickedCore } from '../../engine/core/kicks.ts';
import { disturbReadings, type DisturbReadings } from '../../engine/history/disturb-readings.ts';
import { disturbances, extremeTrain } from '../../engine/history/disturb-search.ts';
import { makeMatHistory } from '../../engine/history/mat-history.ts';
import { storedBits } from '../../engine/mat/stored-pattern.ts';
import { simulate } from '../../engine/simulate/simulate.ts';

/**
 * History on a mat, through coupled runs of whole programmes. C8 and C9 after Papian, Proc. IRE 40(4), 1952,
 * pp. 475-478, as reported in a digest; P5 after Raffel, MIT memo M-2919, 1954 (abstract read); the drive of an
 * inhibited write after the PDP-8/E maintenance manual, 1973, as reported. The rest is derived.
 */
const mat = (raw: object = {}): Design =>
  checkDesign({
    core: { preset: 'ferrite-20-mil' },
    mat: { rows: 4, columns: 4 },
    winding: { kind: 'shared-one-run' },
    selected: { row: 1, column: 2 },
    stored: { kind: 'random', seed: 5 },
    strobe: { time: '140 ns' },
    ...raw,
  });

describe('undisturbed and disturbed readings of the addressed core on a mat', () => {
  let found: DisturbReadings;
  beforeAll(() => {
    found = disturbReadings(mat(), { simulate });
  });

  it('C8: half-reads take flux from a ONE, half-writes give flux to a ZERO, and both level off', () => {
    const { uV1, dV1, uVz, dVz, settling } = found;
    expect(dV1.flux).toBeLessThan(uV1.flux);
    expect(dV1.area).toBeLessThan(uV1.area);
    expect(dVz.flux).toBeGreaterThan(uVz.flux);
    expect(dVz.area).toBeGreaterThan(uVz.area);
    expect(dVz.peak).toBeGreaterThan(uVz.peak);
    for (const [trace, sign] of [
      [settling.one, -1],
      [settling.zero, 1],
    ] as const) {
      const steps = trace.slice(1).map((flux, i) => sign * (flux - trace[i]));
      expect(steps[0]).toBeGreaterThan(0);
      for (const step of steps) expect(step).toBeGreaterThanOrEqual(0);
      expect(steps.at(-1)! / steps[0]).toBeLessThan(0.01);
    }
  });

  it('the fast history ends where the coupled run of the same train ends', () => {
    const { remanentFlux } = mat().core.parameters;
    const { dV1, dVz, settling } = found;
    expect(Math.abs(settling.one.at(-1)! - dV1.flux) / remanentFlux).toBeLessThan(1e-3);
    expect(Math.abs(settling.zero.at(-1)! - dVz.flux) / remanentFlux).toBeLessThan(1e-3);
  });

  it('a ONE does not mind half-writes, nor a ZERO half-reads', () => {
    const { uV1, uVz, writeDisturbed } = found;
    const { remanentFlux } = mat().core.parameters;
    expect(Math.abs(writeDisturbed.one.flux - uV1.flux) / remanentFlux).toBeLessThan(1e-3);
    expect(Math.abs(writeDisturbed.zero.flux - uVz.flux) / remanentFlux).toBeLessThan(1e-3);
  });

  it('an inhibited write of 370 + 370 - 340 mA is 1.081 half-selects and disturbs a ZERO more than they do', () => {
    const plain = disturbReadings(
      mat({
        drive: {
          x: { readAmplitude: '370 mA' },
          y: { readAmplitude: '370 mA' },
          inhibit: { amplitude: '340 mA' },
        },
      }),
      { simulate, length: 4 },
    );
    expect(plain.inhibitedDrive).toBeCloseTo(1.081, 3);
    expect(plain.keptZero.flux).toBeGreaterThan(plain.dVz.flux);
  });

  it('the worst history is the worst of all that were tried, plain trains among them', () => {
    const { worst, tried, uV1, dV1, uVz, dVz, keptZero } = found;
    for (const one of [uV1, dV1, ...tried.filter(({ bit }) => bit === 1)])
      expect(worst.one.atStrobe).toBeLessThanOrEqual(one.atStrobe);
    for (const zero of [uVz, dVz, keptZero, ...tried.filter(({ bit }) => bit === 0)])
      expect(worst.zero.atStrobe).toBeGreaterThanOrEqual(zero.atStrobe);
    expect(tried.length).toBeGreaterThan(20);
    expect(worst.zero.atStrobe).toBeGreaterThan(uVz.atStrobe);
  });
});

describe('the search for the worst history', () => {
  it('finds what trying every train of four finds, lowest and highest, for a ONE and for a ZERO', () => {
    const design = mat();
    const among = disturbances(design);
    const history = makeMatHistory(design, { bits: storedBits(design) });
    const index = design.selected.row * 4 + design.selected.column;
    for (const bit of [0, 1] as const) {
      const start: KickedCore = { ...restState(design.core.parameters, bit) };
      let low = Infinity;
      let high = -Infinity;
      const visit = (state: KickedCore, left: number): void => {
        low = Math.min(low, state.phi);
        high = Math.max(high, state.phi);
        if (left === 0) return;
        for (const { cycle } of among) {
          const next = { ...state };
          history.move(cycle, index, next);
          visit(next, left - 1);
        }
      };
      visit(start, 4);
      const search = (toward: 'low' | 'high'): number =>
        extremeTrain(history, index, start, among, 4, toward).flux;
      const { remanentFlux } = design.core.parameters;
      expect(Math.abs(search('low') - low) / remanentFlux).toBeLessThan(1e-12);
      expect(Math.abs(search('high') - high) / remanentFlux).toBeLessThan(1e-12);
    }
  });
});

describe('drive raised at a half-select ratio of one half', () => {
  // History takes longer steps than what is observed: what it leaves must not show it.
  it('leaves the same cores whatever its steps, to a hundred-thousandth of their flux', () => {
    const write = (row: number, column: number, bit: 'one' | 'zero'): object => ({ row, column, write: bit });
    const source = { source: { kind: 'voltage', voltage: '20 V', resistance: '53 ohm' } };
    for (const drive of [{}, { x: source, y: source }]) {
      const file = {
        mat: { rows: 8, columns: 8 },
        winding: { kind: 'shared-two-halves' },
        selected: { row: 2, column: 3, bit: 1 },
        drive,
        programme: [
          write(2, 3, 'one'),
          write(2, 5, 'zero'),
          write(6, 3, 'one'),
          { row: 2, column: 7, lines: 'x', write: 'none' },
          write(2, 1, 'zero'),
          { row: 2, column: 3 },
        ],
      };
      const [usual, short] = [1, 8].map((refine) =>
        simulate(checkDesign(file), { refine, estimateError: false }),
      );
      const flux = checkDesign(file).core.parameters.remanentFlux;
      expect(Math.abs(usual!.selected.state[0]! - short!.selected.state[0]!)).toBeLessThan(1e-5 * flux);
      expect(usual!.selected.state[0]!).toBeLessThan(0.999 * flux);
      expect(Math.abs(usual!.strobe.value - short!.strobe.value)).toBeLessThan(20e-6);
    }
  });

  it('C9: disturbed ONE over disturbed ZERO falls toward 1, under 2 at gross over-drive', () => {
    const ratios = [370, 430, 500, 600].map((half) => {
      const line = { readAmplitude: `${half} mA`, writeAmplitude: `${half} mA` };
      const design = mat({
        mat: { rows: 2, columns: 2 },
        selected: { row: 1, column: 1 },
        drive: { x: line, y: line, inhibit: { amplitude: `${half} mA` } },
      });
      const { dV1, dVz } = disturbReadings(design, { simulate, length: 6 });
      return dV1.area / dVz.area;
    });
    for (let k = 1; k < ratios.length; k++) expect(ratios[k]).toBeLessThan(ratios[k - 1]);
    expect(ratios[0]).toBeGreaterThan(5);
    expect(ratios.at(-1)).toBeLessThan(2);
  });
});

describe('the same stored pattern', () => {
  it('P5: gives another sense output after another history', () => {
    const design = mat({ selected: { row: 1, column: 2, bit: 0 } });
    const read: Cycle = { row: 1, column: 2, lines: 'both', read: true, write: 'restore' };
    // Every core of the row and column is read and restored, or left alone; the bits are the same.
    const busy: Cycle[] = [0, 1, 3].flatMap((k): Cycle[] => [
      { row: 1, column: k, lines: 'both', read: true, write: 'restore' },
      { row: k === 1 ? 2 : k, column: 2, lines: 'both', read: true, write: 'restore' },
    ]);
    const after = (programme: Cycle[]): Float64Array =>
      simulate({ ...design, programme }, { contributions: false, estimateError: false }).senseVoltage;
    const quiet = after([read]);
    const disturbed = after([...busy, read]);
    const apart = quiet.reduce((most, u, i) => Math.max(most, Math.abs(u - disturbed[i])), 0);
    expect(apart).toBeGreaterThan(0.05e-3);
  });
});
