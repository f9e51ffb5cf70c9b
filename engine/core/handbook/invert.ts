import type { CoreParameters } from '../../design/core.ts';
import { disturb } from '../disturb.ts';
import { restState } from '../state.ts';
import { answersOfCore, answerToRead, disturbTest, readFlat } from './answers.ts';
import { moreReadings } from './more-readings.ts';
import { notesFor } from './notes.ts';
import { rangesOf, testOf } from './ranges.ts';
import { mV, ns, refuseImpossible, refuseParameters } from './refuse.ts';
import { drivesOf, parametersFor, type Aim, type Drives } from './start.ts';
import { HandbookError, type CoreHandbook, type HandbookCore } from './values.ts';

const TOLERANCE = 1e-6;
const MAX_PASSES = 80;
const AIMS = ['peak', 'peakTime', 'switchTime', 'one', 'zero'] as const;

/**
 * Model parameters of one core from handbook or bench values. The closed forms give the start; the aim is then
 * shifted by what the simulated core misses, so that with the real rise time it answers peakOne, peakTime and
 * switchTime (and the edge outputs that were given). Throws HandbookError, one sentence, on an impossible set.
 */
export function coreFromHandbook(h: CoreHandbook): HandbookCore {
  refuseImpossible(h);
  const assumed = parametersWith(h, drivesOf(h));
  const more = moreReadings(h, testOf(h), assumed);
  const parameters = more === undefined ? assumed : parametersWith(h, { ...drivesOf(h), ...more });
  const test = testOf(h);
  return {
    parameters,
    achieved: answersOfCore(parameters, h),
    range: rangesOf(h, parameters, test),
    test,
    notes: notesFor(h, parameters),
  };
}

/** The core with these thresholds and knees that answers the readings at full drive. */
function parametersWith(h: CoreHandbook, drives: Drives): CoreParameters {
  const wanted = wantedAnswers(h);
  // A ramp reaches F_0 late and the peak EMF later still: about half of what is left of the rise.
  const late = (h.rise * (1 + drives.dynamicThreshold / h.fullDrive)) / 2;
  const aim: Aim = { ...wanted, peakTime: h.peakTime - late, switchTime: h.switchTime - late };
  aim.peakTime = Math.max(aim.peakTime, 1e-3 * h.peakTime);
  let parameters = parametersFor(h, drives, aim);
  let missed = missedBy(h, parameters, wanted);
  for (let pass = 0; pass < MAX_PASSES && missed.greatest >= TOLERANCE; pass++) {
    for (const key of AIMS) aim[key] += missed[key];
    // A shift that leaves no bell at all (the peak before the drive, the fall before the peak) is held at its edge.
    aim.peakTime = Math.max(aim.peakTime, 1e-3 * h.peakTime);
    aim.switchTime = Math.max(aim.switchTime, aim.peakTime + 1e-3 * h.switchTime);
    parameters = parametersFor(h, drives, aim);
    missed = missedBy(h, parameters, wanted);
  }
  refuseParameters(h, parameters);
  if (!(missed.greatest < TOLERANCE)) {
    throw new HandbookError(
      'peakTime',
      `peakTime, switchTime and peakOne must belong to one bell, but no core of this model answers ${mV(h.peakOne)} ` +
        `at ${ns(h.peakTime)} and a tenth of it at ${ns(h.switchTime)} with a rise of ${ns(h.rise)}: measure again.`,
    );
  }
  return parameters;
}

function wantedAnswers(h: CoreHandbook): Aim {
  return {
    peak: h.peakOne,
    peakTime: h.peakTime,
    switchTime: h.switchTime,
    one: h.halfSelectOne ?? 0,
    zero: h.halfSelectZero ?? h.disturbedZero ?? 0,
  };
}

/** Wanted minus answered, and the greatest relative miss. Edge outputs count only when they were given. */
function missedBy(h: CoreHandbook, p: CoreParameters, wanted: Aim): Aim & { greatest: number } {
  const flat = readFlat(h);
  const one = answerToRead(p, restState(p, 1), h.fullDrive, h.rise, flat);
  const missed = {
    peak: wanted.peak - one.peak,
    peakTime: wanted.peakTime - one.peakTime,
    // A tail beyond the flat top counts as one that ends with it.
    switchTime: wanted.switchTime - (Number.isNaN(one.switchTime) ? flat + h.rise : one.switchTime),
    one: 0,
    zero: 0,
  };
  if (h.halfSelectOne !== undefined) {
    missed.one = wanted.one - answerToRead(p, restState(p, 1), h.fullDrive / 2, h.rise, flat).edge;
    missed.zero = wanted.zero - answerToRead(p, restState(p, 0), h.fullDrive / 2, h.rise, flat).edge;
  } else if (h.disturbedZero !== undefined) {
    const zero = disturb(p, restState(p, 0), disturbTest(h));
    missed.zero = wanted.zero - answerToRead(p, zero, h.fullDrive, h.rise, flat).edge;
  }
  let greatest = 0;
  for (const key of AIMS) {
    if (missed[key] !== 0) greatest = Math.max(greatest, Math.abs(missed[key] / wanted[key]));
  }
  return { ...missed, greatest };
}
