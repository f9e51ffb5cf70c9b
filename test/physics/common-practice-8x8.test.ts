/**
 * An 8 x 8 mat on one shared wire as such mats are known to behave: common practice, no source. The design's stated
 * inputs are those of its file; nothing is adjusted here. Independent routes: lines counted in the winding against
 * the run; the sense voltage against its split by cause; a core with a magnet against the same core without.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import { wirePath } from '../../engine/mat/winding.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import type { Simulation } from '../../engine/solver/result.ts';
import { difference, peakOf, splitError } from './trace-tools.ts';

const file = JSON.parse(
  readFileSync(new URL('../../fixtures/designs/common-practice-8x8.json', import.meta.url), 'utf8'),
) as Record<string, unknown>;
const selected = { row: 3, column: 4 };
const cycles = (...writes: readonly ('restore' | 'zero' | 'one' | 'none')[]): unknown =>
  writes.map((write) => ({ ...selected, write }));
const run = (writes: readonly ('restore' | 'zero' | 'one' | 'none')[], more: object = {}): Simulation =>
  simulate(checkDesign({ ...file, programme: cycles(...writes), ...more }), { estimateError: false });
const magnet = (row: number, column: number, bias: string): object => ({
  exceptions: [{ row, column, bias }],
});

const ns = 1e-9;
/** The read pulse stands from 15 to 500 ns, the write from 1015 to 1500 ns; edges of 15 ns. */
const READ_EDGE = [0, 20 * ns] as const;
const READ = [60 * ns, 495 * ns] as const;
const READ_OFF = [500 * ns, 530 * ns] as const;
const WRITE = [1060 * ns, 1495 * ns] as const;
const WRITE_OFF = [1500 * ns, 1530 * ns] as const;

const one = run(['restore']);
const inhibited = run(['zero']);

describe('an 8 x 8 mat on one shared wire, common practice, no source', () => {
  it('has 15 cores of the selected lines on the wire, 16 crossings counted line by line', () => {
    const { order } = wirePath(one.design);
    const onX = Array.from(order).filter((core) => Math.floor(core / 8) === selected.row);
    const onY = Array.from(order).filter((core) => core % 8 === selected.column);
    expect(onX.length + onY.length).toBe(16);
    expect(new Set([...onX, ...onY]).size).toBe(15);
  });

  it('gives a useful signal of 30 to 40 mV beside a coupling spike of nearly 1 V', () => {
    const signal = peakOf(one.time, one.senseVoltage, ...READ);
    expect(signal.value).toBeGreaterThan(30e-3);
    expect(signal.value).toBeLessThan(40e-3);
    const spike = Math.abs(peakOf(one.time, one.senseVoltage).value);
    expect(spike).toBeGreaterThan(0.7);
    expect(spike).toBeLessThan(1);
    expect(peakOf(one.time, one.senseVoltage, ...READ_EDGE).value).toBeGreaterThan(20 * signal.value * 0.9);
    expect(splitError(one)).toBeLessThan(1e-9);
  });

  it('gives a write-back signal of the opposite sign and about the same size', () => {
    const read = peakOf(one.time, one.senseVoltage, ...READ).value;
    const write = peakOf(one.time, one.senseVoltage, 1100 * ns, 1495 * ns).value;
    expect(write).toBeLessThan(0);
    expect(Math.abs(write / read + 1)).toBeLessThan(0.2);
  });

  it('loses the write-back signal when the write is inhibited, though the read before was the same', () => {
    const { selectedCore } = inhibited.contributions!;
    const whole = peakOf(one.time, one.contributions!.selectedCore, ...WRITE).value;
    expect(Math.abs(whole)).toBeGreaterThan(30e-3);
    expect(Math.abs(peakOf(inhibited.time, selectedCore, ...WRITE).value)).toBeLessThan(
      0.1 * Math.abs(whole),
    );
    // What then stands on the wire is the drop of the inhibit current itself: steady, so no core is switching.
    const { time, senseVoltage } = inhibited;
    const standing = senseVoltage.filter((_, i) => time[i]! >= WRITE[0] && time[i]! <= WRITE[1]);
    expect(Math.max(...standing) - Math.min(...standing)).toBeLessThan(2e-3);
    // The read before differs by no more than the method's own error: the later edge shifts the steps a little.
    const early = (from: number, to: number) => (i: number) => time[i]! >= from && time[i]! <= to;
    const spike = Math.abs(peakOf(one.time, one.senseVoltage).value);
    expect(difference(senseVoltage, one.senseVoltage, early(0, 900 * ns))).toBeLessThan(5e-3 * spike);
    expect(difference(senseVoltage, one.senseVoltage, early(40 * ns, 499 * ns))).toBeLessThan(1e-3 * 30e-3);
    expect(inhibited.selected.state.at(-1)!).toBeLessThan(0);
  });

  it('gives no ONE at the next read after an inhibited write, and one again after a write that was not', () => {
    const after = (write: 'zero' | 'one'): number =>
      peakOf(one.time, run([write, 'restore']).senseVoltage, 100 * ns, READ[1]).value;
    const first = peakOf(one.time, one.senseVoltage, ...READ).value;
    expect(Math.abs(after('zero'))).toBeLessThan(0.1 * first);
    expect(after('one')).toBeGreaterThan(0.95 * first);
  });

  it.each(['3 A', '-3 A'])(
    'loses the bells of read and write with a magnet of %s at the selected core, but keeps its elastic answer',
    (bias) => {
      const held = run(['restore'], magnet(selected.row, selected.column, bias));
      const bell = peakOf(one.time, one.contributions!.selectedCore, ...READ).value;
      const { selectedCore } = held.contributions!;
      expect(Math.abs(peakOf(held.time, selectedCore, ...READ).value)).toBeLessThan(0.02 * bell);
      expect(Math.abs(peakOf(held.time, selectedCore, ...WRITE).value)).toBeLessThan(0.02 * bell);
      expect(Math.abs(held.selected.state.at(-1)! - held.selected.state[0]!)).toBeLessThan(1e-12);
      // On every edge the core still answers the change of current, by its inductance at saturation or more.
      const { elasticSaturated } = held.design.core.parameters;
      const least = 0.8 * elasticSaturated * (0.74 / (15 * ns)) * 0.5;
      for (const edge of [READ_EDGE, READ_OFF, [995 * ns, 1020 * ns] as const, WRITE_OFF])
        expect(Math.abs(peakOf(held.time, selectedCore, ...edge).value)).toBeGreaterThan(least);
    },
  );

  it('changes little with a magnet at any other core', () => {
    const bell = peakOf(one.time, one.senseVoltage, ...READ).value;
    const spike = Math.abs(peakOf(one.time, one.senseVoltage).value);
    for (const [row, column] of [
      [0, 0],
      [3, 1],
      [0, 4],
      [7, 7],
    ] as const)
      for (const bias of ['3 A', '-3 A']) {
        const held = run(['restore'], magnet(row, column, bias));
        const between = (i: number): boolean => one.time[i]! >= READ[0] && one.time[i]! <= READ[1];
        expect(difference(held.senseVoltage, one.senseVoltage, between)).toBeLessThan(0.02 * bell);
        expect(difference(held.senseVoltage, one.senseVoltage)).toBeLessThan(0.03 * spike);
      }
  });

  it('gives a pulse from the cores that do not switch when the current is turned off', () => {
    const { halfSelectedReversible, halfSelectedIrreversible } = one.contributions!;
    for (const edge of [READ_OFF, WRITE_OFF])
      expect(Math.abs(peakOf(one.time, halfSelectedReversible, ...edge).value)).toBeGreaterThan(0.1);
    expect(peakOf(one.time, halfSelectedReversible, ...READ_OFF).value).toBeLessThan(0);
    expect(peakOf(one.time, halfSelectedReversible, ...WRITE_OFF).value).toBeGreaterThan(0);
    expect(Math.abs(peakOf(one.time, halfSelectedIrreversible, ...READ_OFF).value)).toBeLessThan(5e-3);
  });
});
