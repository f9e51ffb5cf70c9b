import { expect, test } from 'vitest';
import { applyPatches, type Patch } from '../../engine/base/json-patch.ts';
import { BOARD } from '../independent/builds.ts';
import { CASES, confidentlyWrong, diagnosePlanted, rankOf } from '../independent/planted.ts';
import { tell } from './figures.ts';
import { KeptLines } from './kept-lines.ts';

/**
 * Cases: every so many of the 60; `PLANTED_CAUSES=60` for all of them. In pieces: those that stand in the file
 * `PLANTED_CAUSES_KEPT` are not run again and count in the figures; `PLANTED_CAUSES_MOST` ends a piece.
 */
const COUNT = Number(process.env.PLANTED_CAUSES ?? 12);
const MOST = Number(process.env.PLANTED_CAUSES_MOST ?? COUNT);

interface Told {
  readonly index: number;
  readonly wrong: boolean;
  readonly rank: number;
  readonly confident: boolean;
}

function diagnoseOne(index: number): Told {
  const planted = CASES[index]!;
  const diagnosis = diagnosePlanted(planted, index);
  const [wrong, rank] = [confidentlyWrong(planted, diagnosis), rankOf(planted, diagnosis)];
  process.stdout.write(
    `${wrong ? 'WRONG' : 'right'} ${rank} ${planted.what}: ${diagnosis.verdict} ${diagnosis.named.join(', ')}\n`,
  );
  const confident = ['fault', 'two faults', 'healthy'].includes(diagnosis.verdict);
  return { index, wrong, rank, confident };
}

test('of causes planted by another integrator none is told wrong with confidence, and most are ranked first or second', () => {
  const kept = new KeptLines<Told>(process.env.PLANTED_CAUSES_KEPT);
  const chosen = [...CASES.keys()].filter((i) => i % Math.round(CASES.length / COUNT) === 0);
  const left = chosen.filter((index) => !kept.all.some((told) => told.index === index));
  for (const index of left.slice(0, MOST)) kept.add(diagnoseOne(index));
  const { all } = kept;
  const count = (of: (told: Told) => boolean): number => all.filter(of).length;
  const [wrong, found] = [count((t) => t.wrong), count(({ rank }) => rank === 1 || rank === 2)];
  const of = `of ${all.length} planted at 3 mV of noise`;
  tell('Q4', `told wrong with confidence, ${of}`, String(wrong), 'none');
  tell('Q4', `ranked first or second, ${of}`, String(found), '80 %');
  tell('Q4', `told with confidence at all, ${of}`, String(count((t) => t.confident)), 'as it comes');
  expect(wrong).toBe(0);
  expect(found / all.length).toBeGreaterThanOrEqual(0.8);
}, 3_600_000);

test('rises of X and Y that are exchanged look the same, and are said not to be ruled out', () => {
  const rises = (x: string, y: string): Patch[] => [
    { path: '/drive/x/rise', value: x },
    { path: '/drive/y/rise', value: y },
  ];
  const file = applyPatches(BOARD, rises('40 ns', '90 ns'));
  const build = { codes: [], what: 'rises exchanged', changes: rises('90 ns', '40 ns') };
  const { verdict, named } = diagnosePlanted(build, 3, 3e-3, file);
  expect(verdict).toBe('nothing seen');
  expect(named).toContain('exchanged-rises');
});
