import type { Cycle, Design, EdgeShape, LineDrive, Overshoot } from '../design/design.ts';
import { driveFactor, driveLevels } from './at-temperature.ts';

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
}

/** An edge as a function from 0 to 1 that starts at time 0. */
export interface Edge {
  readonly shape: EdgeShape;
  readonly duration: number;
  readonly overshoot: Overshoot;
}

/** What the three drivers do within one cycle, and the instants at which a slope jumps (sorted, within the cycle). */
export interface CycleProgramme {
  readonly x: readonly DrivePulse[];
  readonly y: readonly DrivePulse[];
  /** Magnitude (positive) in the inhibit driver; empty when the write is not inhibited. */
  readonly inhibit: readonly DrivePulse[];
  readonly jumps: Float64Array;
}

const LN9 = Math.log(9);

/** Fraction 0..1 of an edge at time t from its start, overshoot included. */
export function edgeFraction(edge: Edge, t: number): number {
  if (t <= 0) return 0;
  if (edge.overshoot.fraction > 0) return ringingEdge(edge, t);
  return plainEdge(edge.shape, edge.duration, t);
}

function plainEdge(shape: EdgeShape, duration: number, t: number): number {
  if (t <= 0) return 0;
  switch (shape.kind) {
    case 'linear':
      return t >= duration ? 1 : t / duration;
    case 'raised-cosine':
      return t >= duration ? 1 : (1 - Math.cos((Math.PI * t) / duration)) / 2;
    case 'exponential':
      return duration === 0 ? 1 : -Math.expm1((-LN9 * t) / duration);
    case 'table': {
      const x = t / duration;
      if (x >= 1) return 1;
      const points = shape.points;
      let i = 1;
      while (i < points.length - 1 && points[i]![0] < x) i++;
      const [x0, y0] = points[i - 1]!;
      const [x1, y1] = points[i]!;
      return y0 + ((y1 - y0) * (x - x0)) / (x1 - x0);
    }
  }
}

/** An edge that rings: its corners as changes of slope, and what rings on after the last of them. */
interface Ring {
  /** s, and 1/s by which the slope changes there. */
  readonly corners: readonly { readonly at: number; readonly change: number }[];
  /** 1/s and rad/s: decay and frequency; s: by how much a ramp lags. */
  readonly decay: number;
  readonly frequency: number;
  readonly lag: number;
  /** Cosine and sine of a unit ramp's ringing, s. */
  readonly cos: number;
  readonly sin: number;
  /** The same of the whole edge, from its last corner on, as fractions. */
  readonly endCos: number;
  readonly endSin: number;
}

const rings = new WeakMap<Edge, Ring>();

/** Response to the plain edge of a damped second order of unit gain, superposed for each change of slope. */
function ringOf(edge: Edge): Ring {
  const known = rings.get(edge);
  if (known) return known;
  const { fraction, frequency } = edge.overshoot;
  const log = Math.log(fraction);
  const zeta = -log / Math.hypot(Math.PI, log);
  const wd = 2 * Math.PI * frequency;
  const wn = wd / Math.sqrt(1 - zeta * zeta);
  const points = polyline(edge);
  const corners = points.map(([at], i) => {
    const slope = (k: number): number =>
      k < 1 || k >= points.length
        ? 0
        : (points[k]![1] - points[k - 1]![1]) / (points[k]![0] - points[k - 1]![0]);
    return { at, change: slope(i + 1) - slope(i) };
  });
  const decay = zeta * wn;
  const [cos, sin] = [(2 * zeta) / wn, (2 * zeta * zeta - 1) / wd];
  let endCos = 0;
  let endSin = 0;
  for (const { at, change } of corners) {
    const before = points.at(-1)![0] - at;
    const left = change * Math.exp(-decay * before);
    const [c, s] = [Math.cos(wd * before), Math.sin(wd * before)];
    endCos += left * (cos * c + sin * s);
    endSin += left * (sin * c - cos * s);
  }
  const ring = { corners, decay, frequency: wd, lag: (2 * zeta) / wn, cos, sin, endCos, endSin };
  rings.set(edge, ring);
  return ring;
}

/** The plain edge passed through a damped second-order response of unit gain. */
function ringingEdge(edge: Edge, t: number): number {
  const { corners, decay, frequency, lag, cos, sin, endCos, endSin } = ringOf(edge);
  const over = t - corners.at(-1)!.at;
  if (over >= 0) {
    const w = frequency * over;
    return 1 + Math.exp(-decay * over) * (endCos * Math.cos(w) + endSin * Math.sin(w));
  }
  let sum = 0;
  for (const { at, change } of corners) {
    const u = t - at;
    if (u <= 0) break;
    const w = frequency * u;
    sum += change * (u - lag + Math.exp(-decay * u) * (cos * Math.cos(w) + sin * Math.sin(w)));
  }
  return sum;
}

/** [time s, fraction] corners; smooth shapes in 48 pieces. */
function polyline(edge: Edge): (readonly [number, number])[] {
  const { shape, duration } = edge;
  if (shape.kind === 'linear')
    return [
      [0, 0],
      [duration, 1],
    ];
  if (shape.kind === 'table') return shape.points.map(([x, y]) => [x * duration, y] as const);
  const length = shape.kind === 'exponential' ? 3 * duration : duration;
  return Array.from({ length: 49 }, (_, i) => {
    const t = (length * i) / 48;
    return [t, i === 48 ? 1 : plainEdge(shape, duration, t)] as const;
  });
}

/** Time from the start of the plain edge to half of the amplitude, s. */
export function halfTime(shape: EdgeShape, duration: number): number {
  switch (shape.kind) {
    case 'linear':
    case 'raised-cosine':
      return duration / 2;
    case 'exponential':
      return (duration * Math.LN2) / LN9;
    case 'table': {
      const i = shape.points.findIndex(([, y]) => y >= 0.5);
      const [x0, y0] = shape.points[i - 1]!;
      const [x1, y1] = shape.points[i]!;
      return duration * (x0 + ((0.5 - y0) * (x1 - x0)) / (y1 - y0));
    }
  }
}

/** Sum of pulses at time t from the start of the cycle. */
export function pulseValue(pulses: readonly DrivePulse[], t: number): number {
  let sum = 0;
  for (const p of pulses) {
    if (t <= p.on) continue;
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

type Edged = Pick<LineDrive, 'rise' | 'fall' | 'edge' | 'overshoot'>;
const edgesOf = (d: Edged): { rise: Edge; fall: Edge } => ({
  rise: { shape: d.edge, duration: d.rise, overshoot: d.overshoot },
  fall: { shape: d.edge, duration: d.fall, overshoot: d.overshoot },
});

/** Half-amplitude instants of the line's pulses and of the inhibit pulse, s from the start of the cycle. */
export function pulseInstants(design: Design): {
  x: { readOn: number; readOff: number; writeOn: number; writeOff: number };
  y: { readOn: number; readOff: number; writeOn: number; writeOff: number };
  inhibit: { on: number; off: number };
  disturb: { on: number; off: number };
} {
  const { cycle, drive } = design;
  const line = (d: LineDrive, start: number) => {
    const readOn = start + halfTime(d.edge, d.rise);
    const readOff = readOn + cycle.readWidth;
    const writeOn = readOff + cycle.gap;
    return { readOn, readOff, writeOn, writeOff: writeOn + cycle.writeWidth };
  };
  const x = line(drive.x, Math.max(0, -cycle.stagger));
  const y = line(drive.y, Math.max(0, cycle.stagger));
  const disturbOn = Math.max(x.writeOff, y.writeOff) + cycle.postWriteGap;
  return {
    x,
    y,
    inhibit: {
      on: Math.min(x.writeOn, y.writeOn) - drive.inhibit.lead,
      off: Math.max(x.writeOff, y.writeOff) + drive.inhibit.lag,
    },
    disturb: { on: disturbOn, off: disturbOn + cycle.readWidth },
  };
}

/**
 * Waveforms of one cycle.
 * @param inhibited does this mat's inhibit driver fire in the write (it does to keep a ZERO)?
 */
export function cycleProgramme(design: Design, cycle: Cycle, inhibited: boolean): CycleProgramme {
  const at = pulseInstants(design);
  const line = (d: LineDrive, t: (typeof at)['x'], pulsed: boolean, disturb: boolean): DrivePulse[] => {
    if (!pulsed) return [];
    const { rise, fall } = edgesOf(d);
    const track = driveFactor(d.temperatureCoefficient, design.temperature);
    const read = (d.source.kind === 'voltage' ? d.source.voltage : d.readAmplitude) * track;
    const write = (d.source.kind === 'voltage' ? d.source.voltage : d.writeAmplitude) * track;
    const pulses: DrivePulse[] = [];
    if (cycle.read) pulses.push(pulseBetween(-read, t.readOn, t.readOff, rise, fall));
    if (cycle.write !== 'none') pulses.push(pulseBetween(write, t.writeOn, t.writeOff, rise, fall));
    if (disturb && design.cycle.postWriteDisturb)
      pulses.push(pulseBetween(-read, at.disturb.on, at.disturb.off, rise, fall));
    return pulses;
  };
  const x = line(design.drive.x, at.x, cycle.lines !== 'y', true);
  const y = line(design.drive.y, at.y, cycle.lines !== 'x', false);
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
  for (const p of pulses)
    for (const [start, edge] of [
      [p.on, p.leading],
      [p.off, p.trailing],
    ] as const) {
      times.add(start);
      if (edge.shape.kind === 'table')
        for (const [x] of edge.shape.points) times.add(start + x * edge.duration);
      else if (edge.shape.kind !== 'exponential') times.add(start + edge.duration);
    }
  const sorted = Float64Array.from(times).sort();
  return sorted.filter((t, i) => i === 0 || t - sorted[i - 1]! > 1e-13);
}

/** s: nothing of the read comes later than its pulse and what the strobe still waits for. */
export function readEnd(design: Design): number {
  const { x, y } = design.drive;
  const end = design.cycle.readWidth + Math.abs(design.cycle.stagger) + Math.max(x.rise, y.rise);
  const { time = 0, aperture } = design.strobe;
  return Math.min(design.cycle.period, Math.max(end + design.detector.delay, time + aperture));
}
