import { elasticFlux } from '../../../engine/core/model.ts';
import type { Simulation } from '../../../engine/solver/result.ts';
import type { Lesson, Step } from '../step.ts';
import {
  AFTER_EDGE,
  bellOf,
  choiceOf,
  extremeIn,
  FLUX,
  halfReads,
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
} from './bench.ts';

const remanent = (run: Simulation): number => run.design.core.parameters.remanentFlux;

const loop: Step = {
  id: 'loop',
  title: 'One core and its loop',
  text: 'A ferrite ring remembers which way it was last magnetised. Two wires pass through it, and a read sends a current through each, both in the same sense.',
  question:
    'The core holds a ONE and both wires carry read current. By how much does its stored flux change?',
  ask: {
    kind: 'choose',
    choices: [
      {
        text: 'Not at all',
        whyNot:
          'Then nothing would be heard. Follow the dot over the loop: past the knee it does not come back.',
      },
      {
        text: 'By about its remanent flux',
        whyNot: 'That would leave the core empty, half-way. A square loop has no resting place there.',
      },
      {
        text: 'By about twice its remanent flux',
        whyNot: 'Look where the dot starts and where it comes to rest.',
      },
    ],
  },
  design: single,
  compute() {
    const run = runOf(single);
    const { state } = run.selected;
    const end = state[Math.round((run.design.cycle.readWidth / run.design.numerics.output) * 1.2)]!;
    return {
      traces: [trace(run, state, 'selected', 'stored flux')],
      quantity: FLUX,
      span: readSpan(run),
      truth: { kind: 'choose', right: choiceOf(Math.abs(end - state[0]!) / remanent(run), [0.5, 1.5]) },
      loop: loopOf(run),
      answers: [
        { name: 'Flux before the read', value: weber(state[0]!) },
        { name: 'Flux after it', value: weber(end) },
      ],
    };
  },
  meaning:
    'The core goes from one remanent state all the way to the other. The voltage that this change induces in the sense wire is the signal.',
};

/** Of a read by one line: how far the linkage moves elastically, and what stays changed after each, of the flux. */
export function halfSelected(times: number): { run: Simulation; elastic: number; lost: number } {
  const run = runOf(single, halfReads(times));
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
  title: 'One wire only',
  text: 'Now only one of the two wires carries its current. Whenever a core is read, every other core on its two lines is in just this position.',
  question: 'What does such a half-selected core do?',
  ask: {
    kind: 'choose',
    choices: [
      {
        text: 'It gives a little, and almost all of it springs back',
        whyNot: 'See how much of the flux is missing after the pulse.',
      },
      {
        text: 'It turns half-way and stays there',
        whyNot:
          'Half the current is not half the turning: below the knee hardly anything turns. Open it in Plan and raise one line’s current until it does.',
      },
      {
        text: 'It turns round, only later',
        whyNot:
          'It would have to pass the knee, and no time helps where the drive stays short of it. Make the read wider in Plan and look again.',
      },
    ],
  },
  design: single,
  compute() {
    const { run, elastic, lost } = halfSelected(1);
    return {
      traces: [trace(run, run.selected.state, 'half', 'stored flux, one wire only')],
      quantity: FLUX,
      span: readSpan(run),
      truth: { kind: 'choose', right: choiceOf(lost, [0.5, 1.5]) },
      loop: loopOf(run),
      answers: [
        { name: 'Gives elastically, of the remanent flux', value: percent(elastic) },
        { name: 'Loses for good, first time', value: percent(lost) },
        { name: 'Flux after', value: weber(run.selected.state.at(-1)!) },
      ],
    };
  },
  meaning:
    'The knee of the loop does the selecting: one current stays short of it, two together go well beyond. The elastic part goes into the spikes on the sense wire, with the coupling of the drive wires.',
};

const repeats: Step = {
  id: 'repeats',
  title: 'The same again, and again',
  text: 'A core may be half-selected thousands of times before it is read. The first time took a little of its flux.',
  question: 'How much of its remanent flux is gone after five half-reads, in per cent?',
  ask: {
    kind: 'number',
    unit: '%',
    within: 0.25,
    tooLow: 'It does lose more than at first: each pulse takes a little of what the one before has left.',
    tooHigh:
      'Not five times the first loss: what is easily moved goes first, and the losses die away. A mat would forget otherwise.',
  },
  design: single,
  compute() {
    const [one, five] = [halfSelected(1), halfSelected(5)];
    const { run, lost } = five;
    const gone = (of: Simulation): Float64Array => of.selected.state.map((flux) => remanent(of) - flux);
    return {
      traces: [
        trace(run, gone(run), 'half', 'in the fifth half-read'),
        trace(one.run, gone(one.run), 'selected', 'in the first half-read'),
      ],
      quantity: { symbol: 'Δφ', unit: 'Wb' },
      span: readSpan(run),
      truth: { kind: 'number', value: lost * 100 },
      loop: loopOf(run),
      answers: [
        { name: 'Gone after the first', value: percent(one.lost) },
        { name: 'After the fifth', value: percent(lost) },
        { name: 'After the twentieth', value: percent(halfSelected(20).lost) },
      ],
    };
  },
  meaning:
    'A disturbed core settles a little short of where it was. That is why handbooks tell a disturbed ONE and a disturbed ZERO apart from undisturbed ones.',
};

const writeBack: Step = {
  id: 'write-back',
  title: 'After the read',
  text: 'After a read the core holds a ZERO, whatever it held before. The second half of the cycle puts back what was read.',
  question: 'A ONE was read and is written back. Which way does the bell of the write point?',
  ask: {
    kind: 'choose',
    choices: [
      {
        text: 'The same way as that of the read',
        whyNot: 'The flux would have to go on rising. Watch the dot: it must come back where it came from.',
      },
      { text: 'The opposite way', whyNot: 'Compare the signs of the two numbers below.' },
      {
        text: 'There is no second bell',
        whyNot: 'Whatever turns the core is heard. Write a ZERO in Plan: then it is gone.',
      },
    ],
  },
  design: single,
  compute() {
    const run = runOf(single);
    const bell = run.contributions!.selectedCore;
    const { readWidth, gap, writeWidth } = run.design.cycle;
    const write = readWidth + gap;
    const first = bellOf(run).value;
    const second = extremeIn(run, bell, write + AFTER_EDGE, write + writeWidth * 0.9).value;
    return {
      traces: [trace(run, bell, 'selected', 'selected core')],
      quantity: VOLTAGE,
      span: [0, (write + writeWidth) * 1.15],
      truth: {
        kind: 'choose',
        right: Math.abs(second) < Math.abs(first) / 10 ? 2 : Math.sign(second) === Math.sign(first) ? 0 : 1,
      },
      answers: [
        { name: 'Bell of the read', value: volts(first) },
        { name: 'Bell of the write', value: volts(second) },
        { name: 'Time of the read’s peak', value: seconds(bellOf(run).time) },
      ],
    };
  },
  meaning:
    'The flux goes back the way it came, so the voltage has the other sign. Inhibit the write, and both this bell and the next read’s are gone.',
};

export const oneCore: Lesson = {
  id: 'one-core',
  title: 'One core',
  steps: [loop, half, repeats, writeBack],
};
