import { describe, expect, it } from 'vitest';
import type { Proposals } from '../../../engine/propose/answer.ts';
import { bindWords } from '../../../engine/warnings/limit-words.ts';
import { combinationWords, proposalFileName } from '../../../engine/propose/build-words.ts';
import { coreWords, PROPOSAL_ROWS, proposalRow } from '../../../engine/propose/proposal-words.ts';
import { proposalsSentence, relaxedWords, soFarWords } from '../../../engine/propose/answer-words.ts';
import { broken, combination, proof, proved } from './made-up-results.ts';

const none: Proposals = {
  met: false,
  complete: true,
  proposals: [],
  rejected: [],
  nearest: null,
  relax: [],
};

describe('words of a proposal', () => {
  it('name a build by winding, mat and amplifiers, and by its core where there are several', () => {
    expect(combinationWords(combination())).toBe('two halves, 8 × 8, 1 amplifier a bit');
    expect(combinationWords(combination({ winding: 'separate-diagonal', amplifiers: 4, core: 1 }), 2)).toBe(
      'fourth wire, diagonal, 8 × 8, 4 amplifiers a bit, core 2',
    );
    expect(proposalFileName(2, combination({ amplifiers: 4, core: 1 }))).toBe(
      '2-shared-two-halves-8x8-4-amplifiers-core-2.json',
    );
  });

  it('tell what limits it with both quantities', () => {
    expect(bindWords(broken)).toBe('average current of the supply: 1.8 A of 1.5 A');
    expect(bindWords({ code: 'softest-core', used: 0.8, limit: 0.811, unit: '1' })).toBe(
      'flux that the softest core keeps: 81.1 %, at least 80 %',
    );
  });

  it('have a value for every row of the comparison', () => {
    const row = proposalRow({ ...proved(1.08), proof: proof(), merits: [] });
    expect(row.length).toBe(PROPOSAL_ROWS.length);
    expect(row[0]).toBe('108 %');
    expect(row[PROPOSAL_ROWS.indexOf('margin, core as it may be')]).toBe('−3 mV to 9 mV');
    expect(row[PROPOSAL_ROWS.indexOf('yield of stacks, at least')]).toBe('97.2 %');
  });
});

describe('words about what is not known', () => {
  it('say between what the margin lies over what is not known of the core, and what to measure', () => {
    expect(coreWords({ proof: proof() })).toMatch(
      /^The core is taken as its data say\. .* lies between −3 mV and 9 mV: measure the peak of a ONE, which narrows it to 4 mV to 6 mV, and search again/u,
    );
    const reads = {
      ...proof().verdict.sets,
      core: { ...proof().verdict.sets.core!, verdict: 'reads' },
    } as const;
    expect(coreWords({ proof: proof({ verdict: { ...proof().verdict, sets: reads } }) })).toBeUndefined();
  });
});

describe('words of an answer', () => {
  it('say how many builds do it, and whether the search came to its end', () => {
    const one = { ...proved(1.08), proof: proof(), merits: [] };
    const met = { ...none, met: true, proposals: [one] };
    expect(proposalsSentence(met)).toMatch(/^Met\. One build does all .* its own file\.$/u);
    expect(proposalsSentence({ ...met, proposals: [one, one], complete: false })).toMatch(
      /^Met\. 2 builds do all .* each file\. The search has not come to its end\.$/u,
    );
    expect(soFarWords(met)).toBe('shown: two halves, 8 × 8, 1 amplifier a bit, reserve 108 %');
  });

  it('say how near the nearest build comes and what it breaks', () => {
    const sentence = proposalsSentence({
      ...none,
      nearest: proved(0.5, { reserve: 0.9, binding: [broken] }),
    });
    expect(sentence).toContain('reaches 90 % of margin and window');
    expect(sentence).toContain('Beyond their limits: average current of the supply: 1.8 A of 1.5 A.');
  });

  it('never call a build shown that was only promised', () => {
    expect(proposalsSentence({ ...none, complete: false, nearest: proved(1.2) })).toMatch(
      /^Not shown yet\./u,
    );
    const short = { ...proof().verdict, design: 'short' } as ReturnType<typeof proof>['verdict'];
    expect(
      proposalsSentence({ ...none, nearest: proved(1.2, { proof: proof({ verdict: short }) }) }),
    ).toContain('does not show it: reads, but less than asked.');
    const stacks = {
      ...short,
      decides: 'parts',
      sets: { ...short.sets, parts: { draws: 200, stack: { low: 0.917, high: 0.98 } } },
    };
    expect(
      proposalsSentence({
        ...none,
        nearest: proved(1.2, { proof: proof({ verdict: stacks as unknown as typeof short }) }),
      }),
    ).toContain('between 91.7 % and 98.0 % read every bit (200 draws');
    expect(proposalsSentence({ ...none, complete: false })).toMatch(/^Nothing is known yet\./u);
  });

  it('say to what a need must be relaxed, or that alone it is never enough', () => {
    const margin = { need: '/want/margin', label: 'margin', unit: 'V', from: 5e-3, farthest: 0 } as const;
    expect(relaxedWords({ ...margin, to: 1.6e-3, short: 5e-3, best: 1.01 })).toBe('margin: 5 mV to 1.6 mV');
    expect(relaxedWords({ ...margin, to: 1.6e-3, short: 1.9e-3, best: 1.01 })).toBe(
      'margin: 5 mV to 1.6 mV (1.9 mV was not found enough)',
    );
    expect(relaxedWords({ ...margin, to: null, short: null, best: 0.83 })).toBe(
      'margin: 5 mV; not found enough alone, best 83 % at 0 V',
    );
    expect(relaxedWords({ ...margin, to: null, short: null, best: -3 })).toContain(
      'other limits stay broken',
    );
    const width = { need: '/want/width', label: 'width', unit: 's', from: 20e-9, farthest: 0 } as const;
    expect(
      relaxedWords({
        ...margin,
        to: 3e-3,
        short: 3.5e-3,
        best: 1.01,
        also: { ...width, to: 12e-9, short: 14e-9 },
      }),
    ).toBe(
      'margin: 5 mV to 3 mV (3.5 mV was not found enough), together with width: 20 ns to 12 ns (14 ns was not found enough)',
    );
    expect(
      relaxedWords({
        ...margin,
        to: null,
        short: null,
        best: 0.9,
        also: { ...width, to: null, short: null },
      }),
    ).toBe('margin and width: not found enough together either, best 90 %');
  });
});
