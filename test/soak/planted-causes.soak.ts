import { expect, test } from 'vitest';
import { CASES, confidentlyWrong, diagnosePlanted, rankOf } from '../independent/planted.ts';
import { tell } from './figures.ts';

/** Cases: every so many of the 60; `PLANTED_CAUSES=60` for all of them. */
const COUNT = Number(process.env.PLANTED_CAUSES ?? 12);

test('of causes planted by another integrator none is told wrong with confidence, and most are ranked first or second', () => {
  const chosen = [...CASES.keys()].filter((i) => i % Math.round(CASES.length / COUNT) === 0);
  let [wrong, found, confident] = [0, 0, 0];
  for (const index of chosen) {
    const planted = CASES[index]!;
    const diagnosis = diagnosePlanted(planted, index);
    const rank = rankOf(planted, diagnosis);
    if (confidentlyWrong(planted, diagnosis)) wrong++;
    if (['fault', 'two faults', 'healthy'].includes(diagnosis.verdict)) confident++;
    if (rank === 1 || rank === 2) found++;
    process.stdout.write(
      `${confidentlyWrong(planted, diagnosis) ? 'WRONG' : 'right'} ${rank} ${planted.what}: ${diagnosis.verdict} ${diagnosis.named.join(', ')}\n`,
    );
  }
  const of = `of ${chosen.length} planted at 3 mV of noise`;
  tell('Q4', `told wrong with confidence, ${of}`, String(wrong), 'none');
  tell('Q4', `ranked first or second, ${of}`, String(found), '80 %');
  tell('Q4', `told with confidence at all, ${of}`, String(confident), 'as it comes');
  expect(wrong).toBe(0);
  if (chosen.length >= 60) expect(found / chosen.length).toBeGreaterThanOrEqual(0.8);
}, 3_600_000);
