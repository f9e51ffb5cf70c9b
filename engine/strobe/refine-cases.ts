import type { Design } from '../design/design.ts';
import { valueAt } from '../sense-amplifier/detector.ts';
import { finerFor } from '../solver/run-error.ts';
import type { CaseRuns, EnsembleCase } from './case-runs.ts';
import type { StrobeEnvelope, StrobeUncertainties } from './envelope.ts';
import { NUMBERS_SHARE } from './verdict.ts';
import { windowAt } from './window-at.ts';
import { cornerEnvelope, nominalEnvelope, strobeInForce } from './worst-cases.ts';

/** Runs are made finer until their own error at the strobe is under NUMBERS_SHARE of the margin; at most this fine, which costs its square, */
const MOST_FINER = 4;
/** as often as another case may come to set an envelope, */
const REFINING_ROUNDS = 4;
/** V: and with cases that differ by no more, as those at addresses that mirror each other. */
const ALIKE = 1e-6;

/** An ensemble while its runs are made: the design, what has run so far, and when a strobe may stand. */
export interface EnsembleWork {
  readonly design: Design;
  readonly runs: CaseRuns;
  /** s, of every run. */
  readonly time: Float64Array;
  readonly search: StrobeEnvelope['search'];
  readonly uncertainties: StrobeUncertainties;
}

/**
 * How much finer the runs must be for their error to be under a tenth of the margins at the strobe, as far as is worth it.
 * @param error V over time, of runs made with `finer`
 */
export function finerNeeded(work: EnsembleWork, error: Float64Array, finer: number): number {
  const { design, runs, time, search, uncertainties } = work;
  const nominal = nominalEnvelope(runs, time, search);
  const strobe = strobeInForce(design, nominal, uncertainties);
  const at = { time: strobe, threshold: design.detector.threshold };
  const corners = cornerEnvelope(design, runs, time, search);
  const margins = [
    windowAt(nominal, at, uncertainties).margin.left,
    windowAt(corners.envelope, at, corners.uncertainties).margin.left,
  ];
  const wanted = Math.min(...margins.map(Math.abs)) * NUMBERS_SHARE;
  return Math.min(MOST_FINER, finerFor(valueAt(time, error, strobe - uncertainties.delay), wanted, finer));
}

/** Runs the cases that set an envelope at the strobe finer, and their likes, until none of those that do is left as it was. */
export function refineSetting(work: EnsembleWork, finer: number): void {
  for (let round = 0; round < REFINING_ROUNDS; round++) {
    const coarse = settingCases(work).filter((item) => item.finer < finer);
    if (coarse.length === 0) return;
    for (const item of coarse) work.runs.refine(item, finer);
  }
}

/**
 * The cases that set an envelope, nominal or at the corners, at the samples on either side of the strobe in force. Where
 * two cases cross between them the envelope lies beyond both, so neither would be found by its value there.
 */
function settingCases({ design, runs, time, search, uncertainties }: EnsembleWork): EnsembleCase[] {
  const nominal = nominalEnvelope(runs, time, search);
  const strobe = strobeInForce(design, nominal, uncertainties) - uncertainties.delay;
  const { envelope } = cornerEnvelope(design, runs, time, search);
  const around = [Math.floor, Math.ceil].map((round) => sampleAt(time, strobe, round));
  return runs.cases.filter(({ bit, heard }) =>
    [nominal, envelope].some(({ one, zero }) => {
      const band = bit === 1 ? one : zero;
      return around.some((i) => Math.abs(heard[i]! - band[i]!) <= ALIKE);
    }),
  );
}

const sampleAt = (time: Float64Array, t: number, round: (x: number) => number): number => {
  const step = (time[time.length - 1]! - time[0]!) / (time.length - 1);
  return Math.max(0, Math.min(time.length - 1, round((t - time[0]!) / step)));
};
