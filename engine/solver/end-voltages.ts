import type { WireState } from './wire-state.ts';

/** What an amplifier gets of a cycle, on the solver's own instants, s from the start of that cycle. */
export interface EndVoltages {
  readonly time: Float64Array;
  /** 1 where the step that starts at the instant begins after a slope jump. */
  readonly jumps: Uint8Array;
  /** V at end A and end B. */
  readonly endA: Float64Array;
  readonly endB: Float64Array;
}

export const makeEndVoltages = (length: number): EndVoltages => ({
  time: new Float64Array(length),
  jumps: new Uint8Array(length),
  endA: new Float64Array(length),
  endB: new Float64Array(length),
});

export const cutEndVoltages = ({ time, jumps, endA, endB }: EndVoltages, length: number): EndVoltages => ({
  time: time.slice(0, length),
  jumps: jumps.slice(0, length),
  endA: endA.slice(0, length),
  endB: endB.slice(0, length),
});

export function recordEnds(to: EndVoltages, at: number, time: number, wire: WireState): void {
  to.time[at] = time;
  to.endA[at] = wire.v[0]!;
  to.endB[at] = wire.v[wire.sections.count]!;
}
