/** How a run's own error is told against time, and what a finer run makes of it. */
import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../../engine/check/check-design.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';
import { errorAt, estimateError, finerFor } from '../../../engine/solver/run-error.ts';

const time = Float64Array.from({ length: 200 }, (_, i) => i * 1e-9);

describe('the error of a run against time', () => {
  it('is the greatest difference within five nanoseconds, so that a crossing of the two runs hides nothing', () => {
    const fine = time.map((t) => 1e-3 * Math.sin(t / 7e-9));
    const error = estimateError(time, fine, new Float64Array(200), Float64Array.of());
    for (let i = 0; i < 200; i++) {
      const around = fine.subarray(Math.max(0, i - 5), i + 6).map(Math.abs);
      expect(error.trace[i]).toBe(Math.max(...around));
    }
    expect(error.senseVoltage).toBe(Math.max(...error.trace));
  });

  it('is read at an instant, and beyond the end as the greatest of all', () => {
    const fine = time.map((_, i) => (i === 50 ? 2e-3 : 0));
    const error = estimateError(time, fine, new Float64Array(200), Float64Array.of(40e-9));
    expect(errorAt(error, time, 50e-9)).toBe(2e-3);
    expect(errorAt(error, time, 90e-9)).toBe(0);
    expect(errorAt(error, time, 1)).toBe(2e-3);
    expect(error.betweenEdges).toBe(0);
  });
});

describe('a finer run', () => {
  it('is asked for in powers of two with a quarter to spare, never beyond the finest', () => {
    expect(finerFor(1e-3, 2e-3)).toBe(1);
    expect(finerFor(1e-3, 0.5e-3)).toBe(2);
    expect(finerFor(1e-3, 0.25e-3)).toBe(4);
    expect(finerFor(1e-3, 0.25e-3, 2)).toBe(8);
    expect(finerFor(1, 1e-9)).toBe(8);
  });

  // Both parts of the method are of second order: two to four times less in practice, as kinks fall between steps.
  it('has a smaller error at the peak than the run before it, by its own account and in truth', () => {
    const design = checkDesign({ wire: { lossTime: '0.5 ns' } });
    const options = { contributions: false, balance: false, until: 400e-9 };
    const [plain, finer, exact] = [1, 2, 8].map((times) => simulate(design, { ...options, finer: times }));
    const told = (run: typeof plain): number => errorAt(run!.error!, run!.time, 150e-9);
    expect(told(finer)).toBeLessThan(told(plain) / 2);
    const off = (run: typeof plain): number =>
      Math.max(...run!.senseVoltage.map((u, i) => (i > 60 ? Math.abs(u - exact!.senseVoltage[i]!) : 0)));
    expect(off(finer)).toBeLessThan(off(plain) / 2);
  });
});
