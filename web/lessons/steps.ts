import { formatQuantity } from '../../engine/base/format-quantity.ts';
import { checkDesign } from '../../engine/check/check-design.ts';
import { atTemperature } from '../../engine/core/model.ts';
import type { Design } from '../../engine/design/design.ts';
import { driversWithInhibit, driversWithoutInhibit } from '../../engine/estimates/driver-counts.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import type { Simulation } from '../../engine/solver/result.ts';
import { runEnsemble } from '../../engine/strobe/ensemble.ts';
import { windowOf } from '../../engine/strobe/window-of.ts';
import { withValueAt, type RawDesign } from '../model/pointer.ts';
import type { Step, StepLoop, StepTrace } from './step.ts';

/** A board of sixteen cores; every step changes one thing about it. Invented. */
const board: RawDesign = {
  name: 'Learning board',
  note: 'Invented: a small mat for the guided sequence.',
  core: { preset: 'ferrite-30-mil' },
  mat: { rows: 4, columns: 4, pitch: '3 mm' },
  winding: { kind: 'shared-one-run' },
  stored: { kind: 'zeros' },
  selected: { row: 1, column: 2, bit: 1 },
  cycle: { period: '4 us', readWidth: '800 ns', gap: '400 ns', writeWidth: '800 ns' },
};

const single = withValueAt(withValueAt(board, '/mat', { rows: 1, columns: 1, pitch: '3 mm' }), '/selected', {
  row: 0,
  column: 0,
  bit: 1,
});

const volts = (value: number): string =>
  Math.abs(value) < 1e-6 ? 'under 1 µV' : formatQuantity(value, 'V', 3);
const weber = (value: number): string => formatQuantity(value, 'Wb', 3);

function runOf(raw: RawDesign, change: (design: Design) => Design = (design) => design): Simulation {
  return simulate(change(checkDesign(raw)), { estimateError: false });
}

const withBit =
  (bit: 0 | 1) =>
  (design: Design): Design => ({ ...design, selected: { ...design.selected, bit } });

/** Greatest size within [from, to], V. */
function peak(run: Simulation, values: Float64Array, from: number, to: number): number {
  let most = 0;
  run.time.forEach((t, i) => {
    if (t >= from && t <= to) most = Math.max(most, Math.abs(values[i]!));
  });
  return most;
}

/** Within the read, after its first edge has died away. */
const AFTER_EDGE = 120e-9;

function trace(run: Simulation, values: Float64Array, style: StepTrace['style'], label: string): StepTrace {
  return { label, style, time: run.time, values };
}

function loopOf({ design, selected: { drive, state } }: Simulation): StepLoop {
  return { core: atTemperature(design.core.parameters, design.temperature), drive, state };
}

const readSpan = (run: Simulation): readonly [number, number] => [0, run.design.cycle.readWidth * 1.3];
const u = { symbol: 'u', unit: 'V' };

const coreLoop: Step = {
  id: 'loop',
  title: 'One core and its loop',
  text: 'A ferrite ring remembers which way it was last magnetised. Two wires pass through it; each brings half of the current that it takes to turn it round.',
  question: 'The core holds a ONE and both wires carry read current. By how much does its flux change?',
  choices: ['Not at all', 'By about its remanent flux', 'By about twice its remanent flux'],
  design: single,
  compute() {
    const run = runOf(single);
    const { state } = run.selected;
    const end = state[Math.round((run.design.cycle.readWidth / run.design.numerics.output) * 1.2)]!;
    const turned = Math.abs(end - state[0]!) / run.design.core.parameters.remanentFlux;
    return {
      traces: [trace(run, state, 'selected', 'stored flux')],
      quantity: { symbol: 'φ', unit: 'Wb' },
      span: readSpan(run),
      right: turned < 0.5 ? 0 : turned < 1.5 ? 1 : 2,
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

const halfSelect: Step = {
  id: 'half-select',
  title: 'Half is not enough',
  text: 'Now only one of the two wires carries current. Every other core on that wire is in just this position whenever any core is read.',
  question: 'What does a half-selected core do?',
  choices: [
    'It turns half-way and stays there',
    'It gives a little and springs back',
    'It turns round, only later',
  ],
  design: single,
  compute() {
    const run = runOf(single, (design) => ({
      ...design,
      programme: [{ ...design.programme.at(-1)!, lines: 'x', write: 'none' as const }],
    }));
    const { state } = run.selected;
    const lost = Math.abs(state.at(-1)! - state[0]!) / run.design.core.parameters.remanentFlux;
    return {
      traces: [trace(run, state, 'half', 'stored flux, one wire only')],
      quantity: { symbol: 'φ', unit: 'Wb' },
      span: readSpan(run),
      right: lost > 1.5 ? 2 : lost > 0.5 ? 0 : 1,
      loop: loopOf(run),
      answers: [
        { name: 'Flux before', value: weber(state[0]!) },
        { name: 'Flux after', value: weber(state.at(-1)!) },
        { name: 'Lost, of the remanent flux', value: `${(lost * 100).toPrecision(2)} %` },
      ],
    };
  },
  meaning:
    'The knee of the loop does the selecting: half the current stays short of it, twice the half goes well beyond.',
};

const writeBack: Step = {
  id: 'write-back',
  title: 'Reading destroys, so write back',
  text: 'After a read the core holds a ZERO whatever it held before. The second half of the cycle reverses both currents.',
  question: 'A ONE was read and is written back. Which way does the second bell point?',
  choices: ['The same way as the first', 'The opposite way', 'There is no second bell'],
  design: single,
  compute() {
    const run = runOf(single);
    const bell = run.contributions!.selectedCore;
    const { readWidth, gap, writeWidth } = run.design.cycle;
    const largest = (from: number, to: number) => {
      let best = 0;
      run.time.forEach((t, i) => {
        if (t >= from && t <= to && Math.abs(bell[i]!) > Math.abs(best)) best = bell[i]!;
      });
      return best;
    };
    const first = largest(AFTER_EDGE, readWidth * 0.9);
    const second = largest(readWidth + gap + AFTER_EDGE, readWidth + gap + writeWidth * 0.9);
    return {
      traces: [trace(run, bell, 'selected', 'selected core')],
      quantity: u,
      span: [0, (readWidth + gap + writeWidth) * 1.15],
      right: Math.abs(second) < Math.abs(first) / 10 ? 2 : Math.sign(second) === Math.sign(first) ? 0 : 1,
      answers: [
        { name: 'Bell of the read', value: volts(first) },
        { name: 'Bell of the write', value: volts(second) },
      ],
    };
  },
  meaning:
    'The flux goes back the way it came, so the voltage has the other sign. Inhibit it, and both this bell and the next read’s are gone.',
};

const stackOf12 = withValueAt(board, '/mat', { rows: 32, columns: 32, mats: 12, pitch: '1 mm' });

const drivers: Step = {
  id: 'drivers',
  title: 'Why an inhibit wire',
  text: 'Twelve mats share their X and Y lines, one mat for each bit of the word. A write would put a ONE into all twelve. One wire for each mat carries a current that takes half of the drive away again where a ZERO belongs.',
  question: 'How many drivers does a word of 12 bits in mats of 32 × 32 need without inhibit wires?',
  choices: ['About as many as with them', 'About twice as many', 'About ten times as many'],
  design: stackOf12,
  compute() {
    const { rows, columns, mats } = checkDesign(stackOf12).mat;
    const withInhibit = driversWithInhibit(rows, columns, mats);
    const without = driversWithoutInhibit(rows, columns, mats);
    const ratio = without / withInhibit;
    const run = runOf(board, withBit(0));
    return {
      traces: [
        trace(run, run.currents.x, 'selected', 'X'),
        trace(run, run.currents.inhibit, 'inhibit', 'inhibit'),
      ],
      quantity: { symbol: 'i', unit: 'A' },
      span: [0, 3e-6],
      right: ratio < 1.5 ? 0 : ratio < 4 ? 1 : 2,
      answers: [
        { name: 'With inhibit: rows + columns + bits', value: String(withInhibit) },
        { name: 'Without: (rows + columns) × bits', value: String(without) },
      ],
    };
  },
  meaning:
    'The chart shows the currents of one mat of the learning board while it writes a ZERO: inhibit covers the write pulse at both ends.',
};

const hears: Step = {
  id: 'hears',
  title: 'What the sense wire hears',
  text: 'The wire passes through every core of the mat. It hears the selected core, and it hears everything else that moves.',
  question: 'In the first instants of a read, which is the largest part of the voltage?',
  choices: [
    'The selected core’s bell',
    'What is not the selected core: coupling and half-selected cores',
    'Inhibit',
  ],
  design: board,
  compute() {
    const run = runOf(board);
    const parts = run.contributions!;
    const halfSelected = parts.halfSelectedReversible.map(
      (value, i) => value + parts.halfSelectedIrreversible[i]!,
    );
    const other = parts.directCoupling.map((value, i) => value + halfSelected[i]!);
    const edge = AFTER_EDGE / 2;
    const [own, rest, inhibit] = [parts.selectedCore, other, parts.inhibit].map((values) =>
      peak(run, values, 0, edge),
    ) as [number, number, number];
    return {
      traces: [
        trace(run, halfSelected, 'half', 'half-selected cores'),
        trace(run, parts.directCoupling, 'direct', 'direct coupling'),
        trace(run, parts.selectedCore, 'selected', 'selected core'),
      ],
      quantity: u,
      span: readSpan(run),
      right: own >= rest && own >= inhibit ? 0 : rest >= inhibit ? 1 : 2,
      answers: [
        { name: 'Selected core, first instants', value: volts(own) },
        { name: 'Coupling and half-selected cores', value: volts(rest) },
        {
          name: 'Selected core’s bell later',
          value: volts(peak(run, parts.selectedCore, AFTER_EDGE, run.design.cycle.readWidth * 0.9)),
        },
      ],
    };
  },
  meaning:
    'The spike comes with the edges and goes with them. The bell comes later. That is why the strobe waits.',
};

const grow = (n: number): RawDesign => withValueAt(board, '/mat', { rows: n, columns: n, pitch: '3 mm' });

const drown: Step = {
  id: 'drown',
  title: 'Add cores and watch the signal drown',
  text: 'The selected core’s bell stays what it is. The half-selected cores are as many as rows and columns, less two.',
  question:
    'From 4 × 4 to 16 × 16, what the half-selected cores add to a stored ZERO in the read grows, at its greatest, about…',
  choices: ['not at all', 'twofold', 'several-fold, as the half-selected cores do'],
  design: grow(16),
  compute() {
    const small = runOf(grow(4), withBit(0));
    const large = runOf(grow(16), withBit(0));
    const [a, b] = [small, large].map((run) =>
      peak(run, run.contributions!.halfSelectedReversible, 0, run.design.cycle.readWidth * 0.9),
    ) as [number, number];
    const ratio = b / a;
    return {
      traces: [
        trace(large, large.senseVoltage, 'zero', 'ZERO, 16 × 16'),
        trace(small, small.senseVoltage, 'half', 'ZERO, 4 × 4'),
      ],
      quantity: u,
      span: readSpan(large),
      right: ratio < 1.5 ? 0 : ratio < 3.5 ? 1 : 2,
      answers: [
        { name: 'Half-selected cores', value: '6 and 30' },
        { name: 'Greatest of what they add, 4 × 4', value: volts(a) },
        { name: 'Greatest of what they add, 16 × 16', value: volts(b) },
        { name: 'Ratio', value: ratio.toPrecision(2) },
      ],
    };
  },
  meaning:
    'Every half-selected core adds its little elastic answer, and in one straight run they all add up.',
};

const halves = withValueAt(grow(16), '/winding', { kind: 'shared-two-halves' });

const cancel: Step = {
  id: 'cancel',
  title: 'Cancel with the winding',
  text: 'Let the wire pass half of the cores of every row and column the other way. What is the same in both halves then subtracts.',
  question: 'With two halves instead of one run, the half-selected cores’ spike becomes…',
  choices: ['larger', 'much smaller', 'just the same'],
  design: halves,
  compute() {
    const sum = (run: Simulation) => {
      const parts = run.contributions!;
      return parts.halfSelectedReversible.map((value, i) => value + parts.halfSelectedIrreversible[i]!);
    };
    const before = runOf(grow(16), withBit(0));
    const after = runOf(halves, withBit(0));
    const [a, b] = [before, after].map((run) => peak(run, sum(run), 0, run.design.cycle.readWidth * 0.9)) as [
      number,
      number,
    ];
    return {
      traces: [
        trace(before, sum(before), 'half', 'one run'),
        trace(after, sum(after), 'direct', 'two halves'),
      ],
      quantity: u,
      span: readSpan(before),
      right: b > 1.1 * a ? 0 : b < 0.5 * a ? 1 : 2,
      answers: [
        { name: 'Half-selected cores, one run', value: volts(a) },
        { name: 'Half-selected cores, two halves', value: volts(b) },
      ],
    };
  },
  meaning:
    'What is left depends on what the cores hold: a half-selected ONE answers a little more than a ZERO. That is why patterns matter.',
};

const place: Step = {
  id: 'strobe',
  title: 'Place the strobe',
  text: 'The latch looks once. Too early and the spike is still there, too late and the bell is gone.',
  question: 'Where is the best instant on this board?',
  choices: ['Right at the read edge', 'On the bell, after the spike', 'After the read has ended'],
  design: board,
  compute() {
    const design = checkDesign(board);
    const ensemble = runEnsemble(design, { simulate, cases: 'quick' });
    if (!('envelope' in ensemble)) throw new Error('The strobe of the learning board could not be judged.');
    const window = windowOf(ensemble, { time: undefined, threshold: design.detector.threshold });
    const at = window.inForce.time;
    const run = runOf(board);
    const { time, one, zero } = ensemble.envelope;
    return {
      traces: [
        { label: 'least ONE', style: 'one', time, values: one },
        { label: 'greatest ZERO', style: 'zero', time, values: zero },
      ],
      quantity: u,
      span: readSpan(run),
      place: {
        strobe: at,
        threshold: design.detector.threshold,
        strobeZones: window.intervals.map(({ start, end }) => ({ from: start, to: end })),
      },
      right: at < 50e-9 ? 0 : at < design.cycle.readWidth ? 1 : 2,
      answers: [
        { name: 'Best instant', value: formatQuantity(at, 's', 3) },
        {
          name: 'Window',
          value: window.strobe
            ? `${formatQuantity(window.strobe.start, 's', 3)} to ${formatQuantity(window.strobe.end, 's', 3)}`
            : 'none',
        },
        { name: 'Margin there', value: volts(Math.min(window.margin.one, window.margin.zero)) },
      ],
    };
  },
  meaning:
    'The window is where the least ONE is over the threshold and the greatest ZERO under it, with room for all that is not known exactly.',
};

const recover: Step = {
  id: 'recover',
  title: 'Recover from inhibit',
  text: 'The wire that just carried hundreds of milliamperes of inhibit current must soon hear some tens of millivolts.',
  question: 'How does the inhibit pulse’s voltage compare with the signal?',
  choices: ['Smaller', 'About as large', 'Many times as large'],
  design: board,
  compute() {
    const run = runOf(board, withBit(0));
    const signal = runOf(board);
    const bell = peak(
      signal,
      signal.contributions!.selectedCore,
      AFTER_EDGE,
      signal.design.cycle.readWidth * 0.9,
    );
    const pulse = peak(run, run.contributions!.inhibit, 0, run.time.at(-1)!);
    const ratio = pulse / bell;
    return {
      traces: [
        trace(run, run.contributions!.inhibit, 'inhibit', 'inhibit'),
        trace(signal, signal.contributions!.selectedCore, 'selected', 'selected core, ONE'),
      ],
      quantity: u,
      span: [0, run.time.at(-1)!],
      right: ratio < 0.7 ? 0 : ratio < 3 ? 1 : 2,
      answers: [
        { name: 'Inhibit on the wire', value: volts(pulse) },
        { name: 'The ONE’s bell', value: volts(bell) },
        { name: 'Ratio', value: ratio.toPrecision(2) },
      ],
    };
  },
  meaning:
    'The next read must wait until the rest of it has died away: that sets how fast the memory can run.',
};

const held = withValueAt(single, '/exceptions', [{ row: 0, column: 0, bias: '2 A' }]);

const magnet: Step = {
  id: 'magnet',
  title: 'A magnet on one core',
  text: 'Hold a magnet to the selected core so that it cannot turn.',
  question: 'What is left of its two bells?',
  choices: ['Both vanish', 'Only the read’s vanishes', 'Both stay'],
  design: held,
  compute() {
    const free = runOf(single);
    const kept = runOf(held);
    const { readWidth, gap, writeWidth } = free.design.cycle;
    const bells = (run: Simulation) => [
      peak(run, run.contributions!.selectedCore, AFTER_EDGE, readWidth * 0.9),
      peak(
        run,
        run.contributions!.selectedCore,
        readWidth + gap + AFTER_EDGE,
        readWidth + gap + writeWidth * 0.9,
      ),
    ];
    const [freeRead, freeWrite] = bells(free) as [number, number];
    const [keptRead, keptWrite] = bells(kept) as [number, number];
    const gone = (now: number, before: number) => now < 0.1 * before;
    return {
      traces: [
        trace(free, free.contributions!.selectedCore, 'selected', 'free'),
        trace(kept, kept.contributions!.selectedCore, 'direct', 'held by the magnet'),
      ],
      quantity: u,
      span: [0, (readWidth + gap + writeWidth) * 1.15],
      loop: loopOf(kept),
      right: gone(keptRead, freeRead) && gone(keptWrite, freeWrite) ? 0 : gone(keptRead, freeRead) ? 1 : 2,
      answers: [
        { name: 'Read bell, free and held', value: `${volts(freeRead)} and ${volts(keptRead)}` },
        { name: 'Write bell, free and held', value: `${volts(freeWrite)} and ${volts(keptWrite)}` },
      ],
    };
  },
  meaning:
    'Only its small elastic answer on the edges remains: a test for any core of a real mat, with nothing but a magnet.',
};

/** The guided sequence in its order. */
export const STEPS: readonly Step[] = [
  coreLoop,
  halfSelect,
  writeBack,
  drivers,
  hears,
  drown,
  cancel,
  place,
  recover,
  magnet,
];
