import type { Design } from '../design/design.ts';
import { baselineShift } from '../sense-amplifier/periodic-steady-state.ts';
import { steadyCouplings } from '../sense-amplifier/repetition.ts';
import type { SimulateOptions, Simulation } from '../solver/result.ts';
import { readEnd } from '../drive/programme.ts';
import { finished } from '../solver/finished.ts';

/** Both bits of the selected core when a share of the endless cycles before was inhibited. */
export interface DutyPoint {
  /** 0..1. */
  readonly inhibitedShare: number;
  /** V referred to the sense wire by which a quiet line lies too low. */
  readonly baseline: number;
  /** V at the strobe as the detector hears it, referred to the sense wire: a ONE, and a ZERO. */
  readonly one: number;
  readonly zero: number;
}

export interface DutyReport {
  /** From none to all of the cycles inhibited; empty when DC coupled. */
  readonly points: readonly DutyPoint[];
  /** Where a ONE reads least, and where a ZERO reads most; undefined when DC coupled. */
  readonly worst: { readonly one: DutyPoint; readonly zero: DutyPoint } | undefined;
}

const SHARES = [0, 0.25, 0.5, 0.75, 1];
/** Parts of the interval that a search in between narrows it to, at most: a thousandth of the cycles. */
const FINE = 1e-3;

/**
 * The share of inhibited cycles that is worst for a ONE and for a ZERO through AC coupling. The coupling is linear in
 * the share and so is what the strobe hears, up to output limit and rectification: the worst then lies at an end.
 * Shares in between are tried all the same, and where one of them is the worst its neighbourhood is searched.
 */
export function dutyReport(
  design: Design,
  simulate: (design: Design, options: SimulateOptions) => Simulation,
): DutyReport {
  if (design.amplifier.highPass === 0) return { points: [], worst: undefined };
  const { one, zero } = steadyCouplings(design, simulate);
  const at = (inhibitedShare: number): DutyPoint => {
    const coupling = inhibitedShare * zero + (1 - inhibitedShare) * one;
    const read = (bit: 0 | 1): number =>
      finished(
        simulate(
          { ...design, selected: { ...design.selected, bit } },
          { contributions: false, estimateError: false, balance: false, coupling, until: readEnd(design) },
        ),
      ).strobe.value;
    return {
      inhibitedShare,
      baseline: baselineShift(design.amplifier, coupling),
      one: read(1),
      zero: read(0),
    };
  };
  const points = SHARES.map(at);
  return {
    points,
    worst: {
      one: worstOf(points, at, (point) => -point.one),
      zero: worstOf(points, at, (point) => point.zero),
    },
  };
}

/** The point of greatest `harm`; between its neighbours when it is not an end. */
function worstOf(
  points: readonly DutyPoint[],
  at: (share: number) => DutyPoint,
  harm: (point: DutyPoint) => number,
): DutyPoint {
  let best = points.reduce((a, b) => (harm(b) > harm(a) ? b : a));
  const middle = points.indexOf(best);
  if (middle === 0 || middle === points.length - 1) return best;
  let low = points[middle - 1]!.inhibitedShare;
  let high = points[middle + 1]!.inhibitedShare;
  while (high - low > FINE) {
    const tries = [at((low + best.inhibitedShare) / 2), at((best.inhibitedShare + high) / 2)];
    const better = tries.find((point) => harm(point) > harm(best));
    if (better === undefined) [low, high] = [tries[0]!.inhibitedShare, tries[1]!.inhibitedShare];
    else {
      if (better === tries[0]) high = best.inhibitedShare;
      else low = best.inhibitedShare;
      best = better;
    }
  }
  return best;
}
