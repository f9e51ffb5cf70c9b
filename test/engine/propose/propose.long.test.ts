import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { checkDesign } from '../../../engine/check/check-design.ts';
import type { Design } from '../../../engine/design/design.ts';
import type { StrobeWindow } from '../../../engine/strobe/window-result.ts';
import type { Proposals } from '../../../engine/propose/answer.ts';
import { readProposalNeeds } from '../../../engine/propose/read-proposal-needs.ts';
import { propose } from '../../../engine/propose/propose.ts';
import { proposalsJson } from '../../../engine/propose/proposals-json.ts';
import { build } from '../../../engine/propose/build.ts';
import { firstCases } from '../../../engine/propose/first-cases.ts';
import { judgeWhole } from '../../../engine/propose/judge.ts';
import { relax } from '../../../engine/propose/relax.ts';
import { startOf } from '../../../engine/propose/start.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';
import { wholeWindow } from '../../../engine/studies/whole-window.ts';
import { ensureBuild } from '../../server/ensure-build.ts';
import { runCli } from '../../server/run-cli.ts';
import { fullProduct } from '../strobe/full-product.ts';
import { SMALL_NEEDS } from './small-needs.ts';

/** One winding, two mats to choose from: three jobs, two of them at the same time. Few corners, so that each of the full product is run. */
const { mat: _, ...free } = SMALL_NEEDS;
const NEEDS = {
  ...free,
  temperature: { from: '25 degC', to: '25 degC' },
  tolerances: { supply: 0 },
  keep: { winding: { kind: 'shared-one-run' } },
};

let answer: Proposals;
let design: Design;
/** What the strobe window says of the first proposed file, read anew. */
let found: StrobeWindow;
beforeAll(() => {
  answer = propose(NEEDS);
  design = checkDesign(answer.proposals[0]!.design);
  found = wholeWindow(design, { parts: true });
}, 400_000);

describe('what is proposed', () => {
  it('is the same at the library and on the command line with two workers, byte for byte, and exits with 0', async () => {
    await ensureBuild();
    const folder = mkdtempSync(join(tmpdir(), 'strobewright-propose-'));
    try {
      const needs = join(folder, 'needs.json');
      writeFileSync(needs, JSON.stringify(NEEDS));
      const words = [
        'propose',
        needs,
        '--workers',
        '2',
        '--format',
        'json',
        '--save',
        join(folder, 'designs'),
      ];
      const line = await runCli(words);
      expect(line.status).toBe(0);
      expect(line.stdout === proposalsJson(readProposalNeeds(NEEDS), answer)).toBe(true);
      const files = readdirSync(join(folder, 'designs'));
      expect(files).toEqual(['1-shared-one-run-2x2.json']);
      const saved = JSON.parse(readFileSync(join(folder, 'designs', files[0]!), 'utf8')) as unknown;
      expect(saved).toEqual(JSON.parse(JSON.stringify(answer.proposals[0]!.design)));
    } finally {
      rmSync(folder, { recursive: true });
    }
  });

  it('keeps its promise: the strobe window of its own file gives the numbers that are stated', () => {
    expect(answer).toMatchObject({ met: true, complete: true });
    expect(answer.proposals.length).toBe(1);
    const { proof } = answer.proposals[0]!;
    const { verdict, corners } = found;
    expect(verdict).toEqual(proof.verdict);
    expect(verdict.design).toBe('reads');
    expect(verdict.sets.corners).toMatchObject({ margin: proof.margin, width: proof.width });
    expect([corners!.one, corners!.zero]).toEqual([proof.setBy.one, proof.setBy.zero]);
    expect(proof.margin).toBeGreaterThanOrEqual(design.requirement.margin);
    expect(proof.width).toBeGreaterThanOrEqual(design.requirement.width);
  });

  it('has that margin over the full product of cases, each run by itself', () => {
    const { proof } = answer.proposals[0]!;
    const { inForce, corners } = found;
    const all = fullProduct(design, inForce.time);
    expect(all.runs).toBeGreaterThan(50);
    expect(Math.abs(inForce.threshold + corners!.margin.one - all.one)).toBeLessThan(20e-6);
    expect(Math.abs(inForce.threshold - corners!.margin.zero - all.zero)).toBeLessThan(20e-6);
    // Where nothing of the margin is left for threshold and strobe, the distance is greater than what is stated.
    const { uncertainty, hysteresis } = design.detector;
    const distance = Math.min(all.one - inForce.threshold, inForce.threshold - all.zero);
    expect(proof.margin).toBeLessThan(distance - uncertainty - hysteresis / 2 + 20e-6);
  });
});

describe('how far a value may move', () => {
  it('leaves 95 % of the reserve at either end, by the worst of all cases', () => {
    const needs = readProposalNeeds(NEEDS);
    const [proposal] = answer.proposals;
    const { ranges, variables, combination, reserve, strobe, threshold } = proposal!;
    expect(ranges!.map(({ label }) => label)).toContain('half-select current');
    for (const { low, value, high } of ranges!) expect(low <= value && value <= high).toBe(true);
    const half = ranges!.find(({ field }) => field === '/drive/x/readAmplitude')!;
    expect(half.high - half.low).toBeGreaterThan(1e-3);
    for (const end of [half.low, half.high]) {
      const moved = build(needs, combination, { ...variables, half: end }, { strobe, threshold }).design;
      const cases = [...firstCases(moved), ...proposal!.setBy];
      const { value } = judgeWhole(needs, moved, cases, { run: simulate }).judged;
      expect(value / reserve).toBeGreaterThan(0.95);
    }
  });
});

describe('needs that cannot be met', () => {
  it('are told what one of them must become: a cycle too short for read, gap and write is lengthened to the least that fits', () => {
    const needs = readProposalNeeds({ ...NEEDS, cycle: '0.8 us' });
    const combination = { rows: 2, columns: 2, winding: 'shared-one-run', core: 0, amplifiers: 1 } as const;
    const start = startOf(needs, combination)!;
    const relaxed = relax(needs, combination, { variables: start, setBy: [] }, ['/cycle'], { run: simulate });
    expect(relaxed).toMatchObject({ need: '/cycle', from: 0.8e-6, unit: 's' });
    expect(relaxed.to).not.toBeNull();
    // The proposed build of ten microseconds says itself what its shortest cycle is.
    const shortest = answer.proposals[0]!.proof.shortestCycle;
    expect(relaxed.to!).toBeGreaterThan(0.8e-6);
    expect(relaxed.to!).toBeLessThan(1.5 * shortest);
    expect(relaxed.best).toBeGreaterThanOrEqual(1);
  });
});
