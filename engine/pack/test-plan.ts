import type { Design } from '../design/design.ts';
import { buildNumbers } from '../estimates/build-numbers.ts';
import { driveNeeds } from '../estimates/drive-needs.ts';
import { estimateRecovery } from '../estimates/recovery.ts';
import type { StrobeWindow } from '../strobe/window-result.ts';
import type { ExpectedTraces } from './expected-traces.ts';
import { beforePower, drivesAlone } from './plan-drives.ts';
import { type PlanStep, q, q3 } from './plan-step.ts';

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
