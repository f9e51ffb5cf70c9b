/**
 * A handbook with a peak at a second drive and a disturbed reading: thresholds come back that readings at one drive do
 * not show. The readings are taken off another core by stepping it finely.
 */
import { describe, expect, it } from 'vitest';
import { pulseDrive } from '../../engine/core/drive.ts';
import { coreFromHandbook } from '../../engine/core/handbook/invert.ts';
import { HandbookError, type CoreHandbook } from '../../engine/core/handbook/values.ts';
import { readAnswer } from '../../engine/core/measure.ts';
import { runCore } from '../../engine/core/single.ts';
import { advanceCore, restState, type CoreState } from '../../engine/core/state.ts';
import { coreDraws } from '../../engine/core/unknowns/core-draws.ts';
import type { CoreParameters } from '../../engine/design/core.ts';
import { relative, testCore } from './core-helpers.ts';

const DRIVE = 0.74;
const RISE = 60e-9;
/** A core whose threshold lies far from what is assumed, and whose knees are those that a handbook core is given. */
const core: CoreParameters = {
  ...testCore,
  dynamicThreshold: 0.52,
  coerciveDrive: 0.47,
  staticKneeWidth: 0.0148,
  dynamicKneeWidth: 0.0148,
  decayResistance: 0,
};
function read(state: CoreState, drive: number) {
  const pulse = { amplitude: -drive, start: 0, width: 900e-9, rise: RISE, fall: RISE };
  const trace = runCore(core, pulseDrive([pulse], 900e-9), { step: 0.25e-9, initial: state });
  return readAnswer(trace, 0, RISE, 900e-9);
}
const one = read(restState(core, 1), DRIVE);
const basic: CoreHandbook = {
  fullDrive: DRIVE,
  rise: RISE,
  peakOne: one.peak,
  peakTime: one.peakTime,
  switchTime: one.switchTime,
  outsideDiameter: 508e-6,
  insideDiameter: 304.8e-6,
  height: 127e-6,
};
const secondDrive = 0.9 * DRIVE;
const second = { secondDrive, secondPeak: read(restState(core, 1), secondDrive).peak };
/** As long as coreFromHandbook takes each half pulse to be: twice the switching time less half a rise. */
const width = 1024 * (2 * one.switchTime - RISE / 2);
const disturbed = (F: number, bit: 0 | 1): number =>
  read(advanceCore(core, restState(core, bit), bit === 1 ? -F : F, width), DRIVE).peak;

describe('a handbook with more readings', () => {
  it('finds the dynamic threshold by the second drive, and then answers at a third', () => {
    const alone = coreFromHandbook(basic).parameters;
    const { parameters } = coreFromHandbook({ ...basic, ...second });
    expect(relative(parameters.dynamicThreshold, core.dynamicThreshold)).toBeLessThan(0.03);
    expect(relative(alone.dynamicThreshold, core.dynamicThreshold)).toBeGreaterThan(0.1);
  });

  it('finds the coercive drive by a disturbed ONE or by a disturbed ZERO', () => {
    // A ONE keeps its peak until half-selects have taken nearly half of it: here they have.
    for (const [disturbRatio, more] of [
      [0.64, { disturbedOne: disturbed(0.64 * DRIVE, 1) }],
      [0.6, { disturbedPeak: disturbed(0.6 * DRIVE, 0) }],
    ] as const) {
      const { parameters } = coreFromHandbook({ ...basic, ...second, ...more, disturbRatio });
      expect(relative(parameters.coerciveDrive, core.coerciveDrive)).toBeLessThan(0.02);
    }
  });

  it('leaves less open: cores drawn from it agree at 1.1 of full drive where those without it do not', () => {
    const spread = (h: CoreHandbook): number => {
      const { cores } = coreDraws({ name: '', source: '', ...coreFromHandbook(h) }, 25, 5);
      const F0 = cores.map((p) => p.dynamicThreshold).sort((a, b) => a - b);
      return F0[22]! - F0[2]!;
    };
    expect(spread({ ...basic, ...second })).toBeLessThan(0.5 * spread(basic));
  });

  it('is refused with one sentence where the readings belong to no core', () => {
    expect(() => coreFromHandbook({ ...basic, secondDrive: 0.66 })).toThrow(
      'secondPeak must be given together',
    );
    expect(() => coreFromHandbook({ ...basic, ...second, secondDrive: 0.75 })).toThrow('3 % or more');
    expect(() => coreFromHandbook({ ...basic, disturbedOne: 2 * basic.peakOne })).toThrow('under peakOne');
    expect(() => coreFromHandbook({ ...basic, ...second, secondPeak: 2 * basic.peakOne })).toThrow(
      HandbookError,
    );
  });
});
