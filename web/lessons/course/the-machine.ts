import { checkDesign } from '../../../engine/check/check-design.ts';
import { driversWithInhibit, driversWithoutInhibit } from '../../../engine/estimates/driver-counts.ts';
import { withValueAt } from '../../model/pointer.ts';
import type { Lesson, Step } from '../step.ts';
import {
  AFTER_EDGE,
  bellOf,
  board,
  choiceOf,
  extremeIn,
  loopOf,
  peakIn,
  runOf,
  single,
  trace,
  volts,
  VOLTAGE,
  withBit,
  amperes,
  choose,
  count,
  ratio,
  tell,
  tellPair,
} from './bench.ts';

const stackOf12 = withValueAt(board, '/mat', { rows: 32, columns: 32, mats: 12, pitch: '1 mm' });

const inhibit: Step = {
  id: 'inhibit',
  ask: choose('against', 'both', 'along'),
  design: withValueAt(board, '/selected', { row: 1, column: 2, bit: 0 }),
  compute() {
    const run = runOf(board, withBit(0));
    const { x, y, inhibit: wire } = run.currents;
    const { readWidth, gap, writeWidth } = run.design.cycle;
    const middle = readWidth + gap + writeWidth / 2;
    // What the wire takes away at a core, whichever way it passes it: the core's own drive less the two lines'.
    const held = wire.map((value) => -Math.abs(value));
    const at = (values: Float64Array): number => extremeIn(run, values, middle, middle + 2e-9).value;
    const [ix, iy, seen] = [x, y, run.selected.drive].map(at) as [number, number, number];
    const taken = seen - ix - iy;
    return {
      traces: [
        trace(run, x, 'selected', 'x'),
        trace(run, held, 'inhibit', 'inhibit'),
        trace(run, run.selected.drive, 'one', 'seen'),
      ],
      quantity: { symbol: 'F', unit: 'A' },
      span: [0, (readWidth + gap + writeWidth) * 1.1],
      truth: { kind: 'choose', right: taken * ix > 0 ? 2 : choiceOf(Math.abs(taken / ix), [1.5]) },
      answers: [
        tell('addressed', amperes(seen)),
        tell('lines', amperes(ix + taken)),
        tell('rest', amperes(taken)),
      ],
    };
  },
};

const drivers: Step = {
  id: 'drivers',
  ask: choose('same', 'twice', 'ten'),
  design: stackOf12,
  compute() {
    const { rows, columns, mats } = checkDesign(stackOf12).mat;
    const shared = driversWithInhibit(rows, columns, mats);
    const own = driversWithoutInhibit(rows, columns, mats);
    const run = runOf(board, withBit(0));
    return {
      traces: [
        trace(run, run.currents.x, 'selected', 'x'),
        trace(run, run.currents.inhibit, 'inhibit', 'inhibit'),
      ],
      quantity: { symbol: 'i', unit: 'A' },
      span: [0, 3e-6],
      truth: { kind: 'choose', right: choiceOf(own / shared, [1.5, 4]) },
      answers: [tell('shared', count(shared)), tell('own', count(own))],
    };
  },
};

const recover: Step = {
  id: 'recover',
  ask: choose('smaller', 'same', 'larger'),
  design: board,
  compute() {
    const [run, signal] = [runOf(board, withBit(0)), runOf(board)];
    const bell = Math.abs(bellOf(signal).value);
    const pulse = peakIn(run, run.contributions!.inhibit, 0, run.time.at(-1)!);
    return {
      traces: [
        trace(run, run.contributions!.inhibit, 'inhibit', 'inhibit'),
        trace(signal, signal.contributions!.selectedCore, 'selected', 'core'),
      ],
      quantity: VOLTAGE,
      span: [0, run.time.at(-1)!],
      truth: { kind: 'choose', right: choiceOf(pulse / bell, [0.7, 3]) },
      answers: [tell('pulse', volts(pulse)), tell('bell', volts(bell)), tell('ratio', ratio(pulse / bell))],
    };
  },
};

const held = withValueAt(single, '/exceptions', [{ row: 0, column: 0, bias: '2 A' }]);

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

export const theMachine: Lesson = {
  id: 'the-machine',
  steps: [inhibit, drivers, recover, magnet],
};
