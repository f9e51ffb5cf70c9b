import { describe, expect, it } from 'vitest';
import { lazily } from '../../../engine/base/lazily.ts';

describe('fields computed when they are read', () => {
  const make = () => {
    let made = 0;
    const object = lazily({ plain: 1 }, { later: () => [++made] });
    return { object, made: () => made };
  };

  it('are computed once, and not before they are read', () => {
    const { object, made } = make();
    expect(object.plain).toBe(1);
    expect(made()).toBe(0);
    expect(object.later).toBe(object.later);
    expect(made()).toBe(1);
  });

  it('are in copies, in JSON and in what is sent to a worker', () => {
    expect({ ...make().object }).toEqual({ plain: 1, later: [1] });
    expect(JSON.stringify(make().object)).toBe('{"plain":1,"later":[1]}');
    expect(structuredClone(make().object)).toEqual({ plain: 1, later: [1] });
  });
});
