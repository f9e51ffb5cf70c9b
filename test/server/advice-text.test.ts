import { expect, it } from 'vitest';
import type { Advice } from '../../engine/advice/advice.ts';
import { adviceTables } from '../../engine/report/tables.ts';
import { adviceText } from '../../server/print/advice-text.ts';

/** An advice of a design that asks for its parts' yield as well, and whose margins are there. */
const MET: Advice = {
  sets: ['nominal', 'corners'],
  heat: undefined,
  unjudged: ['parts'],
  limits: [],
  wanted: { margin: 5e-3, width: 20e-9 },
  has: { margin: 6e-3, width: 40e-9 },
  met: true,
  costs: [],
  changes: [],
  pairs: [],
  failed: undefined,
};

it.each([
  ['text', adviceText],
  ['the report', adviceTables],
])('%s that says that something is met says over which sets, and what else decides', (_door, write) => {
  const text = write(MET);
  expect(text.toLowerCase()).toContain('over as designed and at the corners');
  expect(text).toContain('Asked for too, and not judged here: yield of parts.');
  expect(text).toContain('What is not known of the core counts in the verdict alone.');
  expect(write({ ...MET, sets: ['nominal'], unjudged: [] })).not.toMatch(
    /not judged|not known|Taken for granted/u,
  );
  const code = 'supply-current';
  const limits = [{ code, field: '/supply/budget', used: 1.8, limit: 1.5, unit: 'A', excess: 0.2 }] as const;
  // Figures keep their units by blanks that do not break.
  expect(write({ ...MET, limits }).replaceAll('\u00a0', ' ')).toContain(
    'Taken for granted in this, but beyond its limit: average current of the supply: 1.8 A of 1.5 A.',
  );
});
