import type { Needs } from './needs.ts';

/** What a search moves, for one combination. */
export interface Variables {
  /** A of one line at 25 °C. */
  readonly half: number;
  /** Share of the core's temperature coefficient that the drives follow. */
  readonly tracking: number;
  /** Inhibit over half-select current. */
  readonly inhibit: number;
  /** s, X and Y. */
  readonly rise: number;
  readonly stagger: number;
  /** ohm, each end. */
  readonly termination: number;
  /** Hz. */
  readonly bandwidth: number;
}

export type VariableName = keyof Variables;

interface Range {
  readonly low: number;
  readonly high: number;
  /** First step: a factor where `factor` is set, else a distance. */
  readonly step: number;
  readonly factor: boolean;
  /** The finest step that a builder can make. */
  readonly grid: number;
}

/** Between which ends each may lie, and in which steps it is sought. */
export function ranges(needs: Needs, start: Variables): Readonly<Record<VariableName, Range>> {
  const { fastest, track } = needs.drivers;
  const { bandwidth } = needs.amplifier;
  return {
    half: { low: start.half / 2, high: start.half * 2, step: 1.03, factor: true, grid: 1e-3 },
    tracking: { low: 0, high: track ? 1 : 0, step: 0.2, factor: false, grid: 0.02 },
    stagger: { low: 0, high: 200e-9, step: 40e-9, factor: false, grid: 5e-9 },
    rise: { low: Math.max(fastest, 5e-9), high: 400e-9, step: 1.6, factor: true, grid: 5e-9 },
    inhibit: { low: 0.8, high: 1.05, step: 0.05, factor: false, grid: 0.01 },
    termination: { low: 20, high: 2000, step: 1.8, factor: true, grid: 0 },
    bandwidth: { low: bandwidth / 4, high: bandwidth, step: 1.6, factor: true, grid: 0 },
  };
}

/** The value moved by so many first steps and held inside its range; undefined where it does not move. */
export function moved(range: Range, value: number, steps: number): number | undefined {
  const to = range.factor ? value * range.step ** steps : value + range.step * steps;
  const held = Math.min(range.high, Math.max(range.low, to));
  return held === value ? undefined : held;
}
