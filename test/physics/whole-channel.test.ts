import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import type { Design } from '../../engine/design/design.ts';
import { simulate } from '../../engine/simulate/simulate.ts';

interface Raw {
  readonly drive: Readonly<Record<'x' | 'y', Readonly<Record<string, unknown>>>>;
  readonly selected: { readonly row: number; readonly column: number };
}
const raw = JSON.parse(
  readFileSync(new URL('../../fixtures/designs/tide-recorder-first-try-32x32.json', import.meta.url), 'utf8'),
) as Raw;

/** 32 × 32 in two halves with leads, voltage-driven lines, an AC-coupled amplifier and ten cycles of history. */
function wholeChannel(): Design {
  const driven = (line: 'x' | 'y'): object => {
    const { readAmplitude: _r, writeAmplitude: _w, ...rest } = raw.drive[line];
    return { ...rest, source: { kind: 'voltage', voltage: '36 V', resistance: '96 ohm' } };
  };
  const history = Array.from({ length: 10 }, (_, i) => ({
    row: i % 2 === 0 ? raw.selected.row : (raw.selected.row + 3 * i) % 32,
    column: i % 2 === 0 ? (raw.selected.column + 5 * i + 5) % 32 : raw.selected.column,
    write: i % 3 === 0 ? 'zero' : 'one',
  }));
  return checkDesign({
    ...raw,
    drive: { ...raw.drive, x: driven('x'), y: driven('y') },
    amplifier: { highPass: '10 kHz' },
    programme: [...history, raw.selected],
  });
}

describe('everything that a channel does at once', () => {
  it('runs to its end with energy, flux and causes accounted for, and reads the bit that is stored', () => {
    const design = wholeChannel();
    expect(design.wire.cable.delay).toBeGreaterThan(0);
    const run = simulate(design);
    expect(run.outcome.kind).toBe('done');
    expect(run.strobe.bit).toBe(design.selected.bit);
    expect(Math.abs(run.energy.residual)).toBeLessThan(1e-3 * run.energy.delivered);
    expect(run.fluxClosure).toBeLessThan(1e-3);
    const parts = Object.values(run.contributions!);
    const peak = run.senseVoltage.reduce((most, u) => Math.max(most, Math.abs(u)), 0);
    for (let i = 0; i < run.time.length; i++) {
      const sum = parts.reduce((total, part) => total + part[i], 0);
      expect(Math.abs(sum - run.senseVoltage[i])).toBeLessThan(1e-9 * peak);
    }
  });

  it('reads otherwise without its history', () => {
    const design = wholeChannel();
    const fresh = simulate({ ...design, programme: design.programme.slice(-1) }, { estimateError: false });
    const used = simulate(design, { estimateError: false });
    expect(Math.abs(fresh.strobe.value - used.strobe.value)).toBeGreaterThan(0.1e-3);
  });
});
