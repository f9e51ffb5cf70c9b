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
} from './bench.ts';

const stackOf12 = withValueAt(board, '/mat', { rows: 32, columns: 32, mats: 12, pitch: '1 mm' });

const inhibit: Step = {
  id: 'inhibit',
  title: 'A ZERO is a write that is held back',
  text: 'All mats of a stack share their X and Y lines, so a write would put a ONE into every mat. Where a ZERO belongs, one more wire through all cores of that mat carries a current during the write.',
  question: 'How large should that current be, in the ampere-turns of a core?',
  ask: {
    kind: 'choose',
    choices: [
      {
        text: 'About that of one line, against the write',
        whyNot: 'Look at the sums below: of the addressed core, and of a core that no line selects.',
      },
      {
        text: 'As much as both lines together, against the write',
        whyNot:
          'Then the addressed core would see nothing, but every other core of the mat would see a full read and lose its ONE.',
      },
      {
        text: 'About that of one line, along with the write',
        whyNot: 'That would turn the core even faster, and half-select the whole mat towards ONE.',
      },
    ],
  },
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
    const amperes = (value: number): string => `${Math.round(value * 1e3)} mA`.replace('-', '−');
    return {
      traces: [
        trace(run, x, 'selected', 'X, and Y alike'),
        trace(run, held, 'inhibit', 'inhibit'),
        trace(run, run.selected.drive, 'one', 'seen by the addressed core'),
      ],
      quantity: { symbol: 'F', unit: 'A' },
      span: [0, (readWidth + gap + writeWidth) * 1.1],
      truth: { kind: 'choose', right: taken * ix > 0 ? 2 : choiceOf(Math.abs(taken / ix), [1.5]) },
      answers: [
        { name: 'Addressed core: X + Y − inhibit', value: amperes(seen) },
        { name: 'Others on its two lines: one line − inhibit', value: amperes(ix + taken) },
        { name: 'All the rest of the mat', value: amperes(taken) },
      ],
    };
  },
  meaning:
    'Counted in ampere-turns the inhibit takes one line’s current away again: the addressed core sees about a half-select, and so does the rest of the mat, the other way round. It must cover the write at both ends.',
};

const drivers: Step = {
  id: 'drivers',
  title: 'What sharing saves',
  text: 'Twelve mats of 32 × 32 hold words of 12 bits. With inhibit wires all mats share their X and Y lines. The other way is to give every mat X and Y lines of its own and to leave a line out where a ZERO belongs.',
  question: 'How many drivers does the other way need, over those with inhibit wires?',
  ask: {
    kind: 'choose',
    choices: [
      {
        text: 'About as many',
        whyNot: 'Count: rows and columns once and one inhibit a mat, against rows and columns of every mat.',
      },
      { text: 'About twice as many', whyNot: 'More: every mat brings 64 lines of its own.' },
      { text: 'About ten times as many', whyNot: 'Compare the two numbers below.' },
    ],
  },
  design: stackOf12,
  compute() {
    const { rows, columns, mats } = checkDesign(stackOf12).mat;
    const shared = driversWithInhibit(rows, columns, mats);
    const own = driversWithoutInhibit(rows, columns, mats);
    const run = runOf(board, withBit(0));
    return {
      traces: [
        trace(run, run.currents.x, 'selected', 'X, shared by all mats'),
        trace(run, run.currents.inhibit, 'inhibit', 'inhibit of one mat'),
      ],
      quantity: { symbol: 'i', unit: 'A' },
      span: [0, 3e-6],
      truth: { kind: 'choose', right: choiceOf(own / shared, [1.5, 4]) },
      answers: [
        { name: 'Shared: rows + columns + mats', value: String(shared) },
        { name: 'Lines of its own for every mat: (rows + columns) × mats', value: String(own) },
      ],
    };
  },
  meaning:
    'Coincidence in two lines and an inhibit a bit is what made large memories affordable. A memory that selects whole words by one line needs no inhibit either, but a driver for every word.',
};

const recover: Step = {
  id: 'recover',
  title: 'Recover from inhibit',
  text: 'On this board the wire that hears the cores carries the inhibit current too. The next read comes soon after.',
  question: 'How does the voltage of the inhibit pulse on that wire compare with a ONE?',
  ask: {
    kind: 'choose',
    choices: [
      {
        text: 'It is smaller',
        whyNot: 'Hundreds of milliamperes through the wire’s ends: count volts, not millivolts.',
      },
      { text: 'It is about as large', whyNot: 'Far more: look at the ratio below.' },
      { text: 'It is many times as large', whyNot: 'Compare the two numbers below.' },
    ],
  },
  design: board,
  compute() {
    const [run, signal] = [runOf(board, withBit(0)), runOf(board)];
    const bell = Math.abs(bellOf(signal).value);
    const pulse = peakIn(run, run.contributions!.inhibit, 0, run.time.at(-1)!);
    return {
      traces: [
        trace(run, run.contributions!.inhibit, 'inhibit', 'inhibit'),
        trace(signal, signal.contributions!.selectedCore, 'selected', 'selected core, ONE'),
      ],
      quantity: VOLTAGE,
      span: [0, run.time.at(-1)!],
      truth: { kind: 'choose', right: choiceOf(pulse / bell, [0.7, 3]) },
      answers: [
        { name: 'Inhibit on the wire', value: volts(pulse) },
        { name: 'The ONE’s bell', value: volts(bell) },
        { name: 'Ratio', value: (pulse / bell).toPrecision(2) },
      ],
    };
  },
  meaning:
    'The wire and the amplifier behind it must come to rest before the next strobe. On this board they do so easily; with more cores on the wire, or a faster cycle, it is what limits the rate.',
};

const held = withValueAt(single, '/exceptions', [{ row: 0, column: 0, bias: '2 A' }]);

const magnet: Step = {
  id: 'magnet',
  title: 'A magnet on one core',
  text: 'Hold a magnet to the selected core. Here it stands for 2 A of turns that never end; a real magnet across a ring drives its two halves against each other, and holds them all the same.',
  question: 'What is left of its two bells?',
  ask: {
    kind: 'choose',
    choices: [
      { text: 'Both are gone', whyNot: 'Compare the numbers below.' },
      {
        text: 'Only that of the read is gone',
        whyNot: 'A core that cannot turn one way cannot turn back either: there is nothing to turn back.',
      },
      {
        text: 'Both stay',
        whyNot: 'The magnet’s drive is far beyond that of the lines: the core stands at the end of its loop.',
      },
    ],
  },
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
        trace(kept, kept.contributions!.selectedCore, 'direct', 'held by the magnet'),
      ],
      quantity: VOLTAGE,
      span: [0, (write + writeWidth) * 1.15],
      loop: loopOf(kept),
      truth: { kind: 'choose', right: readGone && writeGone ? 0 : readGone ? 1 : 2 },
      answers: [
        { name: 'Read bell, free and held', value: `${volts(freeRead)} and ${volts(keptRead)}` },
        { name: 'Write bell, free and held', value: `${volts(freeWrite)} and ${volts(keptWrite)}` },
      ],
    };
  },
  meaning:
    'Only its small elastic answer on the edges remains: a test for any core of a real mat. A weak magnet does less: it shifts the drive, and the bell comes late or early.',
};

export const theMachine: Lesson = {
  id: 'the-machine',
  title: 'The memory around it',
  steps: [inhibit, drivers, recover, magnet],
};
