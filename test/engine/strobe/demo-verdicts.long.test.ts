/** The demo that opens first keeps what it asks for at its own corners; the first try beside it shows one that does not. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, vi } from 'vitest';
import { checkDesign, parseDesignText } from '../../../engine/check/check-design.ts';
import { strobeWindow } from '../../../engine/strobe/strobe-window.ts';

/** ms, for a slow machine. */
vi.setConfig({ testTimeout: 600_000 });

const folder = join(import.meta.dirname, '../../../fixtures/designs');
const verdictOf = (name: string) =>
  strobeWindow(parseDesignText(readFileSync(join(folder, `${name}.json`), 'utf8')), { cases: 'corners' })
    .verdict;

describe('a first try', () => {
  it.each(['classroom-board-first-try-4x4', 'supply-rig-first-try-8x8x8'])(
    'that fails where it is warm, %s, reads at one temperature',
    (name) => {
      const raw = JSON.parse(readFileSync(join(folder, `${name}.json`), 'utf8')) as object;
      expect(verdictOf(name)).toMatchObject({ design: 'fails', decides: 'corners' });
      const steady = strobeWindow(checkDesign({ ...raw, tolerances: { temperature: '0 K' } }), {
        cases: 'corners',
      });
      expect(steady.verdict.design).toBe('reads');
    },
  );
});

describe('the tide recorder', () => {
  it('reads as designed and at its corners', () => {
    const { design, sets } = verdictOf('tide-recorder-16x16');
    expect(design).toBe('reads');
    expect(sets.nominal?.margin).toBeGreaterThan(8e-3);
    expect(sets.corners?.margin).toBeGreaterThan(5e-3);
  });

  it('is joined by a proposed build that does so too, with the margin that its proposal stated', () => {
    const { design, sets } = verdictOf('bell-pattern-8x8');
    expect(design).toBe('reads');
    expect(sets.corners?.margin).toBeCloseTo(5.73e-3, 4);
    expect(sets.corners?.width).toBeCloseTo(100e-9, 8);
  });

  it.each([
    ['classroom-board-4x4', 19.1e-3],
    ['supply-rig-8x8x8', 5.65e-3],
    ['tide-recorder-32x32', 5.35e-3],
  ])(
    'is joined by %s, which reads at its corners too, with the margin that its proposal stated',
    (name, margin) => {
      const { design, sets } = verdictOf(name);
      expect(design).toBe('reads');
      expect(sets.corners?.margin).toBeCloseTo(margin, 4);
    },
  );

  it('in its first try reads as designed and fails at its corners', () => {
    const { design, decides, sets } = verdictOf('tide-recorder-first-try-16x16');
    expect(sets.nominal?.verdict).not.toBe('fails');
    expect(decides).toBe('corners');
    expect(design).toBe('fails');
  });
});
