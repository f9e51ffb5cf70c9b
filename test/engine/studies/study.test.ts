import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../../engine/check/check-design.ts';
import {
  evaluateJob,
  evaluatePoint,
  failedPoint,
  mergeStudies,
  openDesign,
  parseShard,
  planStudy,
  pointJob,
  shardIndices,
  summarise,
} from '../../../engine/studies/study.ts';
import { STUDY_KINDS } from '../../../engine/studies/shared/shape.ts';
import type { StudyKind, StudyPlan } from '../../../engine/studies/shared/shape.ts';
import { madeUpDesign, madeUpTools } from './made-up-memory.ts';

const SMALL: Readonly<Record<StudyKind, object>> = {
  scale: { sizes: [4, [4, 8]], windings: ['shared-one-run', 'separate-diagonal'] },
  shmoo: { rows: 3, columns: 3 },
  tolerance: { draws: 12, seed: 7 },
  temperature: { steps: 3 },
  rate: { steps: 3 },
  pattern: { random: 2 },
  sensitivity: {},
};

const planOf = (kind: StudyKind): StudyPlan =>
  planStudy({ kind, design: madeUpDesign, options: SMALL[kind] as never }, madeUpTools());
const all = (plan: StudyPlan, order = plan.points.map((_, i) => i)) =>
  order.map((i) => evaluatePoint(plan, i, madeUpTools()));
const text = (value: unknown): string => JSON.stringify(value);

/** Everything a study answers must survive JSON unchanged, or workers and machines would disagree. */
describe('every kind of study', () => {
  it.each(STUDY_KINDS)(
    '%s gives the same bytes in any order, point by point and from a plan that travelled',
    (kind) => {
      const plan = planOf(kind);
      const results = all(plan);
      const whole = text(summarise(plan, results));
      const backward = all(
        plan,
        plan.points.map((_, i) => plan.points.length - 1 - i),
      );
      expect(text(summarise(plan, backward))).toBe(whole);
      const travelled = JSON.parse(text(plan)) as StudyPlan;
      const jobs = travelled.points.map((_, i) => evaluateJob(pointJob(travelled, i), madeUpTools()));
      expect(text(summarise(travelled, jobs))).toBe(whole);
      expect(text(JSON.parse(whole))).toBe(whole);
      expect(whole).not.toContain('undefined');
    },
  );

  it.each(STUDY_KINDS)('%s put together from 1, 2 or 4 shards is the same', (kind) => {
    const plan = planOf(kind);
    const whole = text(summarise(plan, all(plan)));
    for (const count of [1, 2, 4]) {
      const shards = Array.from({ length: count }, (_, i) =>
        summarise(plan, all(plan, shardIndices(plan, { index: i + 1, count }))),
      );
      expect(shards.some((shard) => shard.partial)).toBe(count > 1);
      expect(text(mergeStudies(shards.reverse()))).toBe(whole);
    }
  });

  it.each(STUDY_KINDS)(
    '%s keeps what is done, names what failed and stays readable when nothing is done',
    (kind) => {
      const plan = planOf(kind);
      expect(summarise(plan, [])).toMatchObject({ partial: true, count: { done: 0, failed: 0 } });
      const some = summarise(plan, [
        evaluatePoint(plan, 1, madeUpTools()),
        failedPoint(plan, 0, 'The worker ended.'),
      ]);
      expect(some.partial).toBe(true);
      expect(some.count).toEqual({ planned: plan.points.length, done: 2, failed: 1 });
      expect(some.failed).toEqual([{ index: 0, name: plan.points[0]!.name, message: 'The worker ended.' }]);
    },
  );

  it.each(STUDY_KINDS)('%s says which seed it used and what it costs before it runs', (kind) => {
    const plan = planOf(kind);
    expect(plan.seed).toBe(kind === 'tolerance' ? 7 : 1);
    expect(plan.runs).toBeGreaterThan(0);
    expect(plan.points.length).toBeGreaterThan(1);
  });

  it.each(STUDY_KINDS)('%s opens the design behind its points', (kind) => {
    const plan = planOf(kind);
    for (let i = 0; i < plan.points.length; i++) {
      expect(() => checkDesign(openDesign(plan, i, undefined, madeUpTools()))).not.toThrow();
    }
  });

  it.each(STUDY_KINDS)('%s keeps a point whose runs go wrong under its name, with the advice', (kind) => {
    const plan = planOf(kind);
    const broken = {
      ...madeUpTools(),
      simulate: () => {
        throw new Error('The solution left the range of numbers.');
      },
    };
    const result = evaluatePoint(plan, plan.points.length - 1, broken);
    const told = result.failed ?? text(result);
    expect(result.name).toBe(plan.points.at(-1)!.name);
    expect(told).toContain('The solution left the range of numbers.');
  });
});

describe('what a study refuses', () => {
  const refusal = (kind: string, options: object): unknown => {
    try {
      planStudy({ kind: kind as StudyKind, design: madeUpDesign, options: options as never }, madeUpTools());
    } catch (error) {
      const { code, field, message, limit } = error as {
        code: string;
        field: string;
        message: string;
        limit?: number;
      };
      return { code, field, message, limit };
    }
    return undefined;
  };

  it.each([
    [
      'tolerance',
      { draws: 1.5 },
      '/options/draws',
      'Study option draws must be a whole number from 2 to 1000000, but is 1.5; choose a number in that range.',
    ],
    [
      'tolerance',
      { drawers: 3 },
      '/options/drawers',
      'Study tolerance has no option "drawers": it takes seed, draws, stack, worst, cases, before.',
    ],
    [
      'shmoo',
      { x: '/wire/nothing' },
      '/options/x',
      'Study option x must be drive, drive.x, drive.y, inhibit, edges, core.threshold, core.flux, core.elastic, terminations, threshold, strobe, temperature, stagger, period, or the JSON pointer of a dimensional field such as /wire/mutualX, but is "/wire/nothing"; name an input that a design has.',
    ],
    [
      'shmoo',
      { x: 'drive', xFrom: 0.3 },
      '/options/xFrom',
      'Study option xFrom must be a current as text with its unit (A), but is 0.3, a bare number; add the unit.',
    ],
    [
      'scale',
      { sizes: [300] },
      '/options/sizes/0',
      'Study option sizes/0 must be a side or [rows, columns] from 2 to 256, but is 300; write for example 16 or [16, 32].',
    ],
    [
      'shmoo',
      { x: 'drive', y: 'drive.x' },
      '/options/y',
      'Study option y must be an input that does not move with x, but is "drive.x"; choose two independent inputs.',
    ],
    [
      'magnetism',
      {},
      '/kind',
      'Study kind must be one of scale, shmoo, tolerance, temperature, rate, pattern, sensitivity; received "magnetism": name one of them.',
    ],
  ])('%s with %o: one sentence', (kind, options, field, message) => {
    expect(refusal(kind, options)).toMatchObject({ field, message });
  });

  it('a prototype named as kind or input is no study', () => {
    expect(refusal('constructor', {})).toMatchObject({ field: '/kind' });
    expect(refusal('shmoo', { x: 'toString' })).toMatchObject({ field: '/options/x' });
    expect(refusal('shmoo', { x: '/__proto__/x' })).toMatchObject({ field: '/options/x' });
  });

  it('a count is accepted at its limits and refused beyond them', () => {
    expect(refusal('shmoo', { rows: 101 })).toBeUndefined();
    expect(refusal('shmoo', { rows: 102 })).toMatchObject({ code: 'bad-option', limit: 101 });
    expect(refusal('shmoo', { rows: 2 })).toBeUndefined();
    expect(refusal('shmoo', { rows: 1 })).toMatchObject({ code: 'bad-option', limit: 2 });
  });

  it.each(['0/4', '5/4', '1/0', '1', 'a/b', '1/99999', '1.5/2', ''])('the shard %j', (shard) => {
    expect(() => parseShard(shard)).toThrow(/^Shard must be I\/N with 1 ≤ I ≤ N ≤ 10000/u);
  });

  it('shards of different plans', () => {
    const [a, b] = [planOf('scale'), planOf('shmoo')];
    expect(() => mergeStudies([summarise(a, []), summarise(b, [])])).toThrow(
      /must come from one plan .* number 2 differs/u,
    );
    expect(() => mergeStudies([])).toThrow(/at least one study/u);
  });
});
