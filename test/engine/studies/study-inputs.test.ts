import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../../engine/check/check-design.ts';
import { applyPatches, pointerParts, valueAt } from '../../../engine/base/json-patch.ts';
import {
  NAMED_INPUTS,
  inputPatches,
  inputValue,
  plannedInput,
  unitAt,
} from '../../../engine/studies/shared/inputs.ts';

describe('inputs of a study', () => {
  it.each(NAMED_INPUTS.map((key) => [key]))('%s names fields that a design file has', (key) => {
    for (const path of plannedInput(key).paths) expect([path, unitAt(path)]).not.toEqual([path, undefined]);
  });

  it.each(NAMED_INPUTS.filter((key) => key !== 'strobe').map((key) => [key]))(
    '%s moved by a patch is what the checked design then holds, the fields of a group in proportion',
    (key) => {
      const raw = {
        drive: { y: { readAmplitude: '300 mA', rise: '60 ns' } },
        terminations: { b: '200 ohm' },
      };
      const design = checkDesign(raw);
      const input = plannedInput(key);
      const nominal = inputValue(input, design)!;
      const value = nominal === 0 ? 5e-9 : nominal * 1.07;
      const moved = checkDesign(applyPatches(raw, inputPatches(input, design, value)));
      for (const path of input.paths) {
        const before = valueAt(design, path);
        if (typeof before !== 'number' || !Number.isFinite(before)) continue;
        const expected = nominal === 0 ? value : before * 1.07;
        expect(Math.abs(Number(valueAt(moved, path)) - expected)).toBeLessThanOrEqual(
          1e-12 * Math.abs(expected),
        );
      }
    },
  );

  it('a line driven by a voltage moves by its voltage, and the amplitudes stay what it settles at', () => {
    const raw = { drive: { x: { source: { kind: 'voltage', voltage: '20 V', resistance: '50 ohm' } } } };
    const design = checkDesign(raw);
    const input = plannedInput('drive.x');
    const nominal = inputValue(input, design)!;
    const moved = checkDesign(applyPatches(raw, inputPatches(input, design, nominal * 1.1)));
    const { source } = moved.drive.x;
    expect(source.kind === 'voltage' ? source.voltage : NaN).toBeCloseTo(22, 12);
    expect(moved.drive.x.readAmplitude).toBeCloseTo(nominal * 1.1, 12);
  });

  it('an open termination stays open when terminations move', () => {
    const design = checkDesign({ terminations: { a: 'open', b: '100 ohm' } });
    expect(inputPatches(plannedInput('terminations'), design, 110)).toEqual([
      { path: '/terminations/b', value: '110 ohm' },
    ]);
  });
});

describe('patches', () => {
  it('leave the original alone, make what is missing on the way and remove without a value', () => {
    const raw = { a: { b: '1' }, c: '2' };
    expect(applyPatches(raw, [{ path: '/a/d/e', value: '3' }, { path: '/c' }, { path: '/x/y' }])).toEqual({
      a: { b: '1', d: { e: '3' } },
    });
    expect(raw).toEqual({ a: { b: '1' }, c: '2' });
  });

  it('never touch a prototype', () => {
    expect(pointerParts('/__proto__/polluted')).toBeUndefined();
    expect(valueAt({}, '/constructor')).toBeUndefined();
  });
});
