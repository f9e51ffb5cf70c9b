import type { Lesson, Step } from '../step.ts';
import {
  AFTER_EDGE,
  bellOf,
  board,
  choiceOf,
  compareBells,
  driven,
  halfSelectedOf,
  orderOfBells,
  peakIn,
  readSpan,
  runOf,
  seconds,
  trace,
  volts,
  VOLTAGE,
  withBit,
  amperes,
  choose,
  tell,
  tellPair,
} from './bench.ts';

const drawIt: Step = {
  id: 'draw',
  ask: {
    kind: 'draw',
    at: [0, 20e-9, 60e-9, 120e-9, 180e-9, 240e-9, 300e-9, 400e-9, 600e-9],
    most: 0.16,
  },
  design: board,
  compute() {
    const run = runOf(board);
    const heard = run.senseVoltage;
    const edge = peakIn(run, heard, 0, AFTER_EDGE / 2);
    const bell = bellOf(run);
    return {
      traces: [trace(run, heard, 'one', 'one')],
      quantity: VOLTAGE,
      span: [0, 600e-9],
      truth: { kind: 'draw', curve: trace(run, heard, 'one', 'one') },
      answers: [tell('spike', volts(edge)), tellPair('bell', 'at', volts(bell.value), seconds(bell.time))],
    };
  },
};

const spike: Step = {
  id: 'hears',
  ask: choose('selected', 'others', 'inhibit'),
  design: board,
  compute() {
    const run = runOf(board);
    const parts = run.contributions!;
    const half = halfSelectedOf(run);
    const other = parts.directCoupling.map((value, i) => value + half[i]!);
    const [own, rest, inhibit] = [parts.selectedCore, other, parts.inhibit].map((values) =>
      peakIn(run, values, 0, AFTER_EDGE / 2),
    ) as [number, number, number];
    return {
      traces: [
        trace(run, half, 'half', 'half'),
        trace(run, parts.directCoupling, 'direct', 'direct'),
        trace(run, parts.selectedCore, 'selected', 'selected'),
      ],
      quantity: VOLTAGE,
      span: readSpan(run),
      truth: { kind: 'choose', right: own >= rest && own >= inhibit ? 0 : rest >= inhibit ? 1 : 2 },
      answers: [
        tell('selected', volts(own)),
        tell('others', volts(rest)),
        tell('bell', volts(bellOf(run).value)),
      ],
    };
  },
};

/** mA a line. */
const DRIVES = [330, 370, 410] as const;

const late: Step = {
  id: 'late',
  ask: choose('earlier', 'same', 'later'),
  design: driven(410),
  compute() {
    const runs = DRIVES.map((milliamperes) => runOf(driven(milliamperes)));
    return {
      ...compareBells(
        runs,
        DRIVES.map((milliamperes) => amperes(milliamperes * 1e-3)),
      ),
      truth: { kind: 'choose', right: orderOfBells(runs[1]!, runs[2]!) },
    };
  },
};

const zero: Step = {
  id: 'zero',
  ask: choose('nothing', 'spike', 'reverse'),
  design: board,
  compute() {
    const [one, none] = [runOf(board, withBit(1)), runOf(board, withBit(0))];
    const edge = peakIn(none, none.senseVoltage, 0, AFTER_EDGE / 2);
    const bell = bellOf(none).value;
    const much = Math.abs(bellOf(one).value) / 5;
    return {
      traces: [trace(one, one.senseVoltage, 'one', 'one'), trace(none, none.senseVoltage, 'zero', 'zero')],
      quantity: VOLTAGE,
      span: [0, 600e-9],
      truth: { kind: 'choose', right: Math.abs(bell) > much ? 2 : choiceOf(edge, [much]) },
      answers: [tell('spike', volts(edge)), tell('left', volts(bell))],
    };
  },
};

export const whatIsHeard: Lesson = {
  id: 'what-is-heard',
  steps: [drawIt, spike, late, zero],
};
