import { expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { clockMarks, markBeside, phaseAt } from '../../web/model/clock-marks.ts';
import type { Run } from '../../web/model/run.ts';
import { coreFigures } from '../../web/stage/ring/core-view.ts';

const design = checkDesign({
  core: { preset: 'ferrite-20-mil' },
  mat: { rows: 4, columns: 4 },
  drive: { x: { rise: '40 ns' }, y: { rise: '40 ns' } },
});
const read = (bit: 0 | 1) => simulate({ ...design, selected: { ...design.selected, bit } });
const [one, zero] = [read(1), read(0)];
const run: Run = { design, one, zero, ensemble: undefined, reason: undefined, grade: 'traces', warnings: [] };
const marks = clockMarks(run, 1, 160e-9);
const at = (name: string): number => marks.find((mark) => mark.name === name)!.time;

it('marks stand in the order of a cycle, at the instants of the design', () => {
  expect(marks.map(({ name }) => name)).toEqual(
    [...marks].sort((a, b) => a.time - b.time).map(({ name }) => name),
  );
  expect(at('edge done') - at('drive on')).toBeLessThan(42e-9);
  expect(at('edge done') - at('drive on')).toBeGreaterThan(34e-9);
  const width = at('read off') + at('pause') - at('drive on') - at('edge done');
  expect(width / 2).toBeCloseTo(design.cycle.readWidth, 8);
  const bell = Math.round(at('bell') / (one.time[1]! - one.time[0]!));
  const size = (i: number) => Math.abs(one.contributions!.selectedCore[i]!);
  for (const beside of [bell - 5, bell + 5]) expect(size(bell)).toBeGreaterThan(size(beside));
  expect(at('strobe')).toBe(160e-9);
  expect(at('write on')).toBeGreaterThan(at('pause'));
});

it('a ZERO has no bell to stop at', () => {
  expect(clockMarks(run, 0, undefined).map(({ name }) => name)).not.toContain('bell');
});

it('one goes from mark to mark both ways, and is told what goes on between them', () => {
  expect(markBeside(marks, 0, 1)!.name).toBe(marks[0]!.time > 0.1e-9 ? marks[0]!.name : marks[1]!.name);
  const next = markBeside(marks, at('edge done'), 1)!;
  expect(next.time).toBeGreaterThan(at('edge done'));
  expect(markBeside(marks, next.time, -1)!.name).toBe('edge done');
  expect(markBeside(marks, design.cycle.period, 1)).toBeUndefined();
  expect(phaseAt(marks, at('read off'))).toBe('read off');
  expect(phaseAt(marks, (at('pause') + at('write on')) / 2)).toBe('nothing flows');
});

it('the core is told at rest before the read and turned once a ONE is read, and gives most at the bell', () => {
  const index = (time: number) => Math.round(time / (one.time[1]! - one.time[0]!));
  const before = coreFigures(run, 1, 0);
  expect(before.turned).toBe(0);
  expect(before.held).toBeGreaterThan(0.8);
  const after = coreFigures(run, 1, index(at('pause')));
  expect(after.turned).toBeGreaterThan(0.8);
  expect(after.held).toBeLessThan(-0.8);
  expect(coreFigures(run, 0, index(at('pause'))).turned).toBeLessThan(0.2);
  const bell = coreFigures(run, 1, index(at('bell')));
  expect(Math.abs(bell.gives)).toBeGreaterThan(Math.abs(coreFigures(run, 1, index(at('read off'))).gives));
  expect(bell.drive).toBeLessThan(-0.9);
});
