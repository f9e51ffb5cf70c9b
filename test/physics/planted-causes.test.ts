import { expect, it } from 'vitest';
import { confidentlyWrong, diagnosePlanted, HEALTHY, PAIRS, rankOf, SINGLE } from '../independent/planted.ts';

/**
 * Captures by the tests' own integrator, with core laws and an instrument that the engine does not have. What is said
 * with confidence must be true; here of a few, in soak of all.
 */
const few = [...SINGLE, ...PAIRS, ...HEALTHY].filter(({ what }) =>
  ['no core there', 'x10 probe not told', 'nothing wrong, 1'].includes(what),
);

it.each(few.map((planted, index) => ({ what: planted.what, planted, index })))(
  'of a build with "$what", made by another integrator, nothing wrong is said with confidence',
  ({ planted, index }) => {
    const diagnosis = diagnosePlanted(planted, index);
    expect(confidentlyWrong(planted, diagnosis), diagnosis.statement).toBe(false);
    expect(rankOf(planted, diagnosis), diagnosis.statement).toBeGreaterThanOrEqual(1);
  },
);
