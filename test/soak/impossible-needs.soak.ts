import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Relaxed } from '../../engine/propose/relax.ts';
import { relaxedWords } from '../../engine/propose/answer-words.ts';
import { propose } from '../../engine/propose/propose.ts';
import { tell } from './figures.ts';

const FILE = join(import.meta.dirname, '../../fixtures/needs/message-store-256x12.json');
const NEEDS = JSON.parse(readFileSync(FILE, 'utf8')) as object;

/** Four minutes of a processor together: only where it is asked for (`SOAK_PROPOSALS=whole`). */
describe.skipIf(process.env['SOAK_PROPOSALS'] !== 'whole')('needs that nothing meets', () => {
  const relaxed = (answer: ReturnType<typeof propose>, need: string): Relaxed =>
    answer.relax.find((each) => each.need === need && each.also === undefined)!;

  it('without drives that follow the temperature: these, or less heat and cold, or less margin, and never better drives alone', () => {
    const answer = propose({ ...NEEDS, drivers: { track: false } });
    const span = relaxed(answer, '/temperature').to;
    const margin = relaxed(answer, '/want/margin').to;
    const told = answer.relax.map((each) => relaxedWords(each)).join('; ');
    const found = `nearest ${answer.nearest?.reserve.toFixed(2)}; ${told}`;
    tell('P3', '256 words of 12 bits without tracking', found, 'prototype: 0.68; ±5 K; 1.6 mV; 0.83');
    expect(answer).toMatchObject({ met: false, complete: true });
    expect(answer.nearest!.reserve).toBeLessThan(1);
    expect(relaxed(answer, '/drivers/track').to).not.toBeNull();
    expect([span, margin].every((to) => to !== null)).toBe(true);
    expect(relaxed(answer, '/tolerances/drive').to).toBeNull();
  }, 900_000);

  it('in a cycle of 0.8 us: the least that the supply allows, and no other need alone', () => {
    const answer = propose({ ...NEEDS, cycle: '0.8 us' });
    const { to: cycle, short } = relaxed(answer, '/cycle');
    tell(
      'P4',
      '256 words of 12 bits in 0.8 us: least cycle',
      relaxedWords(relaxed(answer, '/cycle')),
      'prototype: about 2.3 us',
    );
    expect(answer).toMatchObject({ met: false, complete: true });
    expect(cycle).toBeGreaterThan(2e-6);
    expect(cycle).toBeLessThan(2.8e-6);
    // What is told is known to a sixteenth of a way that ends at eight times the cycle.
    expect(cycle! / short!).toBeLessThan(8 ** (1 / 16) * 1.05);
    expect(answer.relax.filter(({ to }) => to !== null).map(({ need }) => need)).toEqual(['/cycle']);
  }, 900_000);
});
