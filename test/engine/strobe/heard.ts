import type { Design } from '../../../engine/design/design.ts';
import { valueAt } from '../../../engine/sense-amplifier/detector.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';

/** The amplifier's output of a design alone, referred to the sense wire, at a strobe time, V. */
export function heard(design: Design, strobe: number): number {
  const { divider, gain } = design.amplifier;
  const run = simulate(design, { contributions: false, estimateError: false });
  return valueAt(run.time, run.amplifierOutput, strobe - design.detector.delay) / (divider * gain);
}
