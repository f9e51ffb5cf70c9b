import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { readRecords } from '../../../engine/capture/read-records.ts';
import { analyseReads } from '../../../engine/fitting/reads/analyse-reads.ts';
import { readsStatements } from '../../../engine/fitting/reads/reads-words.ts';
import { SMALL } from '../../independent/builds.ts';
import type { Instrument } from '../../independent/instrument.ts';
import { manyReads, segmented } from '../../independent/many-reads.ts';
import { callCli, exceptProgress } from '../../server/call-cli.ts';

test('many reads give their band, the best pair, the limits, and the hum that moves them, beside what is predicted', () => {
  const hum: Instrument = { hum: [6e-3, 50], before: 200e-9 };
  const answer = analyseReads({ design: SMALL, ones: manyReads(1, 60, hum), zeros: manyReads(0, 60, hum) });
  const { best, ones, zeros, predicted, rests, place } = answer;
  expect(place.delay).toBeCloseTo(2e-6, 8);
  expect(best.wrong).toBe(0);
  expect(best.count).toBe(60);
  expect(best.chance.high).toBeGreaterThan(0.01);
  expect(best.time).toBeGreaterThan(120e-9);
  expect(best.time).toBeLessThan(450e-9);
  expect(ones.extreme).toBeGreaterThan(best.threshold);
  expect(zeros.extreme).toBeLessThan(best.threshold);
  // The prediction is of the worst patterns, the reads are of one.
  expect(ones.extreme).toBeGreaterThan(predicted.leastOne - 4e-3);
  // Amplitude over root two.
  expect(rests.spread).toBeGreaterThan(3.5e-3);
  expect(rests.spread).toBeLessThan(5e-3);
  expect(readsStatements(answer).join(' ')).toContain('hum of the mains');
  const clean = analyseReads({
    design: SMALL,
    ones: manyReads(1, 12, {}),
    zeros: manyReads(0, 12, {}),
    start: 2e-6,
  });
  expect(readsStatements(clean).join(' ')).not.toContain('hum');
  expect(() =>
    analyseReads({ design: SMALL, ones: manyReads(1, 12, {}), zeros: manyReads(0, 3, {}) }),
  ).toThrow('at least 10 of a ZERO; received 3');
});

test('segments of one file are reads each, and the command line says of them what the library says', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'strobewright-reads-'));
  try {
    const file = (name: string, text: string): string => {
      writeFileSync(join(folder, name), text);
      return join(folder, name);
    };
    const texts = ([1, 0] as const).map((bit) => segmented(manyReads(bit, 30)));
    const [ones, zeros] = texts.map((text) =>
      readRecords(text).map(({ capture }) => ({ time: capture!.time, value: capture!.traces[0]!.value })),
    );
    expect([ones!.length, zeros!.length]).toEqual([30, 30]);
    const answer = analyseReads({ design: SMALL, ones: ones!, zeros: zeros! });
    const design = file('board.json', JSON.stringify(SMALL));
    const [one, zero] = texts.map((text, i) => file(`${i}.csv`, text));
    const ended = await callCli(['reads', design, '--one', one!, '--zero', zero!]);
    expect(exceptProgress(ended)).toBe('');
    for (const sentence of readsStatements(answer)) expect(ended.stdout.toString()).toContain(sentence);
    const few = await callCli(['reads', design, '--one', one!, '--zero', zero!, '--content', '2']);
    expect(few.stderr).toContain('--content must be a share between 0.5 and 1; received');
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});
