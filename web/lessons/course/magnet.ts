import { withValueAt, type RawDesign } from '../../model/pointer.ts';
import type { Lesson, Step } from '../step.ts';
import {
  AFTER_EDGE,
  amperes,
  choose,
  compareBells,
  loopOf,
  orderOfBells,
  peakIn,
  runOf,
  single,
  tellPair,
  trace,
  VOLTAGE,
  volts,
} from './bench.ts';

/** One core with turns that never end, A; positive towards the write. */
const biased = (turns: number): RawDesign =>
  withValueAt(single, '/exceptions', [{ row: 0, column: 0, bias: `${turns} A` }]);

const held = biased(2);

const magnet: Step = {
  id: 'magnet',
  ask: choose('gone', 'read', 'stay'),
  design: held,
  compute() {
    const [free, kept] = [runOf(single), runOf(held)];
    const { readWidth, gap, writeWidth } = free.design.cycle;
    const write = readWidth + gap;
    const bells = (run: typeof free): readonly [number, number] => {
      const own = run.contributions!.selectedCore;
      return [
        peakIn(run, own, AFTER_EDGE, readWidth * 0.9),
        peakIn(run, own, write + AFTER_EDGE, write + writeWidth * 0.9),
      ];
    };
    const [freeRead, freeWrite] = bells(free);
    const [keptRead, keptWrite] = bells(kept);
    const [readGone, writeGone] = [keptRead < 0.1 * freeRead, keptWrite < 0.1 * freeWrite];
    return {
      traces: [
        trace(free, free.contributions!.selectedCore, 'selected', 'free'),
        trace(kept, kept.contributions!.selectedCore, 'direct', 'held'),
      ],
      quantity: VOLTAGE,
      span: [0, (write + writeWidth) * 1.15],
      loop: loopOf(kept),
      truth: { kind: 'choose', right: readGone && writeGone ? 0 : readGone ? 1 : 2 },
      answers: [
        tellPair('read', 'and', volts(freeRead), volts(keptRead)),
        tellPair('write', 'and', volts(freeWrite), volts(keptWrite)),
      ],
    };
  },
};

/** A: of the other pole, none, and of the pole that is asked about. */
const WEAK = [-0.2, 0, 0.2] as const;

const weak: Step = {
  id: 'weak-magnet',
  ask: choose('earlier', 'same', 'later'),
  design: biased(WEAK[2]),
  compute() {
    const runs = WEAK.map((turns) => runOf(biased(turns)));
    return {
      ...compareBells(
        runs,
        WEAK.map((turns) => amperes(turns)),
      ),
      truth: { kind: 'choose', right: orderOfBells(runs[1]!, runs[2]!) },
    };
  },
};

export const magnetOnACore: Lesson = { id: 'magnet', steps: [magnet, weak] };
