import { describe, expect, it } from 'vitest';
import type { Proposals } from '../../../engine/propose/answer.ts';
import { summariseProposals } from '../../../engine/propose/answer.ts';
import type { Combination } from '../../../engine/propose/combinations.ts';
import type { JobResult, ProposalJob } from '../../../engine/propose/jobs.ts';
import { readNeeds } from '../../../engine/propose/needs.ts';
import { nextJobs } from '../../../engine/propose/plan.ts';
import { proposalsJson } from '../../../engine/propose/proposals-json.ts';
import { searchOn } from '../../../engine/propose/search-on.ts';
import { broken, combination, madeUp, proof, proved } from './made-up-results.ts';
import { SMALL_NEEDS } from './small-needs.ts';

const { mat: _, ...free } = SMALL_NEEDS;
const needs = readNeeds({ ...free, words: 64, amplifier: { most: 4 }, want: {} });

/** More amplifiers are a little better, one run is better than two halves, the longer mat is hardly better. */
const reserveOf = ({ winding, amplifiers, rows }: Combination): number =>
  1.02 + 0.02 * amplifiers - (winding === 'shared-two-halves' ? 0.1 : 0) + (rows === 8 ? 0 : 0.01);

const steps = (jobs: readonly ProposalJob[]): Set<string> => new Set(jobs.map(({ step }) => step));

/** All jobs, one after another, as `propose` does them. */
function inTurn(rule: (c: Combination) => number): { steps: string[]; results: JobResult[] } {
  const results: JobResult[] = [];
  const told: string[] = [];
  for (let jobs = nextJobs(needs, results); jobs.length > 0; jobs = nextJobs(needs, results)) {
    told.push(`${[...steps(jobs)].join()} ${jobs.length}`);
    results.push(...jobs.map((job) => madeUp(job, rule)));
  }
  return { steps: told, results };
}

describe('the order of a search', () => {
  it('is every combination, the best of each kind, and the end where one of them is shown', () => {
    const { steps: told, results } = inTurn(reserveOf);
    expect(told).toEqual(['try 8', 'refine 4', 'move 1']);
    const refined = results.flatMap((result) => (result.step === 'refine' ? [result.combination] : []));
    // The longer mat is not better by enough to take the place of the one with fewer lines.
    expect(refined.every(({ rows }) => rows === 8)).toBe(true);
    expect(refined[0]).toMatchObject({ winding: 'shared-one-run', amplifiers: 4 });
  });

  it('relaxes no need of a build that has the reserve and is not shown: by the reserve any of them would be enough', () => {
    const unshown = { ...proof().verdict, design: 'short' } as ReturnType<typeof proof>['verdict'];
    const results: JobResult[] = [
      { step: 'try', combination: combination(), found: proved(1.1) },
      {
        step: 'refine',
        combination: combination(),
        found: proved(1.1, { proof: proof({ verdict: unshown }) }),
      },
    ];
    expect(nextJobs(needs, results)).toEqual([]);
  });

  it('goes on to the needs, one by one, where nothing does all that is asked for', () => {
    const { steps: told, results } = inTurn((c) => reserveOf(c) - 0.5);
    expect(told.slice(0, 2)).toEqual(['try 8', 'refine 4']);
    expect(told[2]).toMatch(/^relax \d+$/u);
    const answer = summariseProposals(needs, results, true);
    expect(answer).toMatchObject({ met: false, proposals: [] });
    expect(answer.nearest?.combination).toMatchObject({ winding: 'shared-one-run', amplifiers: 4 });
    const asked = answer.relax.flatMap(({ need, also }) => (also === undefined ? [need] : []));
    expect(new Set(asked).size).toBe(asked.length);
    // None of them is enough alone: the three that bring most are tried two by two, and then it ends.
    expect(told.slice(3)).toEqual(['relax 3']);
    const pairs = answer.relax.flatMap(({ need, also }) => (also === undefined ? [] : [[need, also.need]]));
    expect(pairs).toHaveLength(3);
    expect(new Set(pairs.flat()).size).toBe(3);
    expect(asked).toEqual(
      expect.arrayContaining(['/temperature', '/want/margin', '/cycle', '/supply/voltage']),
    );
  });
});

it('tries no pairs of needs where one alone is enough', () => {
  const { results } = inTurn((c) => reserveOf(c) - 0.5);
  const enough = results
    .filter(({ step }) => step !== 'relax')
    .concat({
      step: 'relax',
      relaxed: {
        need: '/want/margin',
        label: 'margin',
        unit: 'V',
        from: 5e-3,
        to: 2e-3,
        short: 2.4e-3,
        best: 1.02,
        farthest: 0,
      },
    });
  expect(nextJobs(needs, enough)).toEqual([]);
});

describe('a search on several places', () => {
  /** The nth job to begin ends after a wait of its own, so that they end in another order than they began. */
  const run = (rule: (c: Combination) => number) => {
    let begun = 0;
    return async (job: ProposalJob, told: (share: number) => void): Promise<JobResult> => {
      const wait = [3, 0, 5, 1][begun++ % 4]!;
      for (let i = 0; i < wait; i++) await new Promise((resolve) => setImmediate(resolve));
      told(0.5);
      return JSON.parse(JSON.stringify(madeUp(job, rule))) as JobResult;
    };
  };

  it.each([
    ['met', reserveOf],
    ['not met', (c: Combination): number => reserveOf(c) - 0.5],
  ] as const)('gives the same bytes for any number of them: %s', async (_name, rule) => {
    const bytes = await Promise.all(
      [1, 2, 4, 16].map(async (places) =>
        proposalsJson(needs, await searchOn(needs, { places, run: run(rule), stopped: () => false })),
      ),
    );
    expect(new Set(bytes).size).toBe(1);
    expect(bytes[0]).toBe(proposalsJson(needs, summariseProposals(needs, inTurn(rule).results, true)));
  });

  it('tells how far it is, never backwards while the same work is known, and what is known by then', async () => {
    const shares: number[] = [];
    const answers: Proposals[] = [];
    await searchOn(needs, {
      places: 2,
      run: run(reserveOf),
      stopped: () => false,
      onProgress: (done, planned, under) => shares.push((done + under) / planned),
      onAnswer: (answer) => answers.push(answer),
    });
    expect(shares[0]).toBe(0);
    expect(shares.at(-1)).toBe(1);
    expect(shares.every((share) => share >= 0 && share <= 1)).toBe(true);
    expect(answers.map(({ met }) => met)).toEqual([...Array(8).fill(false), ...Array(5).fill(true)]);
    expect(answers.every(({ complete }) => !complete)).toBe(true);
  });

  it('answers from what was done when it is stopped, and marks it', async () => {
    let done = 0;
    const answer = await searchOn(needs, {
      places: 1,
      run: async (job) => {
        if (done === 5) throw new Error('cancelled');
        done++;
        return madeUp(job, reserveOf);
      },
      stopped: () => done === 5,
    });
    expect(answer).toMatchObject({ complete: false, met: false });
    expect(answer.nearest).not.toBeNull();
    expect(answer.nearest!.proof).toBeUndefined();
  });

  it('fails as its jobs do where nobody stopped it', async () => {
    const search = searchOn(needs, {
      places: 2,
      run: () => Promise.reject(new Error('lost')),
      stopped: () => false,
    });
    await expect(search).rejects.toThrow('lost');
  });
});

describe('which builds are proposed', () => {
  const results = (found: readonly ReturnType<typeof proved>[]): JobResult[] =>
    found.map((item) => ({ step: 'refine', combination: item.combination, found: item }));
  const halves = proved(1.1, {
    combination: combination(),
    proof: proof({ margin: 7e-3, supplyAverage: 0.7 }),
  });
  const run = proved(1.02, {
    combination: combination({ winding: 'shared-one-run' }),
    proof: proof({ margin: 5.2e-3, supplyAverage: 0.4 }),
  });

  it('those that no other beats in everything, each with what it is best at, the preferred one first', () => {
    const worse = proved(1.01, {
      combination: combination({ amplifiers: 4, winding: 'shared-one-run' }),
      proof: proof({ margin: 5.1e-3, supplyAverage: 0.8, amplifiers: 16 }),
    });
    const { proposals, rejected } = summariseProposals(needs, results([halves, run, worse]), true);
    expect(proposals.map(({ merits }) => merits)).toEqual([
      ['widest margin', 'fewest drivers and amplifiers', 'shortest cycle'],
      ['least current', 'fewest drivers and amplifiers', 'shortest cycle', 'easiest to wind'],
    ]);
    expect(rejected.map(({ why }) => why)).toEqual(['beaten']);
    const current = { ...needs, prefer: 'current' } as const;
    const [first] = summariseProposals(current, results([halves, run, worse]), true).proposals;
    expect(first!.combination.winding).toBe('shared-one-run');
  });

  it('none that its own window does not show, or that is over a limit, however wide it is', () => {
    const short = { ...proof().verdict, design: 'short' } as ReturnType<typeof proof>['verdict'];
    const answer = summariseProposals(
      needs,
      results([
        { ...halves, proof: proof({ verdict: short }) },
        { ...run, value: 0.5, binding: [broken] },
      ]),
      true,
    );
    expect(answer).toMatchObject({ met: false, proposals: [] });
    expect(answer.rejected.map(({ why }) => why)).toEqual(['not-shown', 'short']);
  });
});
