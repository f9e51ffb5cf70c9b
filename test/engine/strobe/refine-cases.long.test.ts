import { describe, expect, it } from 'vitest';
import type { Design } from '../../../engine/design/design.ts';
import { valueAt } from '../../../engine/sense-amplifier/detector.ts';
import { referToWire } from '../../../engine/sense-amplifier/referred.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';
import { applyOverrides } from '../../../engine/strobe/case-overrides.ts';
import { strobeWindow } from '../../../engine/strobe/strobe-window.ts';
import type { StrobeWindow } from '../../../engine/strobe/window-result.ts';
import { setSentence } from '../../../engine/strobe/verdict-words.ts';
import { demo } from '../../demo-design.ts';

/** An instant at which the disturbed ONE falls under the undisturbed one within a sample of the trace. */
const design = demo('minimal', {
  mat: { rows: 4, columns: 4 },
  selected: { row: 1, column: 2 },
  requirement: { sets: ['nominal'] },
  strobe: { time: '132.8 ns' },
});
const window = (given: Design): StrobeWindow => strobeWindow(given, { cases: 'nominal' });
const told = ({ inForce, margin }: StrobeWindow): number => inForce.threshold + margin.one;

/** The least ONE by eight times the steps and sections, of the two that cross. */
function trueLeastOne({ cases, inForce }: StrobeWindow): number {
  const at = inForce.time - design.detector.delay;
  const names = [
    'ONE, worst pattern for a ONE, undisturbed, address 0, 0, uninhibited cycle before',
    'ONE, worst pattern for a ONE, disturbed, address 0, 0, uninhibited cycle before',
  ];
  const values = names.map((name) => {
    const { overrides } = cases.find((each) => each.name === name)!;
    const run = simulate(applyOverrides(design, overrides!), {
      finer: 8,
      contributions: false,
      estimateError: false,
      until: 200e-9,
    });
    return valueAt(run.time, referToWire(design.amplifier, run.amplifierOutput).map(Math.abs), at);
  });
  return Math.min(...values);
}

/** With a threshold that leaves a margin of `left` V on the side of the ONE. */
const withMargin = (of: StrobeWindow, left: number): Design => {
  const { detector } = design;
  const threshold = told(of) - detector.uncertainty - detector.hysteresis / 2 - left;
  return { ...design, detector: { ...detector, threshold } };
};

describe('the error of a run beside the margin', () => {
  const plain = window(design);
  const { error } = plain.verdict.sets.numbers!;
  const truth = trueLeastOne(plain);

  it('is that of the runs from which the margin is read, also where two cases cross at the strobe', () => {
    expect(Math.abs(told(plain) - truth)).toBeLessThan(error);
    expect(plain.cases.filter(({ bit, defines }) => bit === 1 && defines).length).toBeGreaterThan(0);
  });

  it('is taken down by finer runs where it is more than a tenth of the margin', () => {
    const refined = window(withMargin(plain, 3 * error));
    const { sets } = refined.verdict;
    expect(sets.numbers!.verdict).toBe('reads');
    expect(sets.numbers!.error).toBeLessThan(Math.abs(refined.margin.left) / 10);
    expect(Math.abs(told(refined) - truth)).toBeLessThan(Math.abs(refined.margin.left) / 10);
  });

  it('is said to be more than a tenth where no run is fine enough', () => {
    const given = withMargin(plain, 0);
    const near = window(given);
    expect(near.verdict.sets.numbers!.verdict).toBe('short');
    expect(near.verdict.sets.numbers!.error).toBeLessThan(error / 4);
    expect(setSentence(given, near.verdict, 'numbers')).toMatch(/, more than a tenth of the margin$/u);
  });
});
