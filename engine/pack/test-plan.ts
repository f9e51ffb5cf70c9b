import { formatQuantity } from '../base/format-quantity.ts';
import type { Design } from '../design/design.ts';
import { driveLevels } from '../drive/at-temperature.ts';
import { buildNumbers } from '../estimates/build-numbers.ts';
import { driveNeeds } from '../estimates/drive-needs.ts';
import { estimateRecovery } from '../estimates/recovery.ts';
import type { StrobeWindow } from '../strobe/window-result.ts';
import type { ExpectedTraces } from './expected-traces.ts';

/** One thing to do at first power-up, in this order. */
export interface PlanStep {
  readonly title: string;
  readonly act: string;
  /** What should be seen, with limits. */
  readonly expect: string;
  /** When to switch off and look, before anything else is tried. */
  readonly stop: string;
  /** Which expected trace belongs to it. */
  readonly trace?: keyof ExpectedTraces;
}

const q = formatQuantity;
const q3 = (value: number, unit: Parameters<typeof formatQuantity>[1]): string => q(value, unit, 3);

/** Marches and boards that find what a single read does not; r reads, w writes, up and down through the addresses. */
const MARCH = 'up: w0 · up: r0 w1 · up: r1 w0 · down: r0 w1 · down: r1 w0 · down: r0';

export function testPlan(design: Design, window: StrobeWindow, traces: ExpectedTraces): readonly PlanStep[] {
  return [
    ...beforePower(),
    ...drivesAlone(design),
    ...firstReads(design, window, traces),
    ...theWhole(design, window),
  ];
}

function beforePower(): PlanStep[] {
  return [
    {
      title: 'Look',
      act: 'With a lens: every core present, whole and leaning as drawn; every wire through every core; no enamel scraped.',
      expect: 'Every box of the threading sheet is ticked.',
      stop: 'A core cracked or leaning the other way: mend it now, it cannot be reached later.',
    },
    {
      title: 'Continuity and insulation',
      act: 'Ohm meter, leads shorted first and taken off. Each wire end to end; then each wire to every other and to the board.',
      expect:
        'Each wire within the limits of the threading sheet; over 10 MΩ between any two wires that do not meet.',
      stop: 'Under 10 MΩ: the enamel is through at a core. Use no insulation tester above the supply voltage.',
    },
  ];
}

function drivesAlone(design: Design): PlanStep[] {
  const { supply, drive, tolerances, cycle } = design;
  const levels = driveLevels(design);
  const within = (value: number): string => {
    const spread = 3 * tolerances.drive * value;
    return `${q3(value, 'A')} ± ${q(spread, 'A', 2)}`;
  };
  const x = driveNeeds(design)[0]!;
  const slow = 100 * cycle.period;
  return [
    {
      title: 'Supply alone',
      act: `Supply at ${q3(supply.voltage, 'V')}, its current limited to ${q(1.5 * supply.quiescent, 'A', 2)}. Logic idle, no pulses.`,
      expect: `${q(supply.quiescent, 'A', 2)} at rest, give or take a fifth. No line carries current.`,
      stop: `Over ${q(1.5 * supply.quiescent, 'A', 2)}, or any line warm: a driver is on.`,
    },
    {
      title: 'Timing into dummies',
      act: 'A resistor in place of every line under test. Every edge of the timing sheet on two probes, against the X read edge.',
      expect:
        'Every half-amplitude instant within its tolerance; the inhibit covers the write on both sides.',
      stop: 'Read and write drivers of one line on together.',
    },
    {
      title: 'One X line',
      act: `One X line alone, read pulses only, one cycle each ${q3(slow, 's')}. Current on a 1 Ω resistor or a current probe; voltage across the line.`,
      expect: `${within(levels.x.read)} within ${q3(drive.x.rise, 's')}; ${q(x.onEdge, 'V', 2)} on the edge, ${q(x.onTop, 'V', 2)} at most after it.`,
      stop: `Over ${q3(1.1 * levels.x.read, 'A')}, over ${q3(drive.x.clamp, 'V')} at turn-off, or a current that does not end.`,
    },
    {
      title: 'Every other line',
      act: 'The same with every X and every Y line, one after the other.',
      expect: `X ${within(levels.x.read)} and Y ${within(levels.y.read)}; a line that stands apart from the rest is looked at, even inside these limits.`,
      stop: 'One line slower than the rest: a short, or too many cores; one faster: an open return.',
    },
  ];
}

function firstReads(design: Design, window: StrobeWindow, traces: ExpectedTraces): PlanStep[] {
  const { inForce, margin } = window;
  const least = inForce.threshold + margin.one;
  const greatest = inForce.threshold - margin.zero;
  const peak = (trace: ExpectedTraces[keyof ExpectedTraces]): string => {
    const ends = [trace.low, trace.high].map((t) => t.reduce((m, v) => Math.max(m, Math.abs(v)), 0));
    return `${q(Math.min(...ends), 'V', 2)} to ${q(Math.max(...ends), 'V', 2)}`;
  };
  const recovery = estimateRecovery(design);
  const inhibit = driveNeeds(design)[2]!;
  return [
    {
      title: 'One X line on the sense wire',
      act: 'Both ends of the sense wire on two equal probes, their difference shown; the line of the selected address, read alone.',
      expect: `The trace below: a spike on each edge, at most ${peak(traces.halfSelect)} over the bands, and no bell after it.`,
      stop: 'A bell: half-select current switches cores; lower the drive.',
      trace: 'halfSelect',
    },
    {
      title: 'A ZERO, then a ONE',
      act: 'Both lines of one address. Read twice without a write: the second read is a ZERO. Then read and write in turn: each read is a ONE.',
      expect: `At ${q3(inForce.time, 's')} after the start of read: a ONE of at least ${q3(least, 'V')}, a ZERO of at most ${q3(greatest, 'V')} at the wire.`,
      stop: 'No difference between the two: the two currents oppose each other in this core, or do not overlap. Turn one line round.',
      trace: 'read',
    },
    {
      title: 'Signs',
      act: 'A ONE at every address.',
      expect: 'Its sign at each address is that of the threading sheet.',
      stop: 'One address of the other sign: its core leans the wrong way or the wire enters it backwards. A whole half: its ends are exchanged.',
    },
    {
      title: 'Inhibit',
      act: 'Write with inhibit at one address, then read. First at a tenth of the rate.',
      expect: `The next read is a ZERO. The wire takes ${q(inhibit.onEdge, 'V', 2)} on the edge and ${q(inhibit.onTop, 'V', 2)} after it; ${q(recovery.time, 's', 2)} after its end ${q(recovery.target, 'V', 2)} are left.`,
      stop: 'A ONE of half size: inhibit too weak or too late. Cores that had a ONE lose it: inhibit too strong.',
    },
    {
      title: 'Magnet',
      act: 'Hold a small magnet to the selected core while it reads ONE.',
      expect:
        'Its bell goes, in the read and in the write; the spikes of the edges stay. Taken away, the next write brings it back.',
      stop: 'Nothing changes: another core answers; addresses are exchanged.',
      trace: 'magnet',
    },
  ];
}

function theWhole(design: Design, window: StrobeWindow): PlanStep[] {
  const { strobe, threshold, inForce, corners } = window;
  const build = buildNumbers(design);
  const { mat, tolerances } = design;
  const words = mat.rows * mat.columns;
  const range = (band: { start: number; end: number } | undefined): string =>
    band
      ? `right reads from ${q3(band.start, 's')} to ${q3(band.end, 's')}`
      : 'no strobe at which every read is right';
  return [
    {
      title: 'Strobe and threshold',
      act: `Worst pattern stored. Move the strobe at ${q3(inForce.threshold, 'V')}, then the threshold at ${q3(inForce.time, 's')}, to where reads go wrong.`,
      expect: `Of the strobe: ${range(strobe)}. Of the threshold: ${threshold ? `right reads from ${q3(threshold.low, 'V')} to ${q3(threshold.high, 'V')}` : 'none at which every read is right'}.`,
      stop: 'A window less than half as wide: measure a ONE and a ZERO, and fit them before going on.',
    },
    {
      title: 'March',
      act: `${words} addresses, ${MARCH}. Then a checkerboard and its complement, each read after a thousand half-selects of its rows.`,
      expect: `${10 * words} operations and no wrong bit.`,
      stop: 'Wrong bits in one row or column: its driver. At one address: its core. Everywhere at random: noise, strobe or threshold.',
    },
    {
      title: 'Drive, supply and warmth',
      act: `March again with every drive ${q(2 * tolerances.drive * 100, '1', 2)} % low and high, the supply ${q(tolerances.supply * 100, '1', 2)} % low and high, and at ${q3(design.temperature - tolerances.temperature, '°C')} and ${q3(design.temperature + tolerances.temperature, '°C')}.`,
      expect: corners
        ? `At these corners ${q(corners.margin.left, 'V', 2)} of margin are expected, and ${range(corners.strobe)}.`
        : 'No wrong bit.',
      stop: 'Wrong bits only when warm: half-select; only when cold: the ONE is late.',
    },
    {
      title: 'Rate',
      act: `March while the period goes from ${q3(10 * design.cycle.period, 's')} down to ${q3(design.cycle.period, 's')}, watching supply current and the temperature of drivers.`,
      expect: `${q(build.supplyCurrent.atRate, 'A', 2)} on average with every bit ZERO; the least period is about ${q3(1 / build.highestRate, 's')}.`,
      stop: `Over ${q3(design.supply.budget, 'A')}, a driver too hot to touch, or wrong bits that go when the gap is lengthened.`,
    },
  ];
}
