/**
 * The cycle before the observed one takes long steps where neither wire nor amplifier still remembers it, and then tells the
 * same. Truth: the same wire with an amplifier that remembers without end, for which every step is the design's own; the
 * wire's voltage does not know what amplifier is behind it.
 */
import { expect, it } from 'vitest';
import { run, type File } from './bench-designs.ts';
import { difference, greatest } from './trace-tools.ts';

const programme = [
  { row: 3, column: 2, write: 'zero' },
  { row: 0, column: 0, write: 'restore' },
];
const of = (file: File, amplifier: object) =>
  run({ ...file, programme, selected: { row: 0, column: 0 }, amplifier }, { balance: false });

it.each<[string, File]>([
  ['8 x 8', { mat: { rows: 8, columns: 8 } }],
  ['16 x 16 in two halves', { mat: { rows: 16, columns: 16 }, winding: { kind: 'shared-two-halves' } }],
  ['32 x 32, a long wire', { mat: { rows: 32, columns: 32 } }],
])('%s: fewer steps, and within 4 in 100,000 of the greatest peak', (_, file) => {
  const paced = of(file, {});
  const unpaced = of(file, { highPass: '1 Hz' });
  expect(paced.method.steps).toBeLessThan(0.85 * unpaced.method.steps);
  const off = difference(paced.senseVoltage, unpaced.senseVoltage);
  expect(off).toBeLessThan(4e-5 * Math.abs(greatest(unpaced.senseVoltage)));
});

it('keeps the steps of a cycle that is still heard', () => {
  const short: File = {
    mat: { rows: 8, columns: 8 },
    cycle: { readWidth: '200 ns', gap: '100 ns', writeWidth: '200 ns', period: '800 ns' },
    terminations: { a: 'open', b: 'open' },
    amplifier: { inputResistance: '100 kohm' },
  };
  const open = { inputResistance: '100 kohm' };
  expect(of(short, open).method.steps).toBe(of(short, { ...open, highPass: '1 Hz' }).method.steps);
});
