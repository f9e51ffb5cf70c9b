import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import { strobeWindow } from '../../engine/strobe/strobe-window.ts';
import { bellOf, board, driven, runOf } from '../../web/lessons/course/bench.ts';
import { evaluate } from '../../web/lessons/made/evaluate.ts';
import type { OwnTruth, Scan } from '../../web/lessons/made/evaluated.ts';
import { reaches } from '../../web/lessons/made/scans.ts';
import { levelOf, levelVolts } from '../../web/lessons/made/levels.ts';
import type { OwnAsk, OwnStep } from '../../web/lessons/made/lesson.ts';
import { scoreOwn } from '../../web/lessons/made/score-own.ts';
import { valueIndex, withVariant } from '../../web/lessons/made/variants.ts';
import { ownLesson } from './own-lesson.ts';

const [place, number] = ownLesson.steps as readonly OwnStep[];
const asking = (ask: OwnAsk, on = board): OwnStep => ({ ...place!, board: on, ask });
const wrong = { tooLow: 'More.', tooHigh: 'Less.' };
const scanOf = (truth: OwnTruth): Scan => {
  if (truth.kind !== 'scan') throw new TypeError('No places were tried.');
  return truth;
};

/** mV left, by another route: a window run by itself for each strobe and threshold. */
const leftBy = (change: { strobe?: string; threshold?: string }): number => {
  const raw = {
    ...board,
    ...(change.strobe === undefined ? {} : { strobe: { time: change.strobe } }),
    ...(change.threshold === undefined ? {} : { detector: { threshold: change.threshold } }),
  };
  return strobeWindow(checkDesign(raw), { cases: 'quick' }).margin.left;
};

describe('a question to place the strobe', () => {
  const truth = scanOf(evaluate(place!).truth);

  it('knows what is left at each instant as windows run one by one do', () => {
    for (const ns of [40, 148, 411]) expect(truth.got[ns]!).toBeCloseTo(leftBy({ strobe: `${ns} ns` }), 7);
  });

  it('scores in what is left, and tells early from late', () => {
    const step = place!;
    expect(scoreOwn(step.ask, truth, { kind: 'index', index: truth.best })).toMatchObject({ right: true });
    expect(scoreOwn(step.ask, truth, { kind: 'index', index: 20 })).toMatchObject({
      right: false,
      fault: 'low',
    });
    expect(scoreOwn(step.ask, truth, { kind: 'index', index: 600 }).fault).toBe('high');
  });

  it('is refused where no strobe leaves so much, with what can be reached and where', () => {
    const asked = { kind: 'place', moved: 'strobe', least: '40 mV', ...wrong } as const;
    const { refusal } = evaluate(asking(asked));
    expect(refusal).toMatchObject({ code: 'target', measure: 'left', target: 0.04 });
    const { reached, at } = refusal as { reached: number; at: number };
    expect(reached).toBeCloseTo(leftBy({}), 4);
    expect(leftBy({ strobe: `${at * 1e9} ns` })).toBeCloseTo(reached, 7);
    const just = { ...asked, least: `${Math.floor(reached * 1e4) / 10} mV` };
    expect(evaluate(asking(just)).refusal).toBeUndefined();
  });
});

describe('a question to place the threshold', () => {
  const ask = { kind: 'place', moved: 'threshold', least: '10 mV', ...wrong } as const;
  it('knows what is left at each level, the strobe at its best', () => {
    const truth = scanOf(evaluate(asking(ask)).truth);
    for (const k of [20, 59])
      expect(truth.got[k]!).toBeCloseTo(leftBy({ threshold: `${truth.at[k]! * 1e3} mV` }), 7);
    expect(reaches(truth, truth.best)).toBe(true);
  });
});

describe('a question to set an input', () => {
  const ask = {
    kind: 'set',
    name: 'Current of both lines',
    pointers: ['/drive/x/readAmplitude', '/drive/y/readAmplitude'],
    unit: 'A',
    from: '330 mA',
    to: '410 mA',
    places: 3,
    measure: 'bell',
    sense: 'atLeast',
    target: '45 mV',
    ...wrong,
  } as const;
  const on = driven(370);

  it('is answered by a run at every place of the slider', () => {
    const { truth, refusal } = evaluate(asking(ask, on));
    const { at, got, best } = scanOf(truth);
    expect(Array.from(at, (value) => Math.round(value * 1e3))).toEqual([330, 370, 410]);
    // As the course tells of this board: 29, 40 and 50 mV.
    expect(Array.from(got, (value) => Number((value * 1e3).toPrecision(2)))).toEqual([29, 40, 50]);
    expect(best).toBe(2);
    expect(refusal).toBeUndefined();
  });

  it('is refused beyond its ends, whichever way is asked', () => {
    expect(evaluate(asking({ ...ask, target: '60 mV' }, on)).refusal).toMatchObject({ code: 'target' });
    const below = { ...ask, sense: 'atMost', target: '20 mV' } as const;
    const { refusal } = evaluate(asking(below, on));
    expect((refusal as { at: number }).at).toBeCloseTo(0.33, 6);
  });
});

describe('a question for a number', () => {
  it('is held against the same bell that the course speaks of, each variant against its own', () => {
    for (let student = 0; student < 3; student++) {
      const index = valueIndex(ownLesson, 1, student);
      const { truth } = evaluate(withVariant(number!, index));
      const milliamperes = [330, 370, 410][index]!;
      const so = Math.abs(bellOf(runOf(driven(milliamperes))).value);
      expect((truth as { value: number }).value).toBeCloseTo(so, 9);
      const near = { kind: 'number', value: so * 1e3 * 1.09 } as const;
      expect(scoreOwn(number!.ask, truth, near).right).toBe(true);
      expect(scoreOwn(number!.ask, truth, { kind: 'number', value: so * 1e3 * 0.8 }).fault).toBe('low');
    }
  });

  it('is refused with a tolerance that three digits cannot meet, or of a window that is closed', () => {
    const ask = { kind: 'number', measure: 'bell', within: 0.1, ...wrong } as const;
    expect(evaluate(asking(ask)).refusal).toEqual({ code: 'tolerance', least: 0.5 });
    const closed = { ...board, detector: { threshold: '200 mV' } };
    const asked = { ...ask, measure: 'window', within: 10 } as const;
    expect(evaluate(asking(asked, closed)).refusal).toEqual({ code: 'nothing', measure: 'window' });
  });
});

describe('a choice by the engine', () => {
  const choices = [
    { text: 'under 20 mV', whyNot: '', to: '20 mV' },
    { text: '20 to 60 mV', whyNot: '', from: '20 mV', to: '60 mV' },
    { text: 'more', whyNot: '', from: '60 mV' },
  ];
  it('is the one whose limits hold what is so; none or two of them are refused', () => {
    const ask = { kind: 'choose', measure: 'bell', choices } as const;
    expect(evaluate(asking(ask))).toMatchObject({ truth: { right: 1 } });
    expect(evaluate(asking(ask)).refusal).toBeUndefined();
    const none = { ...ask, choices: choices.filter((_, k) => k !== 1) };
    expect(evaluate(asking(none)).refusal).toMatchObject({ code: 'choices', holding: 0 });
    const two = { ...ask, choices: [{ text: 'any', whyNot: '' }, ...choices] };
    expect(evaluate(asking(two)).refusal).toMatchObject({ code: 'choices', holding: 2 });
  });
});

describe('a question to draw', () => {
  const ask = {
    kind: 'draw',
    curve: 'one',
    at: ['0 ns', '20 ns', '60 ns', '120 ns', '180 ns', '240 ns', '300 ns', '400 ns', '600 ns'],
    most: '160 mV',
    within: '8 mV',
    whyNot: {},
  } as const;
  const { truth, refusal } = evaluate(asking(ask));
  const { so } = truth as { so: readonly number[] };
  const drawn = (values: readonly number[]) =>
    scoreOwn(ask, truth, { kind: 'levels', levels: values.map((value) => levelOf(0.16, value)) });

  it('takes what is so for right, to the step that codes carry', () => {
    expect(refusal).toBeUndefined();
    // Derived: 160 mV and a third of it in 126 steps; rounding is off by half a step at most.
    const step = (0.16 * 4) / 3 / 126;
    for (const value of so)
      expect(Math.abs(levelVolts(0.16, levelOf(0.16, value)) - value)).toBeLessThan(step / 2 + 1e-12);
    expect(drawn(so).right).toBe(true);
    expect(drawn(so).off!).toBeLessThan(step / 2);
  });

  it('tells upside down, late, too low and too high', () => {
    expect(drawn(so.map((value) => -value)).fault).toBe('upsideDown');
    const peak = so.indexOf(Math.max(...so));
    const hump = (k: number): number[] => so.map((_, i) => (i === k ? 0.12 : 0.004));
    expect(drawn(hump(peak + 3)).fault).toBe('late');
    expect(drawn(so.map((value) => value * 0.4)).fault).toBe('low');
    expect(drawn(so.map((value) => value * 1.6)).fault).toBe('high');
  });

  it('is refused where the plot ends below the curve, with how near one can come', () => {
    const cut = evaluate(asking({ ...ask, most: '30 mV' }));
    expect(cut.refusal).toMatchObject({ code: 'drawing' });
    const { off, high } = cut.refusal as { off: number; high: number };
    expect(high).toBeCloseTo(Math.max(...so), 9);
    const over = so.map((value) => Math.max(0, value - 0.03));
    expect(off).toBeCloseTo(over.reduce((sum, value) => sum + value, 0) / over.length, 3);
  });
});
