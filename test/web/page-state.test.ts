import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { designFieldGroups } from '../../web/model/design-fields.ts';
import { wordsOf } from '../../web/model/words-of.ts';
import { readOldLink } from '../../web/state/old-link.ts';
import { pack, unpack } from '../../web/state/packing.ts';
import { physicsKey } from '../../web/model/physics-key.ts';
import { differences, rawAt, withValueAt } from '../../web/model/pointer.ts';
import { change, endGesture, HISTORY_LIMIT, redo, startHistory, undo } from '../../web/state/undo.ts';
import { typedValue } from '../../web/model/design-fields.ts';
import { chance } from '../../web/stage/verdict/readouts.ts';

describe('undo', () => {
  it('takes a whole drag back in one step', () => {
    let history = startHistory(0);
    for (const value of [1, 2, 3]) history = change(history, value, 'drag-1');
    history = change(endGesture(history), 9, 'drag-2');
    expect(undo(history).present).toBe(3);
    expect(undo(undo(history)).present).toBe(0);
    expect(redo(undo(history)).present).toBe(9);
  });

  it('takes two drags for two steps, also when the end of the first was not heard', () => {
    const history = change(change(startHistory(0), 1, 'drag-1'), 2, 'drag-2');
    expect(undo(history).present).toBe(1);
  });

  it('goes back through any changes to the start and forth again to the end', () => {
    fc.assert(
      fc.property(fc.array(fc.integer(), { maxLength: HISTORY_LIMIT }), (values) => {
        let history = values.reduce((h, value) => change(h, value), startHistory(0));
        const last = history.present;
        const steps = history.past.length;
        for (let i = 0; i < steps; i++) history = undo(history);
        expect(history.present).toBe(0);
        for (let i = 0; i < steps; i++) history = redo(history);
        expect(history.present).toBe(last);
      }),
    );
  });

  it('forgets the way forth after a new change, and keeps no more than its limit', () => {
    const history = change(undo(change(startHistory(0), 1)), 2);
    expect(redo(history).present).toBe(2);
    let long = startHistory(0);
    for (let i = 1; i <= HISTORY_LIMIT + 50; i++) long = change(long, i);
    expect(long.past).toHaveLength(HISTORY_LIMIT);
  });

  it('has nothing to do at either end', () => {
    const start = startHistory('a');
    expect(undo(start)).toBe(start);
    expect(redo(start)).toBe(start);
  });
});

describe('packed designs', () => {
  it('come back exactly', async () => {
    await fc.assert(
      fc.asyncProperty(fc.dictionary(fc.string(), fc.jsonValue()), async (made) => {
        const raw: unknown = JSON.parse(JSON.stringify(made));
        expect(await unpack(await pack(raw))).toEqual(raw);
      }),
      { numRuns: 60 },
    );
  });

  it('use only characters that an address may hold', async () => {
    expect(await pack({ name: 'µΩ – 370 mA' })).toMatch(/^[A-Za-z0-9_-]+$/);
  });

  it.each(['', '!!!', 'AAAA', 'A'.repeat(300_000)])(
    'that are bad (%.12s) are nothing, and never throw',
    async (text) => {
      expect(await unpack(text)).toBeUndefined();
    },
  );

  it('that were cut off anywhere never throw', async () => {
    const whole = await pack({ name: 'x', mat: { rows: 8 } });
    for (let length = 0; length < whole.length; length++)
      expect(await unpack(whole.slice(0, length))).not.toEqual({ name: 'x', mat: { rows: 8 } });
  });

  it('of links of before are read with what they say of the view, and refused when they hold no design', async () => {
    const raw = { name: 'x' };
    const old = await pack({ raw, view: 'terms', span: [0, 1e-6], bit: 0, cursors: [1e-7, 2e-7] });
    expect(await readOldLink(`s1-${old}`)).toEqual({
      raw,
      state: {
        place: { name: 'words', part: '', id: '' },
        span: { from: 0, to: 1e-6 },
        marks: [1e-7, 2e-7],
        bit: 0,
      },
    });
    for (const bad of [{ raw: [1] }, { raw: null }, [], 'x'])
      expect(await readOldLink(`s1-${await pack(bad)}`)).toBeUndefined();
  });
});

describe('JSON pointers', () => {
  it('read, replace, make and remove values without changing the original', () => {
    const raw = { drive: { x: { rise: '40 ns' } } };
    const next = withValueAt(raw, '/drive/y/rise', '50 ns');
    expect(rawAt(next, '/drive/y/rise')).toBe('50 ns');
    expect(raw).toEqual({ drive: { x: { rise: '40 ns' } } });
    expect(withValueAt(raw, '/drive/x/rise', undefined)).toEqual({ drive: { x: {} } });
    expect(rawAt(raw, '/nothing/here')).toBeUndefined();
  });

  it('list just the inputs in which two designs differ', () => {
    const a = { mat: { rows: 8, columns: 8 }, note: 'same' };
    const b = { mat: { rows: 16, columns: 8 }, note: 'same', temperature: '40 degC' };
    expect(differences(a, b)).toEqual(['/mat/rows', '/temperature']);
    expect(differences(a, structuredClone(a))).toEqual([]);
  });
});

it('moving strobe or threshold never asks for a new run, and anything else does', () => {
  const raw = {
    strobe: { time: '780 ns', aperture: '10 ns' },
    detector: { threshold: '20 mV' },
    temperature: '25 degC',
  };
  const key = physicsKey(raw);
  expect(physicsKey(withValueAt(raw, '/strobe/time', '800 ns'))).toBe(key);
  expect(physicsKey(withValueAt(raw, '/detector/threshold', '21 mV'))).toBe(key);
  expect(physicsKey(withValueAt(raw, '/strobe/aperture', '12 ns'))).not.toBe(key);
  expect(physicsKey(withValueAt(raw, '/temperature', '26 degC'))).not.toBe(key);
});

describe('the full editor', () => {
  it('offers every field of the schema once, each with help, and quantities with their range', () => {
    const fields = designFieldGroups().flatMap((group) => group.fields);
    expect(fields.length).toBeGreaterThan(80);
    expect(new Set(fields.map((field) => field.pointer)).size).toBe(fields.length);
    for (const field of fields) {
      expect(field.help, field.pointer).not.toBe('');
      if (field.kind === 'quantity') expect(field.range, field.pointer).toMatch(/^from .+ to .+/);
    }
  });

  it('keeps units as typed, and gives plain numbers to counts and ratios only', () => {
    expect(typedValue({ kind: 'quantity' }, ' 0,37 A ')).toBe('0,37 A');
    expect(typedValue({ kind: 'count' }, '16')).toBe(16);
    expect(typedValue({ kind: 'ratio' }, '0,5')).toBe(0.5);
    expect(typedValue({ kind: 'count' }, 'many')).toBe('many');
    expect(typedValue({ kind: 'flag' }, 'true')).toBe(true);
    expect(typedValue({ kind: 'quantity' }, '  ')).toBeUndefined();
  });

  it('names fields in words', () => {
    expect(wordsOf('readAmplitude')).toBe('Read amplitude');
  });
});

it.each([
  [0.5, '50 %'],
  [0.0012, '1 in 830'],
  [2e-7, '1 in 5·10⁶'],
  [1e-20, 'under 1 in 10¹²'],
  [Number.NaN, 'not known'],
])('a chance of %d is told as %s', (p, text) => {
  expect(chance(p)).toBe(text);
});
