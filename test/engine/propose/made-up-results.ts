import type { Bind } from '../../../engine/propose/bindings.ts';
import type { Combination } from '../../../engine/propose/combinations.ts';
import type { JobResult, ProposalJob } from '../../../engine/propose/jobs.ts';
import type { Proof, Proved } from '../../../engine/propose/prove.ts';

/** Made-up results of a search, so that its order and its answers can be told beforehand. */

export const combination = (change: Partial<Combination> = {}): Combination => ({
  rows: 8,
  columns: 8,
  winding: 'shared-two-halves',
  core: 0,
  amplifiers: 1,
  ...change,
});

export function proof(change: Partial<Proof> = {}): Proof {
  const verdict = {
    design: 'reads',
    sets: {
      parts: { stack: { low: 0.972 } },
      core: {
        verdict: 'fails',
        low: -3e-3,
        high: 9e-3,
        measureNext: { what: 'the peak of a ONE', narrowsTo: [4e-3, 6e-3] },
      },
    },
  } as unknown as Proof['verdict'];
  return {
    verdict,
    margin: 6e-3,
    width: 80e-9,
    setBy: { one: 'a cold ONE', zero: 'a hot ZERO' },
    wires: 3,
    drivers: 20,
    amplifiers: 4,
    supplyAverage: 0.5,
    supplyPeak: 3,
    driverVolts: 3,
    inhibitVolts: 2,
    shortestCycle: 3e-6,
    warnings: [],
    ...change,
  };
}

export const proved = (value: number, change: Partial<Proved> = {}): Proved => ({
  combination: combination(),
  variables: {
    half: 0.3,
    tracking: 0,
    inhibit: 1,
    rise: 40e-9,
    stagger: 0,
    termination: 150,
    bandwidth: 20e6,
  },
  design: {},
  value,
  reserve: value,
  strobe: 300e-9,
  threshold: 20e-3,
  binding: [],
  setBy: [],
  current: 0.5,
  ...change,
});

export const broken: Bind = {
  code: 'supply-current',
  used: 1.8,
  limit: 1.5,
  unit: 'A',
  excess: 0.2,
};

/** What a job comes to, by the reserve that a rule gives its combination; nothing under 1 is proved. */
export function madeUp(job: ProposalJob, reserveOf: (combination: Combination) => number): JobResult {
  if (job.step === 'relax')
    return {
      step: 'relax',
      relaxed: {
        need: job.lever,
        label: job.lever,
        unit: 'V',
        from: 5e-3,
        to: null,
        short: null,
        best: 0.9,
        farthest: 0,
        ...(job.also === undefined
          ? {}
          : {
              also: {
                need: job.also,
                label: job.also,
                unit: 'V',
                from: 5e-3,
                to: null,
                short: null,
                farthest: 0,
              },
            }),
      },
    };
  if (job.step === 'move') return { step: 'move', combination: job.combination, ranges: [] };
  const value = reserveOf(job.combination);
  const { step, combination: searched } = job;
  const found = proved(value, {
    combination: searched,
    ...(step === 'refine' && value >= 1 ? { proof: proof({ margin: value * 5e-3 }) } : {}),
  });
  return { step, combination: searched, found };
}
