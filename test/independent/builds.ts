import { checkDesign } from '../../engine/index.ts';
import type { Design } from '../../engine/index.ts';
import { applyPatches } from '../../engine/base/json-patch.ts';
import type { Json, Patch } from '../../engine/base/json-patch.ts';
import { recordTrace } from './instrument.ts';
import type { Captured, Instrument } from './instrument.ts';
import { runTruth } from './memory.ts';
import { truthOf } from './truth.ts';
import type { Departure, Truth } from './truth.ts';

/** Invented: 4 x 4 on one shared wire, edges that an ordinary instrument sees. */
export const SMALL: Json = {
  name: 'small board for the bench',
  note: 'Invented.',
  core: { preset: 'ferrite-20-mil' },
  mat: { rows: 4, columns: 4 },
  winding: { kind: 'shared-one-run' },
  wire: { couplingCapacitance: '0 pF', mutualX: '0.15 nH', mutualY: '0.15 nH' },
  cycle: { period: '2.2 us', readWidth: '450 ns', gap: '350 ns', writeWidth: '450 ns' },
  stored: { kind: 'checkerboard' },
  selected: { row: 1, column: 2, bit: 1 },
  amplifier: { gain: 20, bandwidth: '15 MHz' },
  strobe: { time: '250 ns' },
};

/** Invented: the same on 8 x 8. */
export const BOARD: Json = applyPatches(SMALL, [
  { path: '/mat', value: { rows: 8, columns: 8 } },
  { path: '/selected', value: { row: 3, column: 5, bit: 1 } },
]);

export const build = (file: Json, changes: readonly Patch[] = []): Design =>
  checkDesign(applyPatches(file, changes));

export interface Seen {
  readonly departure?: Departure;
  readonly instrument?: Instrument;
  readonly observed?: 'sense' | 'amplifier';
  /** What is not a field of a design. */
  readonly wrong?: (truth: Truth) => Truth;
  readonly until?: number;
}

/** What an instrument would record of a build, by the independent integrator. */
export function capture(file: Json, changes: readonly Patch[] = [], seen: Seen = {}): Captured {
  const truth = truthOf(build(file, changes), seen.departure);
  const run = runTruth(seen.wrong?.(truth) ?? truth, { until: seen.until });
  return recordTrace(seen.observed === 'amplifier' ? run.amplifier : run.sense, run.step, {
    noise: 0.5e-3,
    ...seen.instrument,
  });
}
