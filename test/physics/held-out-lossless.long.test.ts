import { expect, it } from 'vitest';
import { simulate } from '../../engine/simulate/simulate.ts';
import { squareMat } from '../bench/bench-designs.ts';
import { equationsOf } from '../bench/same-equations.ts';
import { solveOdex } from '../bench/solve-odex.ts';

/**
 * A wire without ferrite loss, short edges, ends of few ohms: the default step was 3 mV wrong here until it was quartered.
 * Truth: a library integrator on the equations written out once more. Runs with HELD_OUT=1, as it takes its time.
 */
it.runIf(process.env.HELD_OUT)(
  'the default step holds without loss, between low ends and on edges of 15 ns',
  () => {
    const line = { rise: '15 ns', fall: '15 ns' };
    const design = squareMat(8, 1, {
      terminations: { a: '10 ohm', b: '10 ohm' },
      drive: { x: line, y: line, inhibit: line },
      wire: { couplingCapacitance: '0 pF', lossTime: '0 ns' },
      cycle: { readWidth: '120 ns', gap: '120 ns', writeWidth: '120 ns', period: '500 ns' },
    });
    const { u } = solveOdex(equationsOf(design), 1e-8);
    const { senseVoltage } = simulate(design, { contributions: false, estimateError: false });
    const miss = senseVoltage.reduce((most, v, i) => Math.max(most, Math.abs(v - u[i]!)), 0);
    expect(miss).toBeLessThan(0.5e-3);
  },
);
