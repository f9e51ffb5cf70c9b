import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import { driven, grow } from '../../web/lessons/course/bench.ts';
import { judge } from '../../web/lessons/course/judge.ts';
import { howMuchCurrent } from '../../web/lessons/course/how-much-current.ts';
import { ENOUGH, ownBoard } from '../../web/lessons/course/own-board.ts';
import { slice } from '../../web/lessons/course/slice.ts';
import { hunt } from '../../web/lessons/course/worst-pattern.ts';
import {
  bitsOf,
  bitsText,
  lineCores,
  setIndex,
  setValue,
  withBits,
  withSet,
  type BitsAsk,
  type Moved,
  type SetAsk,
} from '../../web/lessons/moved.ts';
import { score } from '../../web/lessons/score.ts';
import type { Step, Truth } from '../../web/lessons/step.ts';
import { en } from '../../web/lessons/words/en/en.ts';
import { scoreText } from '../../web/lessons/words/score-words.ts';
import type { RawDesign } from '../../web/model/pointer.ts';

const scored = (step: Step, given: Moved) => score(step.ask, step.compute().truth, given, step.weigh!(given));
const leftOf = (raw: RawDesign): number => judge(raw).window.margin.left;
const truthOf = <K extends Truth['kind']>(step: Step): Extract<Truth, { kind: K }> =>
  step.compute().truth as Extract<Truth, { kind: K }>;

describe('bits that are turned on the board', () => {
  const ask = hunt.ask as BitsAsk;

  it('are written and read back, and only those on the two lines count', () => {
    const bits = [1, 0, 1, 1, 0, 1];
    expect(bitsOf(withBits(hunt.design, ask, bits), ask)).toEqual(bits);
    expect(bitsText(ask, bits)).toBe('0010 0101 0000 0010');
    expect(lineCores(ask)).toHaveLength(4 + 4 - 2);
  });

  it('leave most with the pattern that all 64 together prove the worst, and no other of them is right', () => {
    const { most, bits } = truthOf<'bits'>(hunt);
    const all = Array.from({ length: 64 }, (_, k) => [5, 4, 3, 2, 1, 0].map((place) => (k >> place) & 1));
    const came = all.map((each) => ({
      bits: each,
      result: scored({ ...hunt, compute: () => known }, { kind: 'bits', bits: each }),
    }));
    expect(came.filter(({ result }) => result.right).map((each) => each.bits)).toEqual([bits]);
    for (const { result } of came) expect(result.kind === 'moved' && result.got).toBeLessThan(most + 1e-9);
  });
  const known = hunt.compute();

  it('start from less than a microvolt, as told', () => {
    expect(hunt.weigh!({ kind: 'bits', bits: bitsOf(hunt.design, ask) }).value).toBeLessThan(1e-6);
    expect(known.answers[0]!.figures[0]!.value).toBeLessThan(1e-3);
  });
});

describe('a slider over an input of the board', () => {
  it('writes what it reads back', () => {
    for (const step of [howMuchCurrent, slice]) {
      const ask = step.ask as SetAsk;
      for (const index of [0, 3, ask.places - 1])
        expect(setIndex(withSet(step.design, ask, index), ask)).toBe(index);
      expect(() => checkDesign(withSet(step.design, ask, 0))).not.toThrow();
    }
  });

  it('finds the current that leaves most: every place of it says so, too little and too much each their way', () => {
    const ask = howMuchCurrent.ask as SetAsk;
    const truth = truthOf<'set'>(howMuchCurrent);
    const left = Array.from({ length: ask.places }, (_, index) =>
      leftOf(withSet(howMuchCurrent.design, ask, index)),
    );
    expect(left.indexOf(Math.max(...left))).toBe(truth.index);
    expect(truth.most).toBeCloseTo(left[truth.index]!, 6);
    // One hill: whoever climbs comes to its top.
    left.forEach((value, k) => {
      if (k > 0) expect(value > left[k - 1]!).toBe(k <= truth.index);
    });
    const at = (index: number) => scored(howMuchCurrent, { kind: 'set', index });
    expect(at(truth.index)).toMatchObject({ right: true });
    expect(at(0)).toMatchObject({ right: false, fault: 'low' });
    // As the board stands it is not right, so that moving it is needed.
    expect(at(setIndex(howMuchCurrent.design, ask))).toMatchObject({ right: false, fault: 'high' });
  });

  it('as the text says: a large mat wants less current than a small one, and bears less of a change of it', () => {
    const places = [340, 350, 360, 370, 380, 390];
    const [small, large] = [4, 32].map((n) => {
      const left = places.map((mA) => leftOf({ ...grow(n), drive: driven(mA)['drive'] }));
      const most = Math.max(...left);
      return { best: places[left.indexOf(most)]!, wide: left.filter((value) => value > 0.9 * most).length };
    });
    expect(large!.best).toBeLessThan(small!.best);
    expect(large!.wide).toBeLessThan(small!.wide);
  });

  it('of the threshold tells what is left in millivolts against the most', () => {
    const { ask, words } = { ask: slice.ask as SetAsk, words: en.lessons.missions.steps.slice };
    const { index } = truthOf<'set'>(slice);
    const low = scored(slice, { kind: 'set', index: setIndex(slice.design, ask) });
    expect(low).toMatchObject({ right: false, fault: 'low' });
    expect(scoreText(en, words, ask, low)).toMatch(
      /^it comes to 6\.27 mV, and [\d.]+ mV or more are asked for; the most is [\d.]+ mV$/,
    );
    expect(scored(slice, { kind: 'set', index })).toMatchObject({ right: true });
    expect(scored(slice, { kind: 'set', index: ask.places - 1 })).toMatchObject({
      right: false,
      fault: 'high',
    });
    expect(setValue(ask, setIndex(slice.design, ask))).toBeCloseTo(18e-3, 9);
  });
});

describe('a margin that is to be reached', () => {
  const from = ownBoard.design;
  const board = (milliamperes: number, millivolts: number): RawDesign => ({
    ...from,
    drive: driven(milliamperes)['drive'],
    detector: { threshold: `${millivolts} mV` },
  });

  it('is reached by the current, not by threshold or winding alone, as told, and not with fewer cores', () => {
    expect(scored(ownBoard, { kind: 'board', from, raw: board(354, 18) })).toMatchObject({ right: true });
    const at = slice.ask as SetAsk;
    const most = truthOf<'set'>(slice);
    expect(slice.design['mat']).toEqual(from['mat']);
    expect(at.places).toBeGreaterThan(300);
    expect(most.most).toBeLessThan(ENOUGH);
    expect(most.most).toBeGreaterThan(1.5 * leftOf(from));
    const halves = leftOf({ ...from, winding: { kind: 'shared-two-halves' } });
    expect(halves).toBeLessThan(ENOUGH);
    expect(halves).toBeGreaterThan(1.5 * leftOf(from));
    const few = { ...grow(4), drive: driven(355)['drive'] };
    expect(scored(ownBoard, { kind: 'board', from, raw: few })).toMatchObject({
      right: false,
      fault: 'fewer',
    });
    const weak = scored(ownBoard, { kind: 'board', from, raw: board(340, 18) });
    expect(weak).toMatchObject({ right: false, fault: 'one' });
    expect(scored(ownBoard, { kind: 'board', from, raw: board(370, 18) })).toMatchObject({ fault: 'zero' });
  });

  it('of a design of one’s own is a quarter more than that has', () => {
    const own = grow(8);
    const { value, need } = ownBoard.weigh!({ kind: 'board', raw: own, from: own });
    expect(value).toBeCloseTo(judge(own).window.margin.left, 9);
    expect(need).toBeCloseTo(1.25 * value, 9);
  });
});
