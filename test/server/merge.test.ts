import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { PointResult, StudyResult } from '../../engine/studies/shared/shape.ts';
import { evaluatePoint, planStudy, summarise } from '../../engine/studies/study.ts';
import { readStudy, studyJson } from '../../server/study-json.ts';
import { callCli } from './call-cli.ts';

let folder: string;
let results: PointResult[];
const DESIGN = { mat: { rows: 4, columns: 4 } };
const plan = planStudy({
  kind: 'rate',
  design: DESIGN,
  options: { steps: 2 },
});
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'strobewright-merge-'));
  results = plan.points.map((_, i) => evaluatePoint(plan, i));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** A shard of some points in a file, as study --format json writes it, or changed after that. */
function shard(name: string, indices: readonly number[], change = (text: string): string => text): string {
  const path = join(folder, name);
  const study = summarise(
    plan,
    indices.map((i) => results[i]),
  );
  writeFileSync(path, change(studyJson(study)));
  return path;
}
const edit =
  (work: (study: { results: PointResult[]; plan: StudyResult['plan'] }) => void) =>
  (text: string): string => {
    const study = JSON.parse(text) as StudyResult;
    work(study as never);
    return `${JSON.stringify(study)}\n`;
  };
const merge = (paths: readonly string[], more: readonly string[] = []) =>
  callCli(['merge', ...paths, ...more]);

describe('merge', () => {
  it('of all shards is the whole study, and exits with 0', async () => {
    const { status, stdout } = await merge([shard('a', [0, 2]), shard('b', [1])], ['--format', 'json']);
    expect(status).toBe(0);
    expect(stdout).toBe(readFileSync(shard('whole', [0, 1, 2]), 'utf8'));
  });

  it('that lacks points writes what there is, marked partial, says so and exits with 4', async () => {
    const { status, stdout, stderr } = await merge([shard('c', [0])], ['--format', 'json']);
    expect(status).toBe(4);
    expect(stderr).toBe(
      '2 of 3 points are missing and the study is marked partial: merge the other shards too.\n',
    );
    expect(JSON.parse(stdout)).toMatchObject({ partial: true, count: { planned: 3, done: 1 } });
  });

  it.each([
    ['an index beyond the plan', edit(({ results: [first] }) => Object.assign(first, { index: 9999 }))],
    ['an index twice', edit((study) => study.results.push(study.results[0]))],
    [
      'a word as a value',
      edit(({ results: [first] }) => Object.assign(first.values, { [Object.keys(first.values)[0]]: 'zz' })),
    ],
    ['another seed', edit((study) => Object.assign(study.plan, { seed: 99 }))],
    ['a point less', edit((study) => study.results.pop())],
    ['its digest taken out', (text: string) => text.replace(/,"digest":"\w+"/, '')],
  ])('refuses a shard with %s in one sentence', (_what, change) => {
    const path = shard('d', [0, 1], change);
    expect(() => readStudy(JSON.parse(readFileSync(path, 'utf8')), path)).toThrow(
      /^Study \S+ must be as it was written, and its digest .*\.$/,
    );
  });

  it('ends with 2 and writes nothing where one shard is refused', async () => {
    const changed = shard('d', [0, 1], (text) => text.replace(/,"digest":"\w+"/, ''));
    const { status, stdout, stderr } = await merge([changed, shard('e', [2])]);
    expect([status, stdout, stderr.split('\n').length]).toEqual([2, '', 2]);
  });

  it('refuses points out of place even where a digest was made for them', () => {
    const forged = (indices: readonly number[]): unknown => {
      const moved = indices.map((index) => ({ ...results[0], index }));
      return JSON.parse(studyJson({ ...summarise(plan, []), results: moved }));
    };
    expect(() => readStudy(forged([9999]), 'x')).toThrow('has number 9999 beyond the last');
    expect(() => readStudy(forged([0, 0]), 'x')).toThrow('has number 0 twice');
  });

  it('refuses a point that two shards have computed; one that failed may be made up for', async () => {
    const twice = await merge([shard('f', [0, 1]), shard('g', [1, 2])]);
    expect([twice.status, twice.stderr]).toEqual([
      2,
      expect.stringMatching(/^Point 1 .* in \S+f and in \S+g: /),
    ]);
    const lost = { ...results[1], failed: 'The worker was lost.', values: {} };
    const path = join(folder, 'h');
    writeFileSync(path, studyJson(summarise(plan, [results[0], lost])));
    expect((await merge([path, shard('i', [1, 2])])).status).toBe(0);
  });
});
