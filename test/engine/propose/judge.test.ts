import { expect, it } from 'vitest';
import type { Design } from '../../../engine/design/design.ts';
import { build } from '../../../engine/propose/build.ts';
import { combinations } from '../../../engine/propose/combinations.ts';
import { firstCases } from '../../../engine/propose/first-cases.ts';
import { judge } from '../../../engine/propose/judge.ts';
import { readNeeds } from '../../../engine/propose/needs.ts';
import { startOf } from '../../../engine/propose/start.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';
import { SMALL_NEEDS } from './small-needs.ts';

it('leaves a build as soon as it is sure to come to less than is asked for, and only then', () => {
  const needs = readNeeds(SMALL_NEEDS);
  const [combination] = combinations(needs);
  const start = startOf(needs, combination!)!;
  let runs = 0;
  const run: typeof simulate = (design, options) => {
    runs++;
    return simulate(design, options);
  };
  const designOf = (change: object): Design => build(needs, combination!, { ...start, ...change }).design;
  const best = judge(needs, designOf({}), { all: firstCases(designOf({})) }, { run })!;
  for (const change of [{ half: 0.97 * start.half }, { tracking: 0.4 }, { termination: 400 }]) {
    const design = designOf(change);
    const all = firstCases(design);
    const whole = judge(needs, design, { all }, { run })!;
    const judged = (least: number) => {
      runs = 0;
      const value = judge(needs, design, { first: best.setBy, all }, { run, least })?.value;
      return { value, runs };
    };
    const kept = judged(whole.value - 1e-3);
    expect(kept.value).toBeCloseTo(whole.value, 9);
    const left = judged(whole.value + 0.05);
    expect(left.value).toBeUndefined();
    expect(left.runs).toBeLessThan(kept.runs / 2);
  }
}, 120_000);
