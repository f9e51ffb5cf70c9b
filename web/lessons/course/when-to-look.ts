import type { StrobeWindow } from '../../../engine/strobe/window-result.ts';
import { withValueAt, type RawDesign } from '../../model/pointer.ts';
import type { Lesson, Step, StepResult } from '../step.ts';
import {
  board,
  bothBits,
  choiceOf,
  choose,
  grow,
  readSpan,
  runOf,
  seconds,
  tell,
  tellPair,
  volts,
} from './bench.ts';
import { AT_LATCH, judge, placeOf, tellWindow } from './judge.ts';
import { howMuchCurrent } from './how-much-current.ts';

function placed(raw: RawDesign): StepResult {
  const { window, left } = judge(raw);
  const run = runOf(raw);
  return {
    traces: bothBits(window),
    ...AT_LATCH,
    span: readSpan(run),
    place: placeOf(window),
    truth: { kind: 'place', best: window.inForce.time, left },
    answers: [
      tell('best', seconds(window.inForce.time)),
      tellWindow('window', window),
      tell('left', volts(window.margin.left)),
      tell('elastic', volts(window.atStrobe.zero.halfSelectedReversible)),
      tell('creep', volts(window.atStrobe.zero.halfSelectedIrreversible)),
    ],
  };
}

const place: Step = {
  id: 'strobe',
  ask: { kind: 'place' },
  design: board,
  compute: () => placed(board),
};

const large = grow(32);

const placeLarge: Step = {
  id: 'strobe-32',
  ask: { kind: 'place' },
  design: large,
  compute: () => placed(large),
};

const [run, halves] = [grow(16), withValueAt(grow(16), '/winding', { kind: 'shared-two-halves' })];

/** s: windows that open nearer to one another open at the same time. */
const SAME_OPENING = 5e-9;

const later: Step = {
  id: 'two-windings',
  ask: choose('earlier', 'same', 'later'),
  design: halves,
  compute() {
    const [one, two] = [run, halves].map((raw) => judge(raw).window) as [StrobeWindow, StrobeWindow];
    if (!one.strobe || !two.strobe) throw new Error('A mat of 16 × 16 that should read has no window.');
    const moved = two.strobe.start - one.strobe.start;
    return {
      traces: [
        { label: 'run', style: 'half', time: one.envelope.time, values: one.envelope.one },
        { label: 'halves', style: 'one', time: two.envelope.time, values: two.envelope.one },
        { label: 'zero', style: 'zero', time: two.envelope.time, values: two.envelope.zero },
      ],
      ...AT_LATCH,
      span: [130e-9, 450e-9],
      place: placeOf(two),
      truth: { kind: 'choose', right: choiceOf(moved, [-SAME_OPENING, SAME_OPENING]) },
      answers: [
        tellWindow('run', one),
        tellWindow('halves', two),
        tellPair('left', 'and', volts(one.margin.left), volts(two.margin.left)),
        tell('against', volts(two.atStrobe.one.halfSelectedIrreversible)),
      ],
    };
  },
};

export const whenToLook: Lesson = {
  id: 'when-to-look',
  steps: [place, placeLarge, howMuchCurrent, later],
};
