import { expect, it } from 'vitest';
import { CASES, confidentlyWrong, diagnosePlanted, rankOf } from '../independent/planted.ts';

/**
 * Captures by the tests' own integrator, with core laws and an instrument that the engine does not have. What is said
 * with confidence must be true; here of a few, in soak of all.
 */
const FEW = ['no core there', 'x10 probe not told', 'inhibit leaks 25 %', 'nothing wrong, 1'];
const few = CASES.map((planted, index) => ({ what: planted.what, planted, index })).filter(({ what }) =>
  FEW.includes(what),
);

it.each(few)(
  'of a build with "$what", made by another integrator, nothing wrong is said with confidence',
  ({ planted, index }) => {
    const diagnosis = diagnosePlanted(planted, index);
    expect(confidentlyWrong(planted, diagnosis), diagnosis.statement).toBe(false);
    expect([1, 2], diagnosis.statement).toContain(rankOf(planted, diagnosis));
  },
);
