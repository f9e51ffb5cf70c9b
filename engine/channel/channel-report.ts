import { buildNumbers, type BuildNumbers } from '../estimates/build-numbers.ts';
import type { Design } from '../design/design.ts';
import { disturbReadings, type DisturbReadings } from '../history/disturb-readings.ts';
import { recoveryReport, type RecoveryReport } from './recovery-report.ts';
import { simulate as simulateHere } from '../simulate/simulate.ts';
import type { SimulateOptions, Simulation } from '../solver/result.ts';
import { supplyCurve, wordDependence, type SupplyPoint, type WordDependence } from './stack.ts';
import { finished } from '../solver/finished.ts';

/** What a report costs, in cycles of the design, about: a server prices it by this. */
export const CHANNEL_RUNS = 250;

export interface ChannelOptions {
  /** Computes one run (default: the engine's own). */
  readonly simulate?: (design: Design, options: SimulateOptions) => Simulation;
  readonly cancelled?: () => boolean;
}

/** What the whole channel does beside one read: history, recovery, the stack, the supply. */
export interface ChannelReport {
  readonly design: Design;
  readonly disturb: DisturbReadings;
  readonly recovery: RecoveryReport;
  readonly words: WordDependence;
  readonly supply: readonly SupplyPoint[];
  readonly build: BuildNumbers;
}

/**
 * What the whole sense line does beside one read: disturbed ONE and ZERO and the worst history (V at the sense wire),
 * recovery from inhibit (s), the words of a stack, what drivers and supply must give (A, W), cycle and access times (s).
 * Costs some 250 runs of a cycle.
 *
 * @throws Error with the advice of a run that did not end well, 'cancelled' among them
 */
export function channelReport(design: Design, options: ChannelOptions = {}): ChannelReport {
  const simulate = (of: Design, how: SimulateOptions): Simulation => {
    const run = (options.simulate ?? simulateHere)(of, { ...how, cancelled: options.cancelled });
    finished(run);
    return run;
  };
  const rate = 1 / design.cycle.period;
  return {
    design,
    disturb: disturbReadings(design, { simulate }),
    recovery: recoveryReport(design, { simulate }),
    words: wordDependence(design, simulate),
    supply: supplyCurve(
      design,
      [0.02, 0.1, 0.25, 0.5, 1, 2].map((part) => part * rate),
    ),
    build: buildNumbers(design),
  };
}
