import { elasticFlux } from '../../../engine/core/model.ts';
import type { Simulation } from '../../../engine/solver/result.ts';
import { withValueAt, type RawDesign } from '../../model/pointer.ts';
import type { Lesson, Step } from '../step.ts';
import {
  AFTER_EDGE,
  bellOf,
  choiceOf,
  extremeIn,
  FLUX,
  loopOf,
  percent,
  readSpan,
  runOf,
  seconds,
  single,
  trace,
  volts,
  VOLTAGE,
  weber,
  choose,
  tell,
} from './bench.ts';

const remanent = (run: Simulation): number => run.design.core.parameters.remanentFlux;

const loop: Step = {
  id: 'loop',
  ask: choose('nothing', 'once', 'twice'),
  design: single,
  compute() {
    const run = runOf(single);
    const { state } = run.selected;
    const end = state[Math.round((run.design.cycle.readWidth / run.design.numerics.output) * 1.2)]!;
    return {
      traces: [trace(run, state, 'selected', 'flux')],
      quantity: FLUX,
      span: readSpan(run),
      truth: { kind: 'choose', right: choiceOf(Math.abs(end - state[0]!) / remanent(run), [0.5, 1.5]) },
      loop: loopOf(run),
      answers: [tell('before', weber(state[0]!)), tell('after', weber(end))],
    };
  },
};

/** What an integrator on the wire draws, Wb: the stored flux and the elastic one together. */
const linkageOf = ({ design, selected: { drive, state } }: Simulation): Float64Array =>
  state.map((flux, i) => flux + elasticFlux(design.core.parameters, drive[i]!, flux));

/** The core read by one line only, so many times, and never written. */
const halfRead = (times: number): RawDesign =>
  withValueAt(
    single,
    '/programme',
    Array.from({ length: times }, () => ({ row: 0, column: 0, lines: 'x', write: 'none' })),
  );

/** Of a read by one line: how far the linkage moves elastically, and what stays changed after each, of the flux. */
export function halfSelected(times: number): { run: Simulation; elastic: number; lost: number } {
  const run = runOf(halfRead(times));
  const { state } = run.selected;
  const { parameters } = run.design.core;
  const amplitude = run.design.drive.x.readAmplitude;
  return {
    run,
    elastic: Math.abs(elasticFlux(parameters, -amplitude, state[0]!)) / remanent(run),
    lost: Math.abs(state.at(-1)! - remanent(run)) / remanent(run),
  };
}

const half: Step = {
  id: 'half-select',
  ask: choose('springs', 'half', 'later'),
  design: halfRead(1),
  compute() {
    const { run, elastic, lost } = halfSelected(1);
    return {
      traces: [
        trace(run, run.selected.state, 'selected', 'flux'),
        trace(run, linkageOf(run), 'half', 'linkage'),
      ],
      quantity: FLUX,
      span: readSpan(run),
      truth: { kind: 'choose', right: choiceOf(lost, [0.5, 1.5]) },
      loop: loopOf(run),
      answers: [
        tell('elastic', percent(elastic)),
        tell('lost', percent(lost)),
        tell('after', weber(run.selected.state.at(-1)!)),
      ],
    };
  },
};

const repeats: Step = {
  id: 'repeats',
  ask: {
    kind: 'number',
    unit: '%',
    within: 0.25,
  },
  design: halfRead(5),
  compute() {
    const [one, five] = [halfSelected(1), halfSelected(5)];
    const { run, lost } = five;
    const gone = (of: Simulation): Float64Array => of.selected.state.map((flux) => remanent(of) - flux);
    return {
      traces: [trace(run, gone(run), 'half', 'fifth'), trace(one.run, gone(one.run), 'selected', 'first')],
      quantity: { symbol: 'Δφ', unit: 'Wb' },
      span: readSpan(run),
      truth: { kind: 'number', value: lost * 100 },
      loop: loopOf(run),
      answers: [
        tell('first', percent(one.lost)),
        tell('fifth', percent(lost)),
        tell('twentieth', percent(halfSelected(20).lost)),
      ],
    };
  },
};

const writeBack: Step = {
  id: 'write-back',
  ask: choose('same', 'opposite', 'none'),
  design: single,
  compute() {
    const run = runOf(single);
    const bell = run.contributions!.selectedCore;
    const { readWidth, gap, writeWidth } = run.design.cycle;
    const write = readWidth + gap;
    const first = bellOf(run).value;
    const second = extremeIn(run, bell, write + AFTER_EDGE, write + writeWidth * 0.9).value;
    return {
      traces: [trace(run, bell, 'selected', 'core')],
      quantity: VOLTAGE,
      span: [0, (write + writeWidth) * 1.15],
      truth: {
        kind: 'choose',
        right: Math.abs(second) < Math.abs(first) / 10 ? 2 : Math.sign(second) === Math.sign(first) ? 0 : 1,
      },
      answers: [
        tell('read', volts(first)),
        tell('write', volts(second)),
        tell('peak', seconds(bellOf(run).time)),
      ],
    };
  },
};

export const oneCore: Lesson = {
  id: 'one-core',
  steps: [loop, half, repeats, writeBack],
};
