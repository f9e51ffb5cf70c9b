import { quickRead } from '../quick-read.ts';
import { advanceCore, restState } from '../state.ts';
import type { CoreParameters, CoreTest } from '../../design/core.ts';

/** What the test of a core shows (see CoreTest): magnitudes; times in s from the start of the rise. */
export interface TestReadings {
  /** V. */
  readonly peak: number;
  readonly peakTime: number;
  readonly switchingTime: number;
  /** V: peak at the second drive; NaN where there is none. */
  readonly second: number;
}

/** Reads a model core as its test does. A ONE that is read and a ZERO that is written answer alike. */
export function readCore(p: CoreParameters, test: CoreTest): TestReadings {
  const rest = restState(p, 0);
  const { peak, peakTime, switchingTime } = quickRead(p, rest, test.fullDrive, test.rise);
  return {
    peak,
    peakTime,
    switchingTime,
    second:
      test.secondDrive === undefined ? Number.NaN : quickRead(p, rest, test.secondDrive, test.rise).peak,
  };
}

/** V: peak of a ONE under a full read after the test's half-read pulses. */
export function disturbedOnePeak(p: CoreParameters, test: CoreTest): number {
  const half = test.disturbRatio * test.fullDrive;
  // A ONE that is read, mirrored: a ZERO that is written after half-writes.
  const state = advanceCore(p, restState(p, 0), half, test.disturbs * test.disturbWidth);
  return quickRead(p, state, test.fullDrive, test.rise).peak;
}

/** V: what a ZERO gives under a full read after the test's half-write pulses, beyond the edge. */
export function disturbedPeak(p: CoreParameters, test: CoreTest): number {
  const half = test.disturbRatio * test.fullDrive;
  // Pulses of one direction at one drive are one long pulse: the step is exact.
  const state = advanceCore(p, restState(p, 0), half, test.disturbs * test.disturbWidth);
  const mirrored = { phi: -state.phi, psi: -state.psi, rings: state.rings?.map((phi) => -phi) };
  return quickRead(p, mirrored, test.fullDrive, test.rise).peak;
}

/** Part of the swing that a full pulse must switch, and of a ONE's peak that a disturbed ZERO may reach. */
const SETS = 0.95;
const KEEPS = 0.25;

/** Is this a core that a coincident-current memory can use: within the limits of the model, sets, and keeps? */
export function worksAsMemory(p: CoreParameters, test: CoreTest): boolean {
  if (!isAdmissible(p, test)) return false;
  const { peak, switchingTime } = quickRead(p, restState(p, 0), test.fullDrive, test.rise);
  const set = advanceCore(p, restState(p, 0), test.fullDrive, 2 * switchingTime);
  if (!(set.phi > (2 * SETS - 1) * p.remanentFlux)) return false;
  return disturbedPeak(p, test) < KEEPS * peak;
}

/**
 * As a design file admits it. Such cores have 0.83 to 0.996, but one that is read at two drives can come out at 0.55: a
 * core of rings leans, and one bell that answers alike starts nearer to its top.
 */
const SQUARENESS = { least: 0.5, greatest: 0.9999 } as const;

/** The limits of the core model (core/model.ts, check/rules-core.ts). */
export function isAdmissible(p: CoreParameters, test: CoreTest): boolean {
  const bent = Math.hypot(test.fullDrive, p.elasticBend) - p.elasticBend;
  const b = (p.elasticKnee - p.elasticSaturated) / 2;
  return (
    p.remanentFlux > 0 &&
    p.switchingResistance > 0 &&
    p.squareness >= SQUARENESS.least &&
    p.squareness <= SQUARENESS.greatest &&
    p.coerciveDrive >= 6 * p.staticKneeWidth &&
    p.dynamicThreshold >= 10 * p.dynamicKneeWidth &&
    p.dynamicThreshold * (1 + p.ringSpread) < test.fullDrive &&
    p.elasticSaturated > 0 &&
    p.elasticKnee >= p.elasticSaturated &&
    b * bent < p.remanentFlux / 2
  );
}
