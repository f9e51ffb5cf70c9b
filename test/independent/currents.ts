import type { Design } from '../../engine/index.ts';

/** A current of the programme, A against s: straight (or cosine) edges between half-amplitude instants. */
export interface Pulse {
  readonly amplitude: number;
  readonly halfOn: number;
  readonly halfOff: number;
  readonly rise: number;
  readonly fall: number;
  readonly cosine: boolean;
}

/** Currents of X, Y and inhibit. */
export interface Currents {
  readonly x: readonly Pulse[];
  readonly y: readonly Pulse[];
  readonly inhibit: readonly Pulse[];
}

/** Current of a list of pulses at t, A. */
export function currentAt(pulses: readonly Pulse[], t: number): number {
  let sum = 0;
  for (const p of pulses) {
    const part = (from: number, length: number): number => {
      const f = Math.min(1, Math.max(0, (t - from) / length));
      return p.cosine ? (1 - Math.cos(Math.PI * f)) / 2 : f;
    };
    sum += p.amplitude * (part(p.halfOn - p.rise / 2, p.rise) - part(p.halfOff - p.fall / 2, p.fall));
  }
  return sum;
}

/** The pulses of the one observed cycle of a design. */
export function currentsOf(d: Design): Currents {
  const { cycle, drive, selected } = d;
  const last = d.programme[d.programme.length - 1]!;
  const writes = last.write !== 'none';
  const line = (l: typeof drive.x, start: number): Pulse[] => {
    const edges = { rise: l.rise, fall: l.fall, cosine: l.edge.kind === 'raised-cosine' };
    const on = start + l.rise / 2;
    const off = on + cycle.readWidth;
    const write = off + cycle.gap;
    const read = { ...edges, amplitude: -l.readAmplitude, halfOn: on, halfOff: off };
    if (!writes) return [read];
    return [
      read,
      { ...edges, amplitude: l.writeAmplitude, halfOn: write, halfOff: write + cycle.writeWidth },
    ];
  };
  const x = line(drive.x, Math.max(0, -cycle.stagger));
  const y = line(drive.y, Math.max(0, cycle.stagger));
  const keepsZero = last.write === 'zero' || (last.write === 'restore' && selected.bit === 0);
  const z = drive.inhibit;
  if (!keepsZero || !writes || z.amplitude <= 0) return { x, y, inhibit: [] };
  const inhibit = {
    amplitude: z.amplitude,
    halfOn: Math.min(x[1]!.halfOn, y[1]!.halfOn) - z.lead,
    halfOff: Math.max(x[1]!.halfOff, y[1]!.halfOff) + z.lag,
    rise: z.rise,
    fall: z.fall,
    cosine: z.edge.kind === 'raised-cosine',
  };
  return { x, y, inhibit: [inhibit] };
}
