import { checkDesign } from '../../../engine/check/check-design.ts';
import { driversWithInhibit, driversWithoutInhibit } from '../../../engine/estimates/driver-counts.ts';
import type { Simulation } from '../../../engine/solver/result.ts';
import { withValueAt } from '../../model/pointer.ts';
import type { Lesson, Step } from '../step.ts';
import {
  board,
  choiceOf,
  extremeIn,
  peakIn,
  runOf,
  trace,
  volts,
  VOLTAGE,
  withBit,
  amperes,
  choose,
  count,
  tell,
} from './bench.ts';
import { limits, recover } from './recover.ts';

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
      answers: [
        tell('shared', count(shared)),
        tell('perBit', count(rows + columns * mats)),
        tell('own', count(own)),
        tell('words', count(rows * columns + mats)),
      ],
    };
  },
};

const separate = withValueAt(board, '/winding', { kind: 'separate-diagonal' });

const wires: Step = {
  id: 'wires',
  ask: choose('same', 'half', 'nothing'),
  design: separate,
  compute() {
    const [three, four] = [board, separate].map((raw) => runOf(raw, withBit(0))) as [Simulation, Simulation];
    const heard = (run: Simulation): number => peakIn(run, run.contributions!.inhibit, 0, run.time.at(-1)!);
    const share = heard(four) / heard(three);
    return {
      traces: [
        trace(three, three.contributions!.inhibit, 'inhibit', 'three'),
        trace(four, four.contributions!.inhibit, 'selected', 'four'),
      ],
      quantity: VOLTAGE,
      span: [1e-6, 2.4e-6],
      truth: { kind: 'choose', right: 2 - choiceOf(share, [0.02, 0.75]) },
      answers: [tell('three', volts(heard(three))), tell('four', volts(heard(four)))],
    };
  },
};

export const theMachine: Lesson = {
  id: 'the-machine',
  steps: [inhibit, wires, drivers, recover, limits],
};
