import { withValueAt } from '../../model/pointer.ts';
import { setIndex, withSet, type SetAsk } from '../moved.ts';
import { NEAR } from '../score.ts';
import type { StrobeWindow } from '../../../engine/strobe/window-result.ts';
import type { Step } from '../step.ts';
import { amperes, bothBits, driven, grow, tell, volts } from './bench.ts';
import { AT_LATCH, judge, placeOf } from './judge.ts';

/** Both lines, in steps of 10 mA. */
const DRIVE: SetAsk = {
  kind: 'set',
  pointers: [
    '/drive/x/readAmplitude',
    '/drive/x/writeAmplitude',
    '/drive/y/readAmplitude',
    '/drive/y/writeAmplitude',
  ],
  from: 0.3,
  to: 0.42,
  places: 13,
  unit: 'A',
};
const large = withValueAt(grow(16), '/drive', driven(370)['drive']);
const windowAt = (index: number): StrobeWindow => judge(withSet(large, DRIVE, index)).window;

/** The place that leaves most, uphill from one; every place on the way is judged once. */
function climb(from: number): { index: number; seen: ReadonlyMap<number, StrobeWindow> } {
  const seen = new Map<number, StrobeWindow>();
  const left = (index: number): number => {
    if (index < 0 || index >= DRIVE.places) return -Infinity;
    const window = seen.get(index) ?? windowAt(index);
    seen.set(index, window);
    return window.margin.left;
  };
  let index = from;
  for (;;) {
    const next = [index - 1, index + 1].find((beside) => left(beside) > left(index));
    if (next === undefined) return { index, seen };
    index = next;
  }
}

/** Strobe at its best for each current; it is the current that is asked for. */
export const howMuchCurrent: Step = {
  id: 'how-much-current',
  ask: DRIVE,
  design: large,
  weigh(moved) {
    if (moved.kind !== 'set') throw new TypeError('The drive is set by its slider.');
    return { value: windowAt(moved.index).margin.left };
  },
  compute() {
    const usual = setIndex(large, DRIVE);
    const { index, seen } = climb(usual);
    const [best, before] = [index, usual].map((place) => seen.get(place)!) as [StrobeWindow, StrobeWindow];
    return {
      traces: [
        ...bothBits(best),
        { label: 'before', style: 'half', time: before.envelope.time, values: before.envelope.zero },
      ],
      ...AT_LATCH,
      span: [130e-9, 600e-9],
      place: placeOf(best),
      truth: { kind: 'set', need: NEAR * best.margin.left, most: best.margin.left, index },
      answers: [...seen]
        .sort(([a], [b]) => a - b)
        .map(([place, { margin }]) => ({
          ...tell('left', volts(margin.left)),
          of: amperes(DRIVE.from + ((DRIVE.to - DRIVE.from) * place) / (DRIVE.places - 1)),
        })),
    };
  },
};
