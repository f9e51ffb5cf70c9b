/** A drive that follows the temperature is the same design as one whose amplitudes were written for that temperature. */
import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../../engine/check/check-design.ts';
import { greatestDrive } from '../../../engine/check/rules-core.ts';
import { driveLevels } from '../../../engine/drive/at-temperature.ts';
import { mayReachLimit } from '../../../engine/drive/line-voltage.ts';
import { buildNumbers } from '../../../engine/estimates/build-numbers.ts';
import { estimateRecovery } from '../../../engine/estimates/recovery.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';
import { bellsAtStrobe } from '../../../engine/studies/tolerance/draw.ts';
import { designWarnings } from '../../../engine/warnings/design-warnings.ts';

/** 8 x 8 at 65 °C: -0.4 %/K leaves 0.84 of what flows at 25 °C (derived), 310.8 of 370 mA. */
const raw = (line: object, inhibit: object): object => ({
  mat: { rows: 8, columns: 8, mats: 4 },
  temperature: '65 degC',
  initialState: 'disturbed',
  // A drive that tracks misses by something, and differs at the ends of the temperature: neither here.
  tolerances: { temperature: '0 K', gradient: '0 K', tracking: 0 },
  drive: { x: line, y: line, inhibit },
});
const tracking = checkDesign(
  raw(
    { readAmplitude: '370 mA', temperatureCoefficient: '-0.4 %/K' },
    { amplitude: '340 mA', temperatureCoefficient: '-0.4 %/K' },
  ),
);
const written = checkDesign(raw({ readAmplitude: '310.8 mA' }, { amplitude: '285.6 mA' }));

describe('a drive that tracks the temperature', () => {
  it('flows as one that was written down for that temperature', () => {
    const levels = driveLevels(tracking);
    expect(levels.x.read).toBeCloseTo(0.3108, 12);
    expect(levels.y.write).toBeCloseTo(0.3108, 12);
    expect(levels.inhibit).toBeCloseTo(0.2856, 12);
  });

  it('gives the same trace, history of the cores included, and the same default strobe to 1 ns', () => {
    const [a, b] = [tracking, written].map((design) => simulate(design, { estimateError: false }));
    const apart = a.senseVoltage.map((u, i) => Math.abs(u - b.senseVoltage[i]));
    expect(Math.max(...b.senseVoltage)).toBeGreaterThan(10e-3);
    expect(Math.max(...apart)).toBeLessThan(1e-9);
    expect(Math.abs(a.strobe.time - b.strobe.time)).toBeLessThan(1e-9);
  });

  it('gives the same estimates, rules and warnings', () => {
    const of = (design: typeof tracking) => ({
      numbers: buildNumbers(design),
      recovery: estimateRecovery(design),
      greatest: greatestDrive(design),
      limited: mayReachLimit(design, 'x'),
      bell: bellsAtStrobe({ ...design, strobe: { ...design.strobe, time: 200e-9 } }, 'disturbed').full(1),
      warnings: designWarnings(design).map(({ code, value, limit }) => ({ code, value, limit })),
    });
    const rounded = (value: unknown): unknown =>
      JSON.parse(
        JSON.stringify(value, (_, v: unknown) => (typeof v === 'number' ? Number(v.toPrecision(9)) : v)),
      );
    expect(rounded(of(tracking))).toEqual(rounded(of(written)));
  });
});
