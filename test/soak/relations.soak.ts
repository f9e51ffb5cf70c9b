import { expect, test } from 'vitest';
import { coverage, trueError } from '../physics/true-error.ts';
import {
  account,
  balancedCancels,
  idleCycleBefore,
  laterWrite,
  negatedPolarity,
  reversedWinding,
} from '../physics/relation-checks.ts';
import { randomDesign } from '../random-design.ts';
import { patience, tell } from './figures.ts';

/** ms of work that one of these may take; what was left out by then is told. */
const PATIENCE = 45_000;

async function each(wanted: number, visit: (seed: number) => void): Promise<number> {
  const patient = patience(PATIENCE);
  let done = 0;
  while (done < wanted && patient()) {
    visit(done++);
    // Lets the runner hear from this worker now and then.
    if (done % 20 === 0) await new Promise((resolve) => setImmediate(resolve));
  }
  return done;
}

test.each([
  ['the wire from its other end', reversedWinding, 1e-8],
  ['every polarity negated', negatedPolarity, 1e-10],
  ['an idle cycle before', idleCycleBefore, 1e-8],
  ['a later write, in reported errors', laterWrite, 1],
  ['a balanced winding', balancedCancels, 1e-4],
] as const)('relation on 500 random designs: %s', async (name, relation, limit) => {
  let worst = 0;
  let at = 0;
  const done = await each(500, (seed) => {
    const left = relation(seed);
    if (left > worst) [worst, at] = [left, seed];
  });
  tell('N6', `${name}, ${done} designs, greatest departure (seed ${at})`, worst.toExponential(1), `${limit}`);
  expect(worst).toBeLessThan(limit);
});

test('10,000 random valid designs end finite or with a name, and their causes sum to the whole', async () => {
  const unfinished: number[] = [];
  const leaks: number[] = [];
  let named = 0;
  let split = 0;
  let energy = 0;
  const done = await each(10_000, (seed) => {
    const left = account(randomDesign(seed, { largest: 5 }));
    if (!left.finite) unfinished.push(seed);
    if (left.run.outcome.kind !== 'done') named++;
    split = Math.max(split, left.split);
    energy = Math.max(energy, left.energy);
    if (left.energy > 1e-3) leaks.push(seed);
  });
  tell('N10', `designs run, of which ended with a name`, `${done}, ${named}`, '10000');
  tell('N5', 'causes against the whole, worst', split.toExponential(1), '1e-9');
  tell(
    'N4',
    `energy left, worst; share over a thousandth`,
    `${energy.toExponential(1)}; ${((100 * leaks.length) / done).toFixed(1)} %`,
    '1e-3; none',
  );
  expect(unfinished).toEqual([]);
  expect(split).toBeLessThan(1e-9);
  expect(leaks.length / done).toBeLessThan(0.05);
});

test('the reported error covers the true one on 200 random designs', async () => {
  const count = { current: [0, 0, 0], voltage: [0, 0, 0] };
  const done = await each(200, (seed) => {
    const design = randomDesign(1000 + seed);
    const { x, y } = design.drive;
    const of = count[x.source.kind === 'voltage' || y.source.kind === 'voltage' ? 'voltage' : 'current'];
    const [whole, quiet] = coverage(trueError(design, true));
    of[0]!++;
    if (whole <= 1.25) of[1]!++;
    if (quiet <= 1.25) of[2]!++;
  });
  for (const [kind, [n, whole, quiet]] of Object.entries(count))
    tell(
      'N3',
      `${kind}-driven designs whose error is covered, whole cycle and between edges (${done} run)`,
      `${whole} and ${quiet} of ${n}`,
      '95 %',
    );
  const [n, whole, quiet] = count.current;
  expect(quiet! / n!).toBeGreaterThanOrEqual(0.95);
  expect(whole! / n!).toBeGreaterThanOrEqual(0.95);
});
