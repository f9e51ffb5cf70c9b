import type { StrobeWindow } from '../../../engine/strobe/window-result.ts';
import { checkDesign } from '../../../engine/check/check-design.ts';
import type { RawDesign } from '../../model/pointer.ts';
import type { Step } from '../step.ts';
import { bothBits, grow, seconds, tell, volts } from './bench.ts';
import { AT_LATCH, judge, placeOf } from './judge.ts';

const large = grow(32);

/** V: asked for on the learning board. The current reaches it; the threshold alone, or the winding alone, does not. */
export const ENOUGH = 10.5e-3;
/** On a design of the reader's own so much of what it has is asked for, and more than that by at least the second, V. */
const [MORE, AT_LEAST] = [1.25, 1e-3];

const left = ({ margin }: StrobeWindow): number => margin.left;
const asked = (before: number): number => Math.max(MORE * before, before + AT_LEAST);
const coresOf = (raw: RawDesign): number => {
  const { rows, columns } = checkDesign(raw).mat;
  return rows * columns;
};

/** A margin is to be reached on the learning board, or on the design that stands in Plan. */
export const ownBoard: Step = {
  id: 'own-board',
  ask: { kind: 'board' },
  design: large,
  weigh(moved) {
    if (moved.kind !== 'board') throw new TypeError('A whole board is asked for.');
    const { raw, from } = moved;
    const { window } = judge(raw);
    const learning = JSON.stringify(from) === JSON.stringify(large);
    const fault =
      coresOf(raw) < coresOf(from) ? 'fewer' : window.margin.one < window.margin.zero ? 'one' : 'zero';
    return {
      value: left(window),
      need: learning ? ENOUGH : asked(left(judge(from).window)),
      fault,
    };
  },
  compute() {
    const { window } = judge(large);
    return {
      traces: bothBits(window),
      ...AT_LATCH,
      span: [0, 800e-9],
      place: placeOf(window),
      truth: { kind: 'board', need: ENOUGH },
      answers: [tell('first', volts(left(window))), tell('strobe', seconds(window.inForce.time))],
    };
  },
};
