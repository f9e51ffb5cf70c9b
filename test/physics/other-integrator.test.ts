import { describe, expect, it } from 'vitest';
import { simulate } from '../../engine/simulate/simulate.ts';
import { squareMat } from '../bench/bench-designs.ts';
import { equationsOf } from '../bench/same-equations.ts';
import { solveOdex } from '../bench/solve-odex.ts';

/**
 * The equations written out once more and given to a library integrator that shares no scheme, no step and no
 * linearisation with this engine. The ferrite's loss lag makes them stiff, so one short edge and its answer are run.
 */
describe('a general-purpose integrator on the same equations', () => {
  it('gives the voltage to which the engine converges as its steps are cut', { timeout: 120_000 }, () => {
    const design = squareMat(8, 1, {
      wire: { couplingCapacitance: '0 pF', lossTime: '0.3 ns' },
      cycle: { readWidth: '120 ns', gap: '120 ns', writeWidth: '120 ns', period: '500 ns' },
    });
    const { u } = solveOdex(equationsOf(design), 1e-8);
    const peak = Math.max(...u.map(Math.abs));
    expect(peak).toBeGreaterThan(0.05);
    const miss = (refine: number): number => {
      const { senseVoltage } = simulate(design, { refine, contributions: false, estimateError: false });
      return senseVoltage.reduce((most, v, i) => Math.max(most, Math.abs(v - u[i]!)), 0) / peak;
    };
    // The target for the default step; then 64 times finer, where only the odd kink still shows.
    expect(miss(1)).toBeLessThan(5e-3);
    expect(miss(64)).toBeLessThan(1e-5);
  });

  it('agrees at the default step where the ferrite has no loss', () => {
    const design = squareMat(8, 1, {
      winding: { kind: 'shared-two-halves' },
      wire: { couplingCapacitance: '0 pF', lossTime: '0 ns' },
      cycle: { readWidth: '120 ns', gap: '120 ns', writeWidth: '120 ns', period: '500 ns' },
    });
    const { u } = solveOdex(equationsOf(design), 1e-8);
    const { senseVoltage } = simulate(design, { contributions: false, estimateError: false });
    const miss = senseVoltage.reduce((most, v, i) => Math.max(most, Math.abs(v - u[i]!)), 0);
    // The target at edges. With the steps of a wire with loss it was 4.7 mV of 50.
    expect(miss).toBeLessThan(5e-3 * Math.max(...u.map(Math.abs)));
  });
});
