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
} from './bench.ts';

const drawIt: Step = {
  id: 'draw',
  title: 'Draw what you expect',
  text: 'The board has 16 cores, all ZERO but one. Both lines of that core switch on within 40 ns and stay on for 800 ns; the sense wire passes through every core. At this core’s place the sign of the wire is such that a ONE is heard upward.',
  question: 'Draw the voltage of the sense wire over the first 600 ns of the read.',
  ask: {
    kind: 'draw',
    at: [0, 20e-9, 60e-9, 120e-9, 180e-9, 240e-9, 300e-9, 400e-9, 600e-9],
    most: 0.16,
  },
  design: board,
  compute() {
    const run = runOf(board);
    const sign = Math.sign(bellOf(run).value);
    const heard = run.senseVoltage.map((value) => value * sign);
    const edge = peakIn(run, heard, 0, AFTER_EDGE / 2);
    const bell = bellOf(run);
    return {
      traces: [trace(run, heard, 'one', 'the wire, a ONE')],
      quantity: VOLTAGE,
      span: [0, 600e-9],
      truth: { kind: 'draw', curve: trace(run, heard, 'one', 'the wire, a ONE') },
      answers: [
        { name: 'Spike on the edge', value: volts(edge) },
        { name: 'Bell', value: `${volts(Math.abs(bell.value))} at ${seconds(bell.time)}` },
      ],
    };
  },
  meaning:
    'Two things, one after the other: a spike while the currents rise, then the bell of the one core that turns. The bell is the signal.',
};

const spike: Step = {
  id: 'hears',
  title: 'What the spike is made of',
  text: 'The wire hears the selected core, and it hears everything else that moves.',
  question: 'In the first 60 ns of the read, which is the largest part of the voltage?',
  ask: {
    kind: 'choose',
    choices: [
      {
        text: 'The selected core’s bell',
        whyNot:
          'It has hardly begun to turn. Drag the reading line in Plan to 20 ns and look at the lane of causes.',
      },
      {
        text: 'Coupling from the drive wires, and the half-selected cores',
        whyNot: 'Compare the two numbers below.',
      },
      { text: 'Inhibit', whyNot: 'Nothing inhibits during a read; its pulse belongs to the write.' },
    ],
  },
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
        trace(run, half, 'half', 'half-selected cores'),
        trace(run, parts.directCoupling, 'direct', 'direct coupling'),
        trace(run, parts.selectedCore, 'selected', 'selected core'),
      ],
      quantity: VOLTAGE,
      span: readSpan(run),
      truth: { kind: 'choose', right: own >= rest && own >= inhibit ? 0 : rest >= inhibit ? 1 : 2 },
      answers: [
        { name: 'Selected core, first 60 ns', value: volts(own) },
        { name: 'Coupling and half-selected cores', value: volts(rest) },
        { name: 'Selected core’s bell later', value: volts(bellOf(run).value) },
      ],
    };
  },
  meaning:
    'All of that lives on the slopes of the currents: it comes with the edges and goes with them. The bell does not.',
};

const late: Step = {
  id: 'late',
  title: 'Why the bell comes late',
  text: 'The current stands at its full value after 40 ns, and the core’s bell has its peak long after that.',
  question: 'With a tenth more current in both lines, the peak of the bell comes…',
  ask: {
    kind: 'choose',
    choices: [
      {
        text: 'earlier, and higher',
        whyNot: 'Compare the three runs below.',
      },
      {
        text: 'at the same time, and higher',
        whyNot:
          'The delay is not that of the current: the core turns at a speed that goes with the drive beyond its threshold.',
      },
      {
        text: 'later, since there is more to turn',
        whyNot: 'There is just as much flux to turn, and it is turned faster.',
      },
    ],
  },
  design: driven(410),
  compute() {
    const runs = [330, 370, 410].map((milliamperes) => runOf(driven(milliamperes)));
    return {
      ...compareBells(runs, ['330 mA', '370 mA', '410 mA']),
      truth: { kind: 'choose', right: orderOfBells(runs[1]!, runs[2]!) },
    };
  },
  meaning:
    'How fast a core turns follows the drive beyond its threshold. Area is flux, and the flux is the same: a bell that is twice as high is half as wide, and sooner over. This is why the strobe comes late, and why it must follow the drive.',
};

const zero: Step = {
  id: 'zero',
  title: 'And if it held a ZERO?',
  text: 'The same read, the same currents; the selected core stands already where the read would take it.',
  question: 'What does the wire show of a ZERO?',
  ask: {
    kind: 'choose',
    choices: [
      {
        text: 'Nothing at all',
        whyNot:
          'Only what turns for good is missing. Everything on the slopes of the currents is still there.',
      },
      { text: 'The spike, without the bell', whyNot: 'Compare the two numbers below.' },
      {
        text: 'The same bell upside down',
        whyNot:
          'That is the write of a ONE. A core cannot go further than the end of its loop: open it in Plan and look at the ring.',
      },
    ],
  },
  design: board,
  compute() {
    const [one, none] = [runOf(board, withBit(1)), runOf(board, withBit(0))];
    const sign = Math.sign(bellOf(one).value);
    const upright = [one, none].map(({ senseVoltage }) => senseVoltage.map((value) => value * sign));
    const edge = peakIn(none, none.senseVoltage, 0, AFTER_EDGE / 2);
    const bell = bellOf(none).value;
    const much = Math.abs(bellOf(one).value) / 5;
    return {
      traces: [trace(one, upright[0]!, 'one', 'ONE'), trace(none, upright[1]!, 'zero', 'ZERO')],
      quantity: VOLTAGE,
      span: [0, 600e-9],
      truth: { kind: 'choose', right: Math.abs(bell) > much ? 2 : choiceOf(edge, [much]) },
      answers: [
        { name: 'Spike of a ZERO', value: volts(edge) },
        { name: 'Left where the bell of a ONE has its peak', value: volts(bell) },
      ],
    };
  },
  meaning:
    'ONE and ZERO differ only where the bell is. Before it they are alike, and after it too: there is one stretch in which a latch can tell them apart.',
};

export const whatIsHeard: Lesson = {
  id: 'what-is-heard',
  title: 'What the wire hears',
  steps: [drawIt, spike, late, zero],
};
