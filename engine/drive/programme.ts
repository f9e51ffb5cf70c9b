import type { Design } from '../design/design.ts';
import type { Cycle, LineDrive } from '../design/drive.ts';
import { driveFactor, driveLevels } from './at-temperature.ts';
import { edgeFraction, halfTime, type Edge } from './edge.ts';
import { measuredPulse, type MeasuredPulse } from './measured-pulse.ts';
import { longestPulse, pulseWidth } from './pulse-widths.ts';

/** A current moves; currents stand; none is driven. */
export type DriveActivity = 'edge' | 'hold' | 'calm';

/** One pulse of a waveform. Times in s from the start of the cycle. */
export interface DrivePulse {
  /** A (or V for a voltage source), signed: negative reads, positive writes. */
  readonly amplitude: number;
  /** Start of the leading edge. */
  readonly on: number;
  /** Start of the trailing edge. */
  readonly off: number;
  readonly leading: Edge;
  readonly trailing: Edge;
  /** As measured, over `amplitude`; the edges then only say that it moves from `on` to `off`. */
  readonly measured?: MeasuredPulse;
}

/** What the three drivers do within one cycle, and the instants at which a slope jumps (sorted, within the cycle). */
export interface CycleProgramme {
  readonly x: readonly DrivePulse[];
  readonly y: readonly DrivePulse[];
  /** Magnitude (positive) in the inhibit driver; empty when the write is not inhibited. */
  readonly inhibit: readonly DrivePulse[];
  readonly jumps: Float64Array;
}

/** Sum of pulses at time t from the start of the cycle. */
export function pulseValue(pulses: readonly DrivePulse[], t: number): number {
  let sum = 0;
  for (const p of pulses) {
    if (t <= p.on) continue;
    if (p.measured) {
      sum += p.amplitude * p.measured.at(t - p.on);
      continue;
    }
    const on = edgeFraction(p.leading, t - p.on);
    const off = t > p.off ? edgeFraction(p.trailing, t - p.off) : 0;
    sum += p.amplitude * (on - off);
  }
  return sum;
}

/** A pulse between two half-amplitude instants. */
function pulseBetween(
  amplitude: number,
  halfOn: number,
  halfOff: number,
  rise: Edge,
  fall: Edge,
): DrivePulse {
  return {
    amplitude,
    on: halfOn - halfTime(rise.shape, rise.duration),
    off: halfOff - halfTime(fall.shape, fall.duration),
    leading: rise,
    trailing: fall,
  };
}

/** A pulse as measured, its first half-amplitude point at `halfOn`. */
function pulseAsMeasured(amplitude: number, halfOn: number, measured: MeasuredPulse): DrivePulse {
  const on = halfOn - measured.halfOn;
  const plain = { shape: { kind: 'linear' }, overshoot: { fraction: 0, frequency: 0 } } as const;
  return {
    amplitude,
    on,
    off: on + measured.length,
    leading: { ...plain, duration: measured.length },
    trailing: { ...plain, duration: 0 },
    measured,
  };
}

type Edged = Pick<LineDrive, 'rise' | 'fall' | 'edge' | 'overshoot'>;
const edgesOf = (d: Edged): { rise: Edge; fall: Edge } => ({
  rise: { shape: d.edge, duration: d.rise, overshoot: d.overshoot },
  fall: { shape: d.edge, duration: d.fall, overshoot: d.overshoot },
});

/** Half-amplitude instants of one line, s from the start of the cycle. */
export interface LineInstants {
  /** The first read. */
  readonly readOn: number;
  readonly readOff: number;
  /** From one read to the next where a cycle reads more than once; of the writes alike. */
  readonly readEvery: number;
  readonly writeEvery: number;
  /** The first write's start and the last write's end. */
  readonly writeOn: number;
  readonly writeOff: number;
}

/** Half-amplitude instants of the line's pulses and of the inhibit pulse, s from the start of the cycle. */
export function pulseInstants(design: Design): {
  x: LineInstants;
  y: LineInstants;
  inhibit: { on: number; off: number };
  disturb: { on: number; off: number };
} {
  const { cycle, drive } = design;
  const line = (name: 'x' | 'y', start: number): LineInstants => {
    const d = drive[name];
    const halfOn = d.read === undefined ? halfTime(d.edge, d.rise) : measuredPulse(d.read).halfOn;
    const readOn = start + halfOn;
    const readEvery = longestPulse(design, 'read') + cycle.gap;
    const writeEvery = longestPulse(design, 'write') + cycle.gap;
    const writeOn = readOn + cycle.reads * readEvery;
    return {
      readOn,
      readOff: readOn + pulseWidth(design, name, 'read'),
      readEvery,
      writeEvery,
      writeOn,
      writeOff: writeOn + (cycle.writes - 1) * writeEvery + pulseWidth(design, name, 'write'),
    };
  };
  const x = line('x', Math.max(0, -cycle.stagger));
  const y = line('y', Math.max(0, cycle.stagger));
  const disturbOn = Math.max(x.writeOff, y.writeOff) + cycle.postWriteGap;
  return {
    x,
    y,
    inhibit: {
      on: Math.min(x.writeOn, y.writeOn) - drive.inhibit.lead,
      off: Math.max(x.writeOff, y.writeOff) + drive.inhibit.lag,
    },
    disturb: { on: disturbOn, off: disturbOn + pulseWidth(design, 'x', 'read') },
  };
}

/**
 * Waveforms of one cycle.
 * @param inhibited does this mat's inhibit driver fire in the write (it does to keep a ZERO)?
 */
export function cycleProgramme(design: Design, cycle: Cycle, inhibited: boolean): CycleProgramme {
  const at = pulseInstants(design);
  const line = (name: 'x' | 'y', pulsed: boolean): DrivePulse[] => {
    if (!pulsed) return [];
    const d = design.drive[name];
    const t = at[name];
    const { rise, fall } = edgesOf(d);
    const track = driveFactor(d.temperatureCoefficient, design.temperature);
    const level = (amplitude: number): number =>
      (d.source.kind === 'voltage' ? d.source.voltage : amplitude) * track;
    const pulse = (what: 'read' | 'write', on: number): DrivePulse => {
      const amplitude = what === 'read' ? -level(d.readAmplitude) : level(d.writeAmplitude);
      const table = d[what];
      return table === undefined
        ? pulseBetween(amplitude, on, on + pulseWidth(design, name, what), rise, fall)
        : pulseAsMeasured(amplitude, on, measuredPulse(table));
    };
    const pulses: DrivePulse[] = [];
    if (cycle.read)
      for (let n = 0; n < design.cycle.reads; n++) pulses.push(pulse('read', t.readOn + n * t.readEvery));
    if (cycle.write !== 'none')
      for (let n = 0; n < design.cycle.writes; n++) pulses.push(pulse('write', t.writeOn + n * t.writeEvery));
    if (name === 'x' && design.cycle.postWriteDisturb) pulses.push(pulse('read', at.disturb.on));
    return pulses;
  };
  const x = line('x', cycle.lines !== 'y');
  const y = line('y', cycle.lines !== 'x');
  const { rise, fall } = edgesOf(design.drive.inhibit);
  const level = driveLevels(design).inhibit;
  const inhibit = inhibited ? [pulseBetween(level, at.inhibit.on, at.inhibit.off, rise, fall)] : [];
  return { x, y, inhibit, jumps: slopeJumps([...x, ...y, ...inhibit]) };
}

/** An exponential tail, and ringing, count until they are a millionth. */
const edgeLength = (edge: Edge): number =>
  (edge.shape.kind === 'exponential' || edge.overshoot.fraction > 0 ? 7 : 1) * edge.duration;

/** When each pulse of a cycle is over, s. */
export const pulseEnds = (programme: CycleProgramme): number[] =>
  [...programme.x, ...programme.y, ...programme.inhibit].map((p) => p.off + edgeLength(p.trailing));

/** What the drivers do between two neighbouring slope jumps. */
export function driveActivity(programme: CycleProgramme, from: number, to: number): DriveActivity {
  const slack = 1e-13;
  let activity: DriveActivity = 'calm';
  for (const p of [...programme.x, ...programme.y, ...programme.inhibit]) {
    const end = p.off + edgeLength(p.trailing);
    if (to <= p.on + slack || from >= end - slack) continue;
    activity = 'hold';
    if (from < p.on + edgeLength(p.leading) - slack || to > p.off + slack) return 'edge';
  }
  return activity;
}

function slopeJumps(pulses: readonly DrivePulse[]): Float64Array {
  const times = new Set<number>();
  for (const p of pulses) {
    for (const corner of p.measured?.corners ?? []) times.add(p.on + corner);
    for (const [start, edge] of [
      [p.on, p.leading],
      [p.off, p.trailing],
    ] as const) {
      times.add(start);
      if (edge.shape.kind === 'table')
        for (const [x] of edge.shape.points) times.add(start + x * edge.duration);
      else if (edge.shape.kind !== 'exponential') times.add(start + edge.duration);
    }
  }
  const sorted = Float64Array.from(times).sort();
  return sorted.filter((t, i) => i === 0 || t - sorted[i - 1]! > 1e-13);
}

/** s: nothing of the read comes later than its pulse and what the strobe still waits for. */
export function readEnd(design: Design): number {
  const { x, y } = design.drive;
  const end = longestPulse(design, 'read') + Math.abs(design.cycle.stagger) + Math.max(x.rise, y.rise);
  const { time = 0, aperture } = design.strobe;
  return Math.min(design.cycle.period, Math.max(end + design.detector.delay, time + aperture));
}
