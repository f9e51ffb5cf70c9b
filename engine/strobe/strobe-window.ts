import { coreDraws } from '../core/unknowns/core-draws.ts';
import { coreUncertainty } from '../core/unknowns/core-uncertainty.ts';
import type { Design } from '../design/design.ts';
import { askedDrive } from '../drive/at-temperature.ts';
import { simulate } from '../simulate/simulate.ts';
import type { OpenCore } from './open-core.ts';
import { runEnsemble } from './ensemble.ts';
import type { EnsembleOptions } from './ensemble-result.ts';
import { failedWindow } from './failed-window.ts';
import { windowOf } from './window-of.ts';
import type { StrobeWindow } from './window-result.ts';

/**
 * Where strobe (s from the start of read) and threshold (V at the sense wire) belong, what margin there is (V), and what
 * takes it. That there is no window is an answer too: `strobe` is then undefined and `reason` says why, also where a
 * run failed. By default all cases (a second to a minute); `cases: 'quick'` takes a few runs.
 */
export function strobeWindow(design: Design, options: Partial<EnsembleOptions> = {}): StrobeWindow {
  const ensemble = runEnsemble(design, { simulate, openCore, ...options });
  if (!('envelope' in ensemble)) return failedWindow(design, ensemble.failed);
  const at = { time: design.strobe.time, threshold: design.detector.threshold };
  return windowOf(ensemble, at);
}

/** Cores drawn for the set `core`: twenty tell its interval to about a quarter of its width. */
const CORE_DRAWS = 20;

/** What is not known of a design's core, with the seed of its stored pattern. */
export const openCore = (design: Design): OpenCore => ({
  parameters: coreUncertainty(design.core, askedDrive(design)),
  draws: coreDraws(design.core, CORE_DRAWS, design.stored.seed, askedDrive(design)).cores,
});
