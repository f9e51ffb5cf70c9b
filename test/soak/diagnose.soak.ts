import { expect, test } from 'vitest';
import { PLANTED, diagnosePlanted } from '../physics/diagnose-helpers.ts';

test('of 24 planted faults at least 20 are ranked first or second, and healthy captures are called healthy', () => {
  expect(PLANTED).toHaveLength(24);
  let found = 0;
  let told = 0;
  PLANTED.forEach((planted, index) => {
    const diagnosis = diagnosePlanted(planted, index);
    const rank = diagnosis.explanations.findIndex((e) => e.code === planted.code) + 1;
    if (rank === 1 || rank === 2) found++;
    if (diagnosis.verdict === 'fault') told++;
    console.log(
      rank,
      diagnosis.verdict,
      planted.what,
      '|',
      diagnosis.explanations
        .slice(0, 3)
        .map((e) => `${e.code} ${e.score.toFixed(0)}`)
        .join(', '),
      '|',
      diagnosis.statement,
      diagnosis.runs,
    );
  });
  console.log('ranked first or second:', found, 'of', PLANTED.length, '; called a fault:', told);
  expect(found).toBeGreaterThanOrEqual(20);
  expect(told).toBeGreaterThanOrEqual(20);
  for (const index of [100, 101, 102]) {
    const diagnosis = diagnosePlanted({ code: 'healthy', what: 'nothing', changes: [] }, index);
    console.log(diagnosis.verdict, diagnosis.statement);
    expect(diagnosis.verdict).toBe('healthy');
  }
  // Four minutes of one processor; a busy machine may need ten times that.
}, 3_600_000);
