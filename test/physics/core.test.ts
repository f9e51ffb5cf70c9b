/**
 * One core against values from outside: rows C1 to C10, D2 of the published fixture (the source stands beside each
 * row there). Pairs of routes: closed form and stepped bracket; stepped core and definition.
 */
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  bellArea,
  bellEmf,
  bellFlux,
  bellSpan,
  halfWidth,
  peakFlux,
  peakTime,
  startEmf,
  switchingTime,
  tenthWidth,
  type Bell,
} from '../../engine/core/closed-forms.ts';
import { disturb, disturbHistory } from '../../engine/core/disturb.ts';
import { pulseDrive, stepDrive } from '../../engine/core/drive.ts';
import { coreArea, coreField } from '../../engine/core/geometry.ts';
import { DISTURB_RATIOS } from '../../engine/core/handbook/values.ts';
import { bellFraction, switchFlux } from '../../engine/core/model.ts';
import { integrateTrace, runCore } from '../../engine/core/single.ts';
import { restState } from '../../engine/core/state.ts';
import { mainPartOnly, published, relative, testCore } from './core-helpers.ts';

/** EMF of the bracket alone, stepped with the exact step: time of peak, peak, widths at levels, area. */
function stepBell(b: Bell, h: number) {
  const time: number[] = [];
  const emf: number[] = [];
  let phi = -b.phiR;
  let area = 0;
  for (let k = 0; k < 1e6; k++) {
    time.push(k * h);
    emf.push(b.vP * bellFraction(phi, b.phiS, b.phiD));
    if (k > 0) area += ((emf[k] + emf[k - 1]) / 2) * h;
    if (k > 100 && emf[k] < 1e-9 * b.vP) break;
    phi = switchFlux(phi, b.phiS, b.phiD, b.vP, h);
  }
  const peak = Math.max(...emf);
  const at = emf.indexOf(peak);
  const rise = (level: number): number => {
    const k = emf.findIndex((v) => v >= level * peak);
    if (k === 0) return Number.NaN;
    return time[k - 1] + ((level * peak - emf[k - 1]) / (emf[k] - emf[k - 1])) * h;
  };
  const fall = (level: number): number => {
    const k = emf.findIndex((v, i) => i > at && v <= level * peak);
    return time[k - 1] + ((emf[k - 1] - level * peak) / (emf[k - 1] - emf[k])) * h;
  };
  return { peakTime: time[at], peak, area, start: emf[0], rise, fall };
}

describe('main inelastic part under a step of drive', () => {
  const row1 = published.C1;
  const bell1: Bell = row1.given;

  it('C1: closed forms give the published peak time, widths, switching time and starting EMF', () => {
    // Source: fixtures/published/core.json, C1 (IEEE Trans. Magnetics, Sept. 1965, and derivation from it).
    expect(relative(peakTime(bell1), row1.expected.peakTime)).toBeLessThan(row1.tolerance);
    expect(relative(halfWidth(bell1), row1.expected.halfWidth)).toBeLessThan(row1.tolerance);
    expect(relative(switchingTime(bell1), row1.expected.switchingTime)).toBeLessThan(row1.tolerance);
    expect(relative(startEmf(bell1), row1.expected.startEmf)).toBeLessThan(row1.tolerance);
  });

  it('C1: the stepped bracket gives the same by a route of its own', () => {
    const run = stepBell(bell1, 0.05e-9);
    expect(relative(run.peakTime, row1.expected.peakTime)).toBeLessThan(row1.tolerance);
    expect(relative(run.fall(0.5) - run.rise(0.5), row1.expected.halfWidth)).toBeLessThan(row1.tolerance);
    expect(relative(run.fall(0.1), row1.expected.switchingTime)).toBeLessThan(row1.tolerance);
    expect(relative(run.start, row1.expected.startEmf)).toBeLessThan(row1.tolerance);
  });

  it('C2: the area of a full switch is phi_d + phi_r', () => {
    // Derived: the integral of dphi/dt from -phi_r to phi_d.
    expect(relative(bellArea(bell1), row1.expected.area)).toBeLessThan(1e-9);
    expect(relative(stepBell(bell1, 0.2e-9).area, row1.expected.area)).toBeLessThan(1e-3);
    for (const F of [0.6, 0.74, 0.9, 1.4]) {
      const start = restState(mainPartOnly, 0);
      const trace = runCore(mainPartOnly, stepDrive(F, 4e-6), { step: 1e-9, initial: start });
      const rest = mainPartOnly.remanentFlux * (2 / (1 + Math.exp((0.45 - F) / 0.015)) - 1);
      const area = integrateTrace(trace.time, trace.emf);
      expect(relative(area, rest + mainPartOnly.remanentFlux)).toBeLessThan(1e-3);
    }
  });

  it('C3: a static flux under saturation peaks later, at its own flux, with its own area', () => {
    const { given, expected, tolerance } = published.C3;
    expect(relative(peakTime(given), expected.peakTime)).toBeLessThan(tolerance);
    expect(relative(peakFlux(given), expected.peakFlux)).toBeLessThan(tolerance);
    expect(relative(bellArea(given), expected.area)).toBeLessThan(tolerance);
    const run = stepBell(given, 0.05e-9);
    expect(relative(run.peakTime, expected.peakTime)).toBeLessThan(tolerance);
    expect(relative(run.area, expected.area)).toBeLessThan(tolerance);
    expect(relative(bellFlux(given, run.peakTime), expected.peakFlux)).toBeLessThan(tolerance);
  });

  it('C4: every bell that starts under a tenth of its peak has the width ratios of sech²', () => {
    const { expected, tolerance } = published.C4;
    fc.assert(
      fc.property(
        fc.double({ min: 0.1e-9, max: 50e-9, noNaN: true }),
        // Squareness from which the start lies under a tenth of the peak, for phi_d = phi_r.
        fc.double({ min: 0.952, max: 0.9995, noNaN: true }),
        fc.double({ min: 1e-3, max: 0.5, noNaN: true }),
        (phiR, squareness, vP) => {
          const bell = { phiR, phiS: phiR / squareness, phiD: phiR, vP };
          fc.pre(startEmf(bell) < 0.1 * vP);
          const run = stepBell(bell, bellSpan(bell) / vP / 2000);
          const half = run.fall(0.5) - run.rise(0.5);
          expect(relative((run.fall(0.1) - run.rise(0.1)) / half, expected.tenthOverHalf)).toBeLessThan(
            tolerance,
          );
          expect(relative((vP * half) / bellSpan(bell), expected.halfTimesPeakOverSpan)).toBeLessThan(
            tolerance,
          );
          expect(relative(tenthWidth(bell) / halfWidth(bell), expected.tenthOverHalf)).toBeLessThan(1e-4);
        },
      ),
      { numRuns: 60, seed: 4 },
    );
  });

  it('the closed form is the solution: stepped EMF equals sech² to rounding at any step', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-11, max: 5e-7, noNaN: true }), (t) => {
        const phi = switchFlux(-bell1.phiR, bell1.phiS, bell1.phiD, bell1.vP, t);
        const emf = bell1.vP * bellFraction(phi, bell1.phiS, bell1.phiD);
        expect(Math.abs(emf - bellEmf(bell1, t))).toBeLessThan(1e-12 * bell1.vP);
        expect(Math.abs(phi - bellFlux(bell1, t))).toBeLessThan(1e-12 * bell1.phiS);
      }),
      { seed: 5 },
    );
  });

  it('C7: 1/width against drive is a straight line through the dynamic threshold', () => {
    const core = mainPartOnly;
    const drives = Array.from({ length: 9 }, (_, k) => 0.75 + 0.05 * k);
    const inverse = drives.map((F) => {
      const trace = runCore(core, stepDrive(F, 1.5e-6), { step: 0.25e-9, initial: restState(core, 0) });
      const peak = Math.max(...trace.emf);
      const top = trace.emf.indexOf(peak);
      const cross = (from: number, step: 1 | -1): number => {
        let k = from;
        while (trace.emf[k] > peak / 2) k += step;
        const f = (peak / 2 - trace.emf[k]) / (trace.emf[k - step] - trace.emf[k]);
        return trace.time[k] + f * (trace.time[k - step] - trace.time[k]);
      };
      return 1 / (cross(top, 1) - cross(top, -1));
    });
    const meanF = drives.reduce((a, b) => a + b) / drives.length;
    const meanY = inverse.reduce((a, b) => a + b) / inverse.length;
    let sxy = 0;
    let sxx = 0;
    let syy = 0;
    drives.forEach((F, k) => {
      sxy += (F - meanF) * (inverse[k] - meanY);
      sxx += (F - meanF) ** 2;
      syy += (inverse[k] - meanY) ** 2;
    });
    const { leastR2, interceptTolerance } = published.C7.expected;
    expect(sxy ** 2 / (sxx * syy)).toBeGreaterThan(leastR2);
    const intercept = meanF - (meanY * sxx) / sxy;
    expect(relative(intercept, core.dynamicThreshold)).toBeLessThan(interceptTolerance);
  });
});

describe('decaying inelastic part', () => {
  it('C5: starts at rho_i (F - F_d), decays with C_i/(F - F_d), and its area is rho_i C_i', () => {
    const { given, expected, tolerance } = published.C5;
    const core = { ...mainPartOnly, ...given };
    const initial = { phi: core.remanentFlux, psi: -(core.decayResistance * core.decayCharge) / 2 };
    for (const { drive, peak, tau, area } of expected) {
      const trace = runCore(core, stepDrive(drive, 1e-6), { step: 0.1e-9, initial });
      expect(relative(trace.emf[0], peak)).toBeLessThan(tolerance);
      const later = trace.time.findIndex((t) => t >= tau);
      expect(relative(trace.emf[later], peak / Math.E)).toBeLessThan(2 * tolerance);
      expect(relative(integrateTrace(trace.time, trace.emf), area)).toBeLessThan(tolerance);
      const k = trace.time.findIndex((t) => t >= 50e-9);
      expect(relative(trace.time[k] / Math.log(trace.emf[0] / trace.emf[k]), tau)).toBeLessThan(tolerance);
    }
  });
});

describe('elastic part', () => {
  it('C6: a ramp gives eps dF/dt, and its area does not depend on the rise time', () => {
    const { given, expected, tolerance } = published.C6;
    const core = {
      ...testCore,
      decayResistance: 0,
      elasticSaturated: given.elastic,
      elasticKnee: given.elastic,
    };
    for (const { rise, emf, area } of expected) {
      const pulse = { amplitude: given.drive, start: 0, width: rise + 100e-9, rise, fall: rise };
      const drive = pulseDrive([pulse], rise + 50e-9);
      // A ONE pushed further into its state: nothing switches, the elastic part answers alone.
      const trace = runCore(core, drive.slice(0, 2), { step: 1e-9, initial: restState(core, 1) });
      const middle = trace.time.findIndex((t) => t >= rise / 2);
      expect(relative(trace.emf[middle], emf)).toBeLessThan(tolerance);
      expect(relative(integrateTrace(trace.time, trace.emf), area)).toBeLessThan(tolerance);
    }
  });

  it('a half-selected ONE answers more than a half-selected ZERO on the same edge', () => {
    const pulse = { amplitude: -0.37, start: 0, width: 200e-9, rise: 50e-9, fall: 50e-9 };
    const drive = pulseDrive([pulse], 300e-9);
    const area = (bit: 0 | 1): number => {
      const trace = runCore(testCore, drive.slice(0, 1), { step: 1e-9, initial: restState(testCore, bit) });
      return -integrateTrace(trace.time, trace.elastic);
    };
    expect(area(1)).toBeGreaterThan(area(0));
  });
});

describe('disturb trains', () => {
  it('C8: after a ONE the flux falls, after a ZERO it rises, and both level off', () => {
    const train = { halfDrive: 0.4, width: 1e-6, pulses: 60 };
    const one = disturbHistory(mainPartOnly, restState(mainPartOnly, 1), train);
    const zero = disturbHistory(mainPartOnly, restState(mainPartOnly, 0), train);
    const firstOne = one[1] - one[0];
    const firstZero = zero[1] - zero[0];
    expect(firstOne).toBeLessThan(0);
    expect(firstZero).toBeGreaterThan(0);
    const { lastOverFirst } = published.C8.expected;
    expect(Math.abs((one[60] - one[59]) / firstOne)).toBeLessThan(lastOverFirst);
    expect(Math.abs((zero[60] - zero[59]) / firstZero)).toBeLessThan(lastOverFirst);
    for (let n = 1; n <= 60; n++) {
      expect(one[n]).toBeLessThanOrEqual(one[n - 1]);
      expect(zero[n]).toBeGreaterThanOrEqual(zero[n - 1]);
    }
  });

  it('C9: with half-select at half of full drive, disturbed ONE over disturbed ZERO falls toward 1 when overdriven', () => {
    const core = { ...mainPartOnly, elasticSaturated: 0.7e-9, elasticKnee: 0.9e-9 };
    const ratios = [0.74, 0.8, 0.84, 0.88, 0.92, 0.96, 1.0, 1.1, 1.2, 1.4].map((full) => {
      const train = { halfDrive: full / 2, width: 1e-6, pulses: 500 };
      // What the read delivers: the change of linkage while the full drive stands.
      const answer = (bit: 0 | 1): number => {
        const initial = disturb(core, restState(core, bit), train);
        const pulse = { amplitude: -full, start: 0, width: 2e-6, rise: 50e-9, fall: 50e-9 };
        const trace = runCore(core, pulseDrive([pulse], 2.2e-6), { step: 1e-9, initial });
        let greatest = 0;
        for (let k = 0; k < trace.time.length; k++) greatest = Math.max(greatest, -trace.emf[k]);
        return greatest;
      };
      return answer(1) / answer(0);
    });
    for (let k = 1; k < ratios.length; k++) expect(ratios[k]).toBeLessThan(ratios[k - 1] + 1e-9);
    expect(ratios[0]).toBeGreaterThan(4);
    expect(ratios.at(-1)).toBeLessThan(published.C9.expected.grossRatioBelow);
    expect(relative(ratios.at(-1)!, 1)).toBeLessThan(0.01);
  });

  it('D2: the disturb ratio presets are those of coincident current and linear select', () => {
    expect(DISTURB_RATIOS).toEqual(published.D2.expected);
  });
});

describe('geometry', () => {
  it('C10: area and field of a 20/12/5 mil core at 740 mA', () => {
    const { given, expected, tolerance } = published.C10;
    const mil = 25.4e-6;
    const size = {
      outsideDiameter: given.outsideMil * mil,
      insideDiameter: given.insideMil * mil,
      height: given.heightMil * mil,
    };
    expect(relative(coreArea(size), expected.area)).toBeLessThan(tolerance);
    const field = coreField(size, given.drive);
    for (const place of ['inside', 'mean', 'outside'] as const) {
      expect(relative(field[place].oersted, expected.oersted[place])).toBeLessThan(tolerance);
    }
    // Derived: Ampère's law at the mean diameter, 16 mil.
    expect(relative(field.mean.amperePerMetre, 0.74 / (Math.PI * 16 * mil))).toBeLessThan(1e-12);
  });
});
