import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import { propose } from '../../engine/propose/propose.ts';
import { combinationWords } from '../../engine/propose/build-words.ts';
import { wholeWindow } from '../../engine/studies/whole-window.ts';
import { tell } from './figures.ts';

const NEEDS = join(import.meta.dirname, '../../fixtures/needs/message-store-256x12.json');

/** A minute and a half of a processor: left out where it is told to be (`SOAK_PROPOSALS=0`). */
it.skipIf(process.env['SOAK_PROPOSALS'] === '0')(
  'builds for 256 words of 12 bits hold at the worst corner, by the strobe windows of their own files',
  { timeout: 900_000 },
  () => {
    const before = process.cpuUsage().user;
    const { met, complete, proposals, rejected } = propose(JSON.parse(readFileSync(NEEDS, 'utf8')));
    const seconds = (process.cpuUsage().user - before) / 1e6;
    const told = proposals.map(
      ({ combination, reserve }) => `${combinationWords(combination)}: ${reserve.toFixed(2)}`,
    );
    tell('P1', 'reserves of builds of 256 words of 12 bits', told.join('; '), 'two halves at least 1.00');
    tell('P2', 'processor time of that search', `${Math.round(seconds)} s`, 'at most 120 s');
    expect([met, complete]).toEqual([true, true]);
    const halves = proposals.find(({ combination }) => combination.winding === 'shared-two-halves');
    expect(halves?.reserve).toBeGreaterThanOrEqual(1);
    for (const { reserve, proof } of proposals) {
      expect(reserve).toBeGreaterThanOrEqual(1);
      expect(proof.verdict.design).toBe('reads');
      expect(proof.verdict.sets.parts!.stack!.low).toBeGreaterThanOrEqual(0.95);
    }
    // One run read by one amplifier falls just short, and is named with what it comes to.
    const run = rejected.find(
      ({ combination, refined }) =>
        refined && combination.winding === 'shared-one-run' && combination.amplifiers === 1,
    );
    expect(run?.why).toBe('short');
    expect(run!.reserve).toBeGreaterThan(0.9);
    expect(run!.reserve).toBeLessThan(1);
    const { design, proof } = proposals[0]!;
    expect(wholeWindow(checkDesign(design), { parts: true }).verdict).toEqual(proof.verdict);
  },
);
