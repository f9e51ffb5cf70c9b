import type { EdgeShape, Overshoot } from '../design/drive.ts';

/** An edge as a function from 0 to 1 that starts at time 0. */
export interface Edge {
  readonly shape: EdgeShape;
  readonly duration: number;
  readonly overshoot: Overshoot;
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
