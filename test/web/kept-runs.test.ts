import { describe, expect, it } from 'vitest';
import { keepRuns, type KeptRun } from '../../web/state/kept-runs.ts';

describe('the judgements that undo comes back to', () => {
  const of = (key: string): KeptRun => ({
    raw: { name: key },
    key,
    run: {} as KeptRun['run'],
    complete: true,
  });
  const keep = (...names: readonly string[]) => {
    const runs = keepRuns();
    for (const name of names) runs.set(name, of(name));
    return (name: string) => runs.get(name)?.key;
  };

  it('are the last four: the oldest goes first, whose traces would fill the memory', () => {
    const get = keep('a', 'b', 'c', 'd', 'e');
    expect(['a', 'b', 'c', 'd', 'e'].map(get)).toEqual([undefined, 'b', 'c', 'd', 'e']);
  });

  it('count from when they were last computed, and a fuller one takes the place of its first', () => {
    const get = keep('a', 'b', 'c', 'd', 'a', 'e');
    expect(['a', 'b', 'c', 'd', 'e'].map(get)).toEqual(['a', undefined, 'c', 'd', 'e']);
    const runs = keepRuns();
    runs.set('a', { ...of('a'), complete: false });
    runs.set('a', of('a'));
    expect(runs.get('a')!.complete).toBe(true);
  });
});
