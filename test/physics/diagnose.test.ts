import { describe, expect, test } from 'vitest';
import { diagnose } from '../../engine/fitting/diagnose.ts';
import { FAULTS } from '../../engine/fitting/faults.ts';
import { FitError } from '../../engine/fitting/fit-design.ts';
import { applyPatches } from '../../engine/studies/json-patch.ts';
import { JIG, record } from './fit-helpers.ts';
import { PLANTED, diagnosePlanted } from './diagnose-helpers.ts';

/** The full list of 24 planted faults is in the soak tests; here are two, and what is not on the list. */
describe('diagnosis', () => {
  for (const what of ['inhibit ends 100 ns early', 'flux of the selected core at 62 %']) {
    test(`${what}: ranked first, with its severity and the evidence`, () => {
      const index = PLANTED.findIndex((p) => p.what === what);
      const { verdict, statement, explanations } = diagnosePlanted(PLANTED[index], index);
      const [best] = explanations;
      expect(best.code).toBe(PLANTED[index].code);
      expect(verdict).toBe('fault');
      expect(best.misfit).toBeLessThan(1);
      expect(best.explains).toBeGreaterThan(0.9);
      expect(statement).toContain(best.title);
      const planted = { 'short-inhibit': 100e-9, 'weak-core': 0.62 }[best.code] as number;
      expect(Math.abs((best.severity as number) / planted - 1)).toBeLessThan(0.02);
      expect(best.traces?.[0].predicted).toHaveLength(best.traces?.[0].time.length as number);
      expect(explanations.map((e) => e.score)).toEqual(
        explanations.map((e) => e.score).sort((a, b) => a - b),
      );
    });
  }

  test('a healthy capture is called healthy', () => {
    const { verdict, explanations, notTried } = diagnosePlanted({ code: '', what: '', changes: [] }, 50);
    expect(verdict).toBe('healthy');
    expect(explanations.map((e) => e.code)).toContain('healthy');
    expect(notTried).toEqual(['The amplifier is still recovering from overload']);
    expect(explanations.length + notTried.length).toBe(FAULTS.length + 1);
  });

  test('what no single fault explains is called none of these', () => {
    const trace = record(JIG, [], { seed: 3, index: 0, noise: 0.3e-3, step: 0, delay: 0, offset: 0 });
    // A hum of 20 mV at 7 MHz is no fault of the list.
    const value = trace.value.map((v, i) => v + 20e-3 * Math.sin(2 * Math.PI * 7e6 * trace.time[i]));
    const { verdict, statement } = diagnose({
      design: JIG,
      captures: [{ label: 'hum', trace: { time: trace.time, value } }],
    });
    expect(verdict).toBe('none of these');
    expect(statement).toContain('No single fault of the list explains the captures');
  });

  test('what cannot be tried is refused', () => {
    expect(() => diagnose({ design: JIG, captures: [] })).toThrow(FitError);
    const trace = record(JIG, [], { seed: 3, index: 0, noise: 0.3e-3, step: 0, delay: 0, offset: 0 });
    expect(() => diagnose({ design: JIG, captures: [{ label: 'a', trace }], modelTolerance: 2 })).toThrow(
      'The model tolerance must be a share from 0 to 0.5; received 2.',
    );
    expect(() =>
      diagnose({
        design: applyPatches(JIG, [{ path: '/mat/rows', value: -1 }]),
        captures: [{ label: 'a', trace }],
      }),
    ).toThrow();
  });
});
