import type { Design } from '../design/design.ts';
import { periodicSteadyState } from './periodic-steady-state.ts';
import type { SimulateOptions, Simulation } from '../solver/result.ts';
import { finished } from '../solver/finished.ts';

/**
 * V that the cycles before have left on the amplifier's coupling capacitor, as it is to be expected when a share of
 * them kept a ZERO (inhibited) and the rest a ONE, in any order: the network is linear after the input clamp, so the
 * expectation is the same mixture of the two periodic steady states, exactly. 0 when DC coupled, or when the design
 * says that nothing went before.
 *
 * @param bits what the mat holds; the selected core's bit is set here
 */
export function repetitionCoupling(
  design: Design,
  simulate: (design: Design, options: SimulateOptions) => Simulation,
  bits?: Uint8Array,
): number {
  const share = design.cycle.inhibitedShare;
  if (share === undefined || design.amplifier.highPass === 0) return 0;
  const one = share < 1 ? steadyCoupling(design, 1, simulate, bits) : 0;
  const zero = share > 0 ? steadyCoupling(design, 0, simulate, bits) : 0;
  return share * zero + (1 - share) * one;
}

/** The capacitor (V) after endless cycles that all kept a ONE, and after those that all kept a ZERO. */
export function steadyCouplings(
  design: Design,
  simulate: (design: Design, options: SimulateOptions) => Simulation,
): { readonly one: number; readonly zero: number } {
  const of = (bit: 0 | 1): number => steadyCoupling(design, bit, simulate, undefined);
  return { one: of(1), zero: of(0) };
}

/** The capacitor after endless cycles that read and restore one bit; the second of two cycles stands for them all. */
function steadyCoupling(
  design: Design,
  bit: 0 | 1,
  simulate: (design: Design, options: SimulateOptions) => Simulation,
  bits: Uint8Array | undefined,
): number {
  const { row, column } = design.selected;
  const cycle = { row, column, lines: 'both', read: true, write: 'restore' } as const;
  const held = bits?.slice();
  if (held) held[row * design.mat.columns + column] = bit;
  const run = finished(
    simulate(
      { ...design, selected: { row, column, bit }, programme: [cycle, cycle] },
      { contributions: false, estimateError: false, balance: false, coupling: 0, bits: held },
    ),
  );
  return periodicSteadyState(design.amplifier, run.time, run.senseVoltage, run.commonMode).coupling;
}
