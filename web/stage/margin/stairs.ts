import type { ChainStep } from '../../../engine/strobe/chain-step.ts';
import { COLUMNS, sumsOf, type ColumnKey, type Sums } from './chain-sums.ts';

export const SIDES = ['one', 'zero'] as const;
export type Side = (typeof SIDES)[number];

/** One stair: the signal goes from one height to another, V on the trace's own axis. */
export interface Stair {
  readonly from: number;
  readonly to: number;
}

export interface StairColumn {
  readonly key: ColumnKey;
  readonly title: string;
  readonly stairs: Readonly<Record<Side, Stair>>;
}

/** What a set of cases leaves on either side, V: the distance from the end of its stairs to the threshold's band. */
export interface StairEnd {
  readonly set: keyof Sums['left'];
  readonly heights: Readonly<Record<Side, number>>;
  readonly left: Readonly<Record<Side, number>>;
}

export interface Stairs {
  readonly columns: readonly StairColumn[];
  /** The threshold with its stated uncertainty, and with its tolerance too where corners count. */
  readonly band: { readonly low: number; readonly high: number };
  readonly wideBand: { readonly low: number; readonly high: number } | undefined;
  readonly ends: readonly StairEnd[];
}

/** V: causes that give less on both sides are told together, as the rest; */
const REST = 0.3e-3;
/** and less than this is not drawn at all, though it counts. */
const UNSEEN = 0.05e-3;

/**
 * Where the margin goes, from the two chains of the engine: the least ONE steps down from what the selected core gives,
 * the greatest ZERO up from nothing. Heights are sums of the chain's own steps, so that what is left from a stair's end
 * to the band's edge is the margin of that set, exactly.
 */
export function stairsOf(chains: Readonly<Record<Side, readonly ChainStep[]>>): Stairs {
  const one = sumsOf(chains.one, 1);
  const zero = sumsOf(chains.zero, -1);
  const order = Object.keys(COLUMNS) as ColumnKey[];
  const causes = order.filter((key) => !['core', 'rest', 'corners', 'unknown'].includes(key));
  const small = causes.filter((key) => Math.max(Math.abs(one.steps[key]), Math.abs(zero.steps[key])) < REST);
  for (const { steps } of [one, zero])
    for (const key of small) {
      steps.rest += steps[key];
      steps[key] = 0;
    }
  const height = { one: 0, zero: 0 };
  const climb = (side: Side, volts: number): Stair => {
    const from = height[side];
    height[side] += volts;
    return { from, to: height[side] };
  };
  const columns: StairColumn[] = [];
  const ends: StairEnd[] = [];
  const setDown = (set: StairEnd['set']): void => {
    const left = { one: one.left[set], zero: zero.left[set] };
    if (left.one !== undefined && left.zero !== undefined)
      ends.push({ set, heights: { ...height }, left: { one: left.one, zero: left.zero } });
  };
  for (const key of order) {
    const stairs = { one: climb('one', one.steps[key]), zero: climb('zero', zero.steps[key]) };
    const size = Math.max(Math.abs(one.steps[key]), Math.abs(zero.steps[key]));
    if (key === 'core' || size >= UNSEEN) columns.push({ key, title: COLUMNS[key], stairs });
    if (key === 'rest') setDown('nominal');
    if (key === 'corners') setDown('corners');
    if (key === 'unknown') setDown('core');
  }
  const band = (wide: number) => ({ low: one.level - wide, high: one.level + wide });
  const cornered = one.left.corners !== undefined;
  return {
    columns,
    ends,
    band: band(one.uncertainty),
    wideBand: cornered ? band(one.uncertainty + one.tolerance) : undefined,
  };
}

/** Lowest and highest of all stairs and the band, V, zero among them. */
export function stairSpan({ columns, band, wideBand }: Stairs): {
  readonly low: number;
  readonly high: number;
} {
  const heights = columns.flatMap(({ stairs }) =>
    SIDES.flatMap((side) => [stairs[side].from, stairs[side].to]),
  );
  const edges = [band, wideBand ?? band].flatMap(({ low, high }) => [low, high]);
  return { low: Math.min(0, ...heights, ...edges), high: Math.max(1e-6, ...heights, ...edges) };
}
