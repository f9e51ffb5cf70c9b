import type { CoreParameters } from '../../design/core.ts';
import { disturbedState, type DisturbTrain } from '../disturb.ts';
import { pulseDrive } from '../drive.ts';
import { readAnswer, type AnswerReading } from '../measure.ts';
import { runCore } from '../single.ts';
import { restState, type CoreState } from '../state.ts';
import { DISTURB_RATIOS, type CoreAnswers, type CoreHandbook } from './values.ts';

/** Steps over one answer; the flat top is exact, so this only resolves the rise and the reading of the trace. */
const STEPS = 500;

/** The answer to a read (drive of magnitude `drive`, A) with a linear rise and a flat top of `flat` seconds. */
export function answerToRead(
  p: CoreParameters,
  state: CoreState,
  drive: number,
  rise: number,
  flat: number,
): AnswerReading {
  const end = rise + flat;
  const pulse = { amplitude: -drive, start: 0, width: end, rise, fall: rise };
  const trace = runCore(p, pulseDrive([pulse], end), { step: end / STEPS, initial: state });
  return readAnswer(trace, 0, rise, end);
}

/** How long the flat top must last for t_s to be read safely while the model is still being fitted, s. */
export const readFlat = (h: CoreHandbook): number => 2 * h.switchTime - h.rise / 2;

/** The disturb test of a handbook: half-read and half-write pulses as long as the read, `pulses` pairs. */
export const disturbTest = (h: CoreHandbook, pulses?: number): DisturbTrain => ({
  halfDrive: (h.disturbRatio ?? DISTURB_RATIOS.coincidentCurrent) * h.fullDrive,
  width: readFlat(h),
  pulses,
});

/** Everything a handbook says about a core, read off its model. The disturb train has `pulses` read-write pairs (default as in core/disturb.ts). */
export function answersOfCore(p: CoreParameters, h: CoreHandbook, pulses?: number): CoreAnswers {
  const flat = readFlat(h);
  const read = (state: CoreState, drive: number): AnswerReading =>
    answerToRead(p, state, drive, h.rise, flat);
  const disturbed = disturbedState(p, disturbTest(h, pulses));
  const one = read(restState(p, 1), h.fullDrive);
  return {
    peakOne: one.peak,
    peakTime: one.peakTime,
    switchTime: one.switchTime,
    halfSelectOne: read(restState(p, 1), h.fullDrive / 2).edge,
    halfSelectZero: read(restState(p, 0), h.fullDrive / 2).edge,
    disturbedOne: read(disturbed.one, h.fullDrive).peak,
    undisturbedZero: read(restState(p, 0), h.fullDrive).edge,
    disturbedZero: read(disturbed.zero, h.fullDrive).edge,
  };
}
