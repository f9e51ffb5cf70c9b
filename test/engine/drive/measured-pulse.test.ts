/** Measured drive currents: read off as drawn, and the run under them against the run under edges and widths. */
import { describe, expect, it } from 'vitest';
import { cutPulse } from '../../../engine/capture/cut-pulse.ts';
import { readCapture } from '../../../engine/capture/read-capture.ts';
import { checkDesign } from '../../../engine/check/check-design.ts';
import { DesignError } from '../../../engine/design/design-error.ts';
import { designToJson } from '../../../engine/design/design-to-json.ts';
import { measuredPulse } from '../../../engine/drive/measured-pulse.ts';
import { cycleProgramme, pulseInstants, pulseValue } from '../../../engine/drive/programme.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';

/** Trapezoid of 370 mA: rises in 40 ns from t = 0, falls in 60 ns, 500 ns between half-amplitude points. */
const trapezoid = (t: number): number => 370 * Math.max(0, Math.min(1, t / 40, (20 + 500 + 30 - t) / 60));
const corners = [
  [0, 0],
  [40, 370],
  [490, 370],
  [550, 0],
] as const;
const samples = Array.from({ length: 1101 }, (_, k) => [k / 2, trapezoid(k / 2)] as const);
const table = (points: readonly (readonly [number, number])[]) => ({ points, time: '1 ns', current: '1 mA' });
const shape = { rise: '40 ns', fall: '60 ns' };
const base = { mat: { rows: 8, columns: 8, mats: 2 }, selected: { row: 3, column: 5 } };
const measured = (points: readonly (readonly [number, number])[]): object => {
  const line = { read: table(points), write: table(points) };
  return { ...base, drive: { x: line, y: line } };
};
const drawn = {
  ...base,
  drive: { x: { ...shape, readAmplitude: '370 mA' }, y: { ...shape, readAmplitude: '370 mA' } },
};
const sentence = (raw: object): string => {
  try {
    checkDesign(raw);
  } catch (error) {
    if (error instanceof DesignError) return error.message;
  }
  return '';
};

describe('a measured pulse', () => {
  it('has the amplitude, width, rise and fall that it was drawn with', () => {
    for (const points of [corners, samples]) {
      const pulse = measuredPulse({ points, time: 1e-9, current: 1e-3 });
      expect(pulse.top).toBeCloseTo(0.37, 6);
      expect(pulse.halfOn / 20e-9).toBeCloseTo(1, 5);
      expect(pulse.width / 500e-9).toBeCloseTo(1, 5);
      expect(pulse.rise / 40e-9).toBeCloseTo(1, 5);
      expect(pulse.fall / 60e-9).toBeCloseTo(1, 5);
    }
  });

  it('fills amplitude and edges of the design, and comes back from the file that is written of it', () => {
    const design = checkDesign(measured(corners));
    expect(design.drive.x.readAmplitude).toBeCloseTo(0.37, 12);
    expect(design.drive.x.fall / 60e-9).toBeCloseTo(1, 9);
    expect(checkDesign(designToJson(design))).toEqual(design);
  });

  it('is driven as it was sampled, read and write apart, scaled by its amplitude', () => {
    const read = samples.map(([t, i]) => [t, i * (1 - 2e-4 * t)] as const);
    const raw = { ...base, drive: { x: { read: table(read), writeAmplitude: '350 mA' }, y: {} } };
    const design = checkDesign(raw);
    const { x } = cycleProgramme(
      design,
      { ...design.selected, lines: 'both', read: true, write: 'one' },
      false,
    );
    for (const [t, i] of read) expect(pulseValue(x, t * 1e-9)).toBeCloseTo(-i * 1e-3, 5);
    const at = pulseInstants(design).x;
    expect(pulseValue(x, (at.writeOn + at.writeOff) / 2)).toBeCloseTo(0.35, 12);
    const stronger = {
      ...design,
      drive: { ...design.drive, x: { ...design.drive.x, readAmplitude: 2 * design.drive.x.readAmplitude } },
    };
    const twice = cycleProgramme(
      stronger,
      { ...design.selected, lines: 'both', read: true, write: 'one' },
      false,
    );
    expect(pulseValue(twice.x, 250e-9) / pulseValue(x, 250e-9)).toBeCloseTo(2, 12);
  });

  it('gives the trace that edges and widths give: drawn or sampled, to the error that the run tells', () => {
    const run = (raw: object) => simulate(checkDesign(raw), { contributions: false });
    const reference = run(drawn);
    const apart = (other: typeof reference): number =>
      Math.max(...other.senseVoltage.map((u, i) => Math.abs(u - reference.senseVoltage[i])));
    expect(Math.max(...reference.senseVoltage)).toBeGreaterThan(0.03);
    expect(apart(run(measured(corners)))).toBeLessThan(reference.error!.senseVoltage);
    // A sample where the slope jumps rounds the corner within half a nanosecond.
    const sampled = run(measured(samples));
    const { jumps } = cycleProgramme(reference.design, reference.design.programme[0], false);
    const off = reference.time.map((t) => Math.min(...jumps.map((at) => Math.abs(t - at))));
    const between = sampled.senseVoltage.map((u, i) => (off[i] > 5e-9 ? u - reference.senseVoltage[i] : 0));
    expect(Math.max(...between.map(Math.abs))).toBeLessThan(reference.error!.senseVoltage);
    expect(apart(sampled)).toBeLessThan(0.02 * Math.max(...reference.senseVoltage.map(Math.abs)));
    expect(Math.abs(sampled.strobe.value - reference.strobe.value)).toBeLessThan(0.1e-3);
  });

  it('is refused in one sentence where it is crooked, cut off, empty, or said twice', () => {
    const x = (fields: object): object => ({ ...base, drive: { x: fields, y: {} } });
    const bad = (points: readonly (readonly [number, number])[]) => sentence(x({ read: table(points) }));
    expect(
      bad([
        [0, 0],
        [5, 100],
        [4, 0],
      ]),
    ).toContain('drive.x.read.points must have increasing times');
    expect(
      bad([
        [0, 200],
        [5, 370],
        [9, 0],
      ]),
    ).toContain('must start and end near nothing');
    expect(
      bad([
        [0, 0],
        [5, -370],
        [9, 0],
      ]),
    ).toContain('must have a positive current');
    expect(sentence(x({ read: { file: 'x.csv' } }))).toContain('only the command line reads');
    expect(sentence(x({ read: table(corners), readWidth: '400 ns' }))).toContain('leave one of them out');
    expect(sentence(x({ read: table(corners), source: { kind: 'voltage' } }))).toContain(
      'choose a current source',
    );
  });
});

describe('lines that differ, and pulses that come again', () => {
  it('X and Y may have widths of their own; what follows waits for the wider', () => {
    const design = checkDesign({
      ...base,
      drive: { x: { readWidth: '400 ns', writeWidth: '450 ns' }, y: {} },
    });
    const { x, y } = pulseInstants(design);
    expect(x.readOff - x.readOn).toBeCloseTo(400e-9, 15);
    expect(y.readOff - y.readOn).toBeCloseTo(500e-9, 15);
    expect(x.writeOn).toBeCloseTo(y.writeOn, 15);
    expect(x.writeOff - x.writeOn).toBeCloseTo(450e-9, 15);
  });

  it('read, read again: the second read finds a ZERO; write, write again: the second write changes little', () => {
    const design = checkDesign({
      ...base,
      cycle: { reads: 2, writes: 2, gap: '300 ns', period: '4 us' },
      selected: { row: 3, column: 5, bit: 1 },
    });
    const { time, contributions, selected } = simulate(design, { estimateError: false });
    const { x } = pulseInstants(design);
    const flux = (t: number): number => selected.flux[time.findIndex((at) => at >= t)]!;
    const peak = (from: number): number => {
      const core = contributions!.selectedCore.filter(
        (_, i) => time[i] > from + 60e-9 && time[i] < from + 400e-9,
      );
      return Math.max(...core.map(Math.abs));
    };
    expect(peak(x.readOn)).toBeGreaterThan(20 * peak(x.readOn + x.readEvery));
    expect(peak(x.writeOn)).toBeGreaterThan(20 * peak(x.writeOn + x.writeEvery));
    expect(flux(x.readOn - 20e-9)).toBeGreaterThan(0);
    expect(flux(x.writeOn - 50e-9)).toBeLessThan(0);
    expect(flux(x.writeOff + 100e-9)).toBeGreaterThan(0);
  });
});

describe('a captured drive current', () => {
  it('is cut into its read and its write, whichever way the probe lay', () => {
    for (const sign of [1, -1]) {
      const rows = Array.from({ length: 3000 }, (_, k) => {
        const t = k / 2 - 100;
        const i = -trapezoid(t) + 0.9 * trapezoid(t - 800);
        return `${t}e-9,${sign * i * 1e-3}`;
      });
      const { capture } = readCapture(`time (s),X current (A)\n${rows.join('\n')}\n`);
      const [read, write] = (['read', 'write'] as const).map((what) =>
        measuredPulse(cutPulse(capture!, what)),
      );
      expect(read.top).toBeCloseTo(0.37, 3);
      expect(write.top).toBeCloseTo(0.333, 3);
      expect(write.width / 500e-9).toBeCloseTo(1, 2);
    }
  });
});
