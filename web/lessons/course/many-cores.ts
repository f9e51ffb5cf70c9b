import { checkDesign } from '../../../engine/check/check-design.ts';
import { worstPattern } from '../../../engine/mat/stored-pattern.ts';
import { withValueAt, type RawDesign } from '../../model/pointer.ts';
import type { Lesson, Step } from '../step.ts';
import {
  AFTER_EDGE,
  choiceOf,
  grow,
  halfSelectedOf,
  peakIn,
  readSpan,
  runOf,
  trace,
  volts,
  VOLTAGE,
  withBit,
  bellOf,
} from './bench.ts';

const drown: Step = {
  id: 'drown',
  title: 'Add cores',
  text: 'On a mat of n × n cores each line passes n of them. A ZERO is read, so that nothing turns.',
  question:
    'From 4 × 4 to 16 × 16, what the half-selected cores give at most in that read grows by which factor?',
  ask: {
    kind: 'number',
    unit: '',
    within: 0.25,
    tooLow:
      'Count who is half-selected: all the others on both lines. Every one of them adds its own little answer.',
    tooHigh: 'Not all the cores of the mat count, only those on the two lines: rows and columns, less two.',
  },
  design: grow(16),
  compute() {
    const [small, large] = [runOf(grow(4), withBit(0)), runOf(grow(16), withBit(0))];
    const [a, b] = [small, large].map((run) =>
      peakIn(run, halfSelectedOf(run), 0, run.design.cycle.readWidth * 0.9),
    ) as [number, number];
    return {
      traces: [
        trace(large, large.senseVoltage, 'zero', 'ZERO, 16 × 16'),
        trace(small, small.senseVoltage, 'half', 'ZERO, 4 × 4'),
      ],
      quantity: VOLTAGE,
      span: readSpan(large),
      truth: { kind: 'number', value: b / a },
      answers: [
        { name: 'Half-selected cores', value: '6 and 30' },
        { name: 'At most, 4 × 4', value: volts(a) },
        { name: 'At most, 16 × 16', value: volts(b) },
        { name: 'Factor', value: (b / a).toPrecision(2) },
      ],
    };
  },
  meaning:
    'Every half-selected core adds its little elastic answer, and in one straight run they all add up: 30 over 6 is 5.',
};

const halves = withValueAt(grow(16), '/winding', { kind: 'shared-two-halves' });

const one: Step = {
  id: 'one-stays',
  title: 'And the ONE?',
  text: 'The same two mats; now the selected core holds a ONE. Look at the peak of its own bell, not at the spike.',
  question: 'From 4 × 4 to 16 × 16, that bell becomes…',
  ask: {
    kind: 'choose',
    choices: [
      {
        text: 'much smaller',
        whyNot:
          'It is still one core that turns, and the wire loses little on the way. What suffers is the room beneath it: look at the margin in Plan.',
      },
      { text: 'hardly different', whyNot: 'Compare the two numbers below.' },
      { text: 'larger', whyNot: 'More cores on the wire do not help it: the bell is that of one core.' },
    ],
  },
  design: grow(16),
  compute() {
    const [small, large] = [runOf(grow(4)), runOf(grow(16))];
    const [a, b] = [small, large].map((run) => Math.abs(bellOf(run).value)) as [number, number];
    return {
      traces: [
        trace(large, large.contributions!.selectedCore, 'selected', 'selected core, 16 × 16'),
        trace(small, small.contributions!.selectedCore, 'one', 'selected core, 4 × 4'),
      ],
      quantity: VOLTAGE,
      span: readSpan(large),
      truth: { kind: 'choose', right: choiceOf(b / a, [0.8, 1.2]) },
      answers: [
        { name: 'Bell, 4 × 4', value: volts(a) },
        { name: 'Bell, 16 × 16', value: volts(b) },
      ],
    };
  },
  meaning:
    'The signal stays; what lies beneath it grows. That is why a large mat fails by its ZEROs and by its spikes, not because its ONEs are weak.',
};

const cancel: Step = {
  id: 'cancel',
  title: 'Cancel with the winding',
  text: 'Let the wire pass half of the cores of every row and column the other way.',
  question:
    'On 16 × 16, with two halves instead of one run, what the half-selected cores give at most becomes…',
  ask: {
    kind: 'choose',
    choices: [
      {
        text: 'nothing',
        whyNot:
          'Count: the selected core is missing from its own half, so that 14 stand against 16. And ONEs answer a little more than ZEROs.',
      },
      { text: 'much smaller', whyNot: 'Compare the two numbers below.' },
      { text: 'just the same', whyNot: 'What is alike in both halves is heard with both signs, and goes.' },
    ],
  },
  design: halves,
  compute() {
    const [before, after] = [runOf(grow(16), withBit(0)), runOf(halves, withBit(0))];
    const [a, b] = [before, after].map((run) =>
      peakIn(run, halfSelectedOf(run), 0, run.design.cycle.readWidth * 0.9),
    ) as [number, number];
    return {
      traces: [
        trace(before, halfSelectedOf(before), 'half', 'one run'),
        trace(after, halfSelectedOf(after), 'direct', 'two halves'),
      ],
      quantity: VOLTAGE,
      span: readSpan(before),
      truth: { kind: 'choose', right: choiceOf(b / a, [0.01, 0.5]) },
      answers: [
        { name: 'Half-selected cores, one run', value: volts(a) },
        { name: 'Half-selected cores, two halves', value: volts(b) },
        { name: 'Which is a part of', value: (b / a).toPrecision(2) },
      ],
    };
  },
  meaning:
    'First there is the count: 14 against 16 of one kind, two cores that no one cancels. What is left beyond that depends on what the cores hold.',
};

type Held = 'zeros' | 'ones' | 'checkerboard' | 'signs';

/** The mat of two halves with a pattern stored; `signs`: ONE on one sign of the wire, ZERO on the other. */
function holding(pattern: Held): RawDesign {
  const { columns } = checkDesign(halves).mat;
  const bits = worstPattern(checkDesign(halves), 'one');
  const rows = Array.from({ length: bits.length / columns }, (_, r) =>
    bits.slice(r * columns, (r + 1) * columns).join(''),
  );
  return withValueAt(halves, '/stored', pattern === 'signs' ? { kind: 'custom', rows } : { kind: pattern });
}

const HELD = [
  ['zeros', 'zero', 'all ZERO'],
  ['ones', 'one', 'all ONE'],
  ['checkerboard', 'direct', 'a checkerboard'],
  ['signs', 'half', 'by the wire’s signs'],
] as const;

const hunt: Step = {
  id: 'pattern',
  title: 'Hunt for the worst pattern',
  text: 'A half-selected ONE answers a little more than a half-selected ZERO, and goes on a little longer. Half of the cores are heard with the other sign. Look at what is left once the edge is over, when the strobe comes.',
  question: 'Which stored pattern leaves most on the wire of two halves then?',
  ask: {
    kind: 'choose',
    choices: [
      {
        text: 'All ZERO',
        whyNot: 'All alike: both halves give the same and it goes, but for the count of two.',
      },
      {
        text: 'All ONE',
        whyNot: 'All alike again, each a little louder: both halves still cancel, but for two cores.',
      },
      {
        text: 'A checkerboard',
        whyNot:
          'In every half as many ONEs as ZEROs: they cancel as well. It is the worst pattern only of a wire whose signs alternate as it does.',
      },
      { text: 'ONE on one sign of the wire, ZERO on the other', whyNot: 'Compare the four numbers below.' },
    ],
  },
  design: holding('signs'),
  compute() {
    const runs = HELD.map(([pattern]) => runOf(holding(pattern), withBit(0)));
    const most = runs.map((run) => peakIn(run, halfSelectedOf(run), AFTER_EDGE, 400e-9));
    return {
      // The checkerboard's line lies on that of all ONE.
      traces: [0, 1, 3].map((k) => trace(runs[k]!, halfSelectedOf(runs[k]!), HELD[k]![1], HELD[k]![2])),
      quantity: VOLTAGE,
      span: [0, 400e-9],
      truth: { kind: 'choose', right: most.indexOf(Math.max(...most)) },
      answers: HELD.map(([, , name], k) => ({
        name: `At most after 120 ns, ${name}`,
        value: volts(most[k]!),
      })),
    };
  },
  meaning:
    'The difference between ONEs and ZEROs, called delta noise, does not cancel where the pattern follows the winding’s own signs. Every winding has a worst pattern of its own.',
};

export const manyCores: Lesson = {
  id: 'many-cores',
  title: 'Many cores on one wire',
  steps: [drown, one, cancel, hunt],
};
