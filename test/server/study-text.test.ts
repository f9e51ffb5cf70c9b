import { expect, it } from 'vitest';
import type { StudyResult } from '../../engine/studies/shared/shape.ts';
import { studyText } from '../../server/print/study-text.ts';

/** A study of three points of which the table alone matters. */
const STUDY = {
  kind: 'pattern',
  seed: 1,
  partial: false,
  count: { planned: 3, done: 3, failed: 0 },
  failed: [],
  findings: [],
  estimates: [],
  ranking: [],
  columns: [
    { key: 'noise', label: 'noise', unit: 'V' },
    { key: 'wide', label: 'wide', unit: 's' },
  ],
  results: [-1.17e-15, 0, 2.5e-6].map((noise, index) => ({
    index,
    name: `point ${index}`,
    values: { noise, wide: 35.2e-9 },
  })),
} as unknown as StudyResult;

it('a table in words prints no femtovolts: what is under 1 µV is said to be that, and nothing is 0 V', () => {
  const cells = studyText(STUDY)
    .split('\n')
    .filter((line) => line.includes('35.2 ns'))
    .map((line) => line.replace('35.2 ns', '').trim());
  expect(cells).toEqual(['under 1 µV', '0 V', '2.5 µV']);
});

it('what a study found stands before its tables, the first finding first', () => {
  const estimate = { label: 'yield per bit', unit: '', value: 1, low: 0.9, high: 1, interval: '95 % Wilson' };
  const text = studyText({
    ...STUDY,
    findings: ['The inputs listed explain only 12 %.', 'Yield 100 %.'],
    estimates: [{ ...estimate, samples: 3, seed: 1 }],
  });
  const lines = text.split('\n').filter((line) => line !== '');
  expect(lines.slice(1, 3)).toEqual(['The inputs listed explain only 12 %.', 'Yield 100 %.']);
  expect(lines[3]).toContain('yield per bit');
});
