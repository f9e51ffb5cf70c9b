import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../../engine/check/check-design.ts';
import { pulseDrive, type CorePulse } from '../../../engine/core/drive.ts';
import { checkHandbook } from '../../../engine/core/handbook/check-handbook.ts';
import { coreReport } from '../../../engine/core/handbook/core-report.ts';
import { integrateTrace, runCore } from '../../../engine/core/single.ts';
import { restState } from '../../../engine/core/state.ts';
import { measuringPlan, type CoreReading } from '../../../engine/pack/measuring/measuring-plan.ts';
import { measuringRows, readingText } from '../../../engine/pack/measuring/measuring-sheet.ts';

const ns = 1e-9;
const design = checkDesign({ core: { preset: 'ferrite-20-mil' } });
const { parameters, test } = design.core;
const plan = measuringPlan(design);
const all = plan.measurements.flatMap((m) => m.readings);
const reading = (what: string): CoreReading => {
  const found = all.find((r) => r.what === what);
  if (found === undefined) throw new Error(`There is no reading "${what}".`);
  return found;
};
const field = (name: string): CoreReading => all.find((r) => r.field === name)!;

/** The sense voltage of a train of pulses, stepped through in half nanoseconds: nothing of the plan's own reading. */
function bench(pulses: readonly Omit<CorePulse, 'rise' | 'fall' | 'start'>[], bit: 0 | 1) {
  const { rise } = test;
  let start = 0;
  const placed = pulses.map((pulse) => {
    const at = { ...pulse, start, rise, fall: rise };
    start += pulse.width + 3 * rise;
    return at;
  });
  const trace = runCore(parameters, pulseDrive(placed, start), {
    step: 0.5 * ns,
    initial: restState(parameters, bit),
  });
  const last = placed.at(-1)!;
  const from = trace.time.findIndex((t) => t > last.start + rise);
  const to = trace.time.findIndex((t) => t > last.start + last.width - rise / 2);
  const top = trace.emf.slice(from, to).map(Math.abs);
  const k = top.indexOf(Math.max(...top));
  return { trace, peak: top[k]!, peakTime: trace.time[from + k]! - last.start };
}

describe('what to measure on one core', () => {
  it('expects of each drive the peak and its time that a stepped read shows', () => {
    for (const part of [0.9, 1, 1.2]) {
      const { peak, peakTime } = bench([{ amplitude: -part * plan.fullDrive, width: plan.pulse }], 1);
      expect(reading(`peak at ${Math.round(part * 100)} %`).expected / peak).toBeCloseTo(1, 2);
      expect(reading(`time of the peak at ${Math.round(part * 100)} %`).expected).toBeGreaterThan(
        peakTime - 1 * ns,
      );
      expect(reading(`time of the peak at ${Math.round(part * 100)} %`).expected).toBeLessThan(
        peakTime + 1 * ns,
      );
    }
  });

  it('expects as area of a ONE less a ZERO what the two integrals leave', () => {
    const pulse = { amplitude: -plan.fullDrive, width: plan.pulse };
    const area = (bit: 0 | 1): number => {
      const { trace } = bench([pulse], bit);
      return Math.abs(integrateTrace(trace.time, trace.emf));
    };
    expect(reading('area of a ONE less that of a ZERO at 100 %').expected / (area(1) - area(0))).toBeCloseTo(
      1,
      2,
    );
  });

  it('expects after half pulses and after a cut write what the stepped train shows', () => {
    const half = { amplitude: 0.6 * plan.fullDrive, width: test.disturbWidth };
    const read = { amplitude: -plan.fullDrive, width: plan.pulse };
    // The plan's half pulses stand at once, so theirs are a little longer than those with edges.
    const after32 = bench([...Array.from({ length: 32 }, () => half), read], 0).peak;
    expect(reading('32 half pulses of 60 %').expected / after32).toBeCloseTo(1, 1);
    const cut = all.find((r) => r.what.startsWith('peak after a write cut'))!;
    const until = Number(/(\d+) ns/u.exec(cut.what)![1]) * ns;
    const short = bench([{ amplitude: plan.fullDrive, width: until }, read], 0).peak;
    expect(cut.expected / short).toBeCloseTo(1, 1);
  });

  it('holds every expected figure between its ends, and leaves room for other cores', () => {
    for (const { expected, low, high, what } of all) {
      expect(low, what).toBeLessThanOrEqual(expected);
      expect(high, what).toBeGreaterThanOrEqual(expected);
    }
    expect(plan.cores).toBeGreaterThan(20);
    const { low, high } = reading('peak at 120 %');
    // A core from memory leaves its threshold open, and so the peak at another drive.
    expect(high / low).toBeGreaterThan(1.3);
  });

  it('gives readings that, put into a handbook file, are the core again', () => {
    const { handbook } = checkHandbook({
      fullDrive: `${plan.fullDrive} A`,
      rise: `${plan.rise} s`,
      peakOne: `${field('peakOne').expected} V`,
      peakTime: `${field('peakTime').expected} s`,
      switchTime: `${field('switchTime').expected} s`,
      secondDrive: `${field('secondPeak').drive} A`,
      secondPeak: `${field('secondPeak').expected} V`,
      disturbRatio: field('disturbedPeak').drive / plan.fullDrive,
      disturbedPeak: `${field('disturbedPeak').expected} V`,
      halfSelectOne: `${field('halfSelectOne').expected} V`,
      halfSelectZero: `${field('halfSelectZero').expected} V`,
      outsideDiameter: '0.508 mm',
      insideDiameter: '0.305 mm',
      height: '0.127 mm',
    });
    const { parameters: back, range } = coreReport(handbook);
    expect(back.dynamicThreshold / parameters.dynamicThreshold).toBeCloseTo(1, 1);
    expect(back.remanentFlux / parameters.remanentFlux).toBeCloseTo(1, 1);
    // What stays open, the widths of the knees among it, stands in the ranges: they hold the core that was read.
    for (const name of [
      'dynamicThreshold',
      'remanentFlux',
      'coerciveDrive',
      'switchingResistance',
    ] as const) {
      expect(range[name].low, name).toBeLessThanOrEqual(parameters[name]);
      expect(range[name].high, name).toBeGreaterThanOrEqual(parameters[name]);
    }
  });

  it('is a table with a column to fill in, and prints nothing that no bench can tell', () => {
    const rows = measuringRows(plan);
    expect(rows.length).toBe(all.length + 1);
    expect(new Set(rows.map((row) => row.length))).toEqual(new Set([9]));
    expect(readingText(3e-12, 'V')).toBe('under 50 µV');
    expect(readingText(0.04831, 'V')).toBe('48 mV');
    expect(readingText(1.2654e-7, 's')).toBe('127 ns');
  });
});
