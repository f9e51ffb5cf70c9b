import { copyFlux } from '../core/flux-of-cores.ts';
import type { Design } from '../design/design.ts';
import { longestPulse } from '../drive/pulse-widths.ts';
import { wirePath } from '../mat/winding.ts';
import { repetitionCoupling } from '../sense-amplifier/repetition.ts';
import type { SimulateOptions, Simulation } from '../solver/result.ts';
import type { LineRun, MatHistory } from './mat-history.ts';
import type { MatStep } from './mat-programme.ts';
import { finished } from '../solver/finished.ts';

interface ReaderOptions {
  readonly simulate: (design: Design, options: SimulateOptions) => Simulation;
  readonly cancelled?: () => boolean;
}

/** Runs single reads in full. */
export interface Reader {
  /** Value with the sign of the selected core's polarity, V, and the bit that the latch takes. */
  (step: MatStep, history: MatHistory): { value: number; bit: 0 | 1 };
  readonly currents: (bit: 0 | 1) => LineRun;
}

/** Full runs of single reads from given states, no longer than the strobe needs. */
export function makeReader(design: Design, { simulate, cancelled }: ReaderOptions): Reader {
  const coupling = repetitionCoupling(design, simulate);
  const runs: Partial<Record<0 | 1, LineRun>> = {};
  const { polarity } = wirePath(design);
  const { row, column } = design.selected;
  const restore = { row, column, lines: 'both', read: true, write: 'restore' } as const;
  const read = (step: MatStep, history: MatHistory): { value: number; bit: 0 | 1 } => {
    const { row, column } = step.cycle;
    const bit = history.bits[row * design.mat.columns + column] === 1 ? 1 : 0;
    const programme = [{ ...step.cycle, write: 'restore' as const }];
    const at: Design = { ...design, selected: { row, column, bit }, programme };
    const run = simulate(at, {
      bits: history.bits,
      initial: copyFlux(history.flux),
      coupling,
      contributions: false,
      estimateError: false,
      balance: false,
      until: strobeEnd(design),
      cancelled,
    });
    if (run.outcome.kind !== 'cancelled') finished(run);
    const { value } = run.strobe;
    if (design.amplifier.polarity === 'address') return { value, bit: run.strobe.bit };
    // Rectified: the sign is that of the sense voltage that the strobe hears, seen from the selected core.
    const seen = Math.round((run.strobe.time - design.detector.delay) / design.numerics.output);
    const u =
      run.senseVoltage[Math.min(seen, run.senseVoltage.length - 1)]! *
      polarity[row * design.mat.columns + column]!;
    return { value: u < 0 ? -value : value, bit: run.strobe.bit };
  };
  const currents = (bit: 0 | 1): LineRun =>
    (runs[bit] ??= finished(
      simulate(
        { ...design, selected: { ...design.selected, bit }, programme: [restore] },
        { contributions: false, estimateError: false, balance: false, coupling: 0 },
      ),
    ));
  return Object.assign(read, { currents });
}

/** s after which nothing that the latch takes is still to come; a strobe that is to be found lies within the read. */
function strobeEnd(design: Design): number {
  const { time, aperture } = design.strobe;
  const read =
    longestPulse(design, 'read') +
    Math.abs(design.cycle.stagger) +
    Math.max(design.drive.x.rise, design.drive.y.rise);
  const end = time === undefined ? read + design.detector.delay : time + aperture / 2;
  return Math.min(design.cycle.period, end + 2 * design.numerics.output);
}
