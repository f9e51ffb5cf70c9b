import { valueAt } from '../../../engine/sense-amplifier/detector.ts';
import type { Simulation } from '../../../engine/solver/result.ts';
import { withValueAt } from '../../model/pointer.ts';
import type { Step } from '../step.ts';
import {
  bellOf,
  board,
  choiceOf,
  choose,
  grow,
  peakIn,
  ratio,
  runOf,
  seconds,
  tell,
  trace,
  volts,
  VOLTAGE,
  withBit,
} from './bench.ts';

export const recover: Step = {
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

/** s: at 2.3 µs a cycle the next read begins so long after the write. */
const PAUSE = 300e-9;
/** Quiet is less than this part of the threshold at the amplifier's output. */
const QUIET = 1 / 20;
const hurried = withValueAt(grow(64), '/cycle', { ...(board['cycle'] as object), period: '2.3 us' });

/** The amplifier's output after a ZERO was written: over the threshold there, and when it has come to rest. */
function afterWrite(n: number): {
  run: Simulation;
  end: number;
  next: number;
  quiet: number;
  threshold: number;
} {
  const run = runOf(grow(n), withBit(0));
  const { cycle, detector, amplifier } = run.design;
  const end = cycle.readWidth + cycle.gap + cycle.writeWidth;
  const threshold = detector.threshold * amplifier.divider * amplifier.gain;
  const last = run.amplifierOutput.findLastIndex((value) => Math.abs(value) > QUIET * threshold);
  return {
    run,
    end,
    threshold,
    next: Math.abs(valueAt(run.time, run.amplifierOutput, end + PAUSE)),
    quiet: run.time[last]! - end,
  };
}

export const limits: Step = {
  id: 'recover-64',
  ask: choose('rest', 'tail', 'over'),
  design: hurried,
  compute() {
    const [small, large] = [afterWrite(4), afterWrite(64)];
    return {
      traces: [
        trace(large.run, large.run.amplifierOutput, 'inhibit', 'large'),
        trace(small.run, small.run.amplifierOutput, 'selected', 'small'),
      ],
      quantity: VOLTAGE,
      span: [large.end - 200e-9, large.end + 1e-6],
      truth: { kind: 'choose', right: choiceOf(large.next / large.threshold, [QUIET, 1]) },
      answers: [
        tell('next', volts(large.next)),
        tell('threshold', volts(large.threshold)),
        tell('large', seconds(large.quiet)),
        tell('small', seconds(small.quiet)),
      ],
    };
  },
};
