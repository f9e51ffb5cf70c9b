import { build, SMALL } from './builds.ts';
import { captureCsv, recordTrace, type Captured, type Instrument } from './instrument.ts';
import { runTruth } from './memory.ts';
import { truthOf } from './truth.ts';

/** Reads of the small board by the tests' own integrator: noise and hum of each read are its own. */
export function manyReads(bit: 0 | 1, count: number, set: Instrument = {}): Captured[] {
  const { sense, step } = runTruth(truthOf(build(SMALL, [{ path: '/selected/bit', value: bit }])), {
    step: 0.5e-9,
    until: 900e-9,
  });
  return Array.from({ length: count }, (_, index) =>
    recordTrace(sense, step, { noise: 1e-3, delay: 2e-6, interval: 4e-9, index: 2 * index + bit, ...set }),
  );
}

/** One text of many records, one after the other, as an instrument writes segments. */
export const segmented = (reads: readonly Captured[]): string =>
  reads
    .map(({ time, value }, i) => {
      const lines = captureCsv(time, { 'sense [V]': value }).trimEnd().split('\n');
      return (i === 0 ? lines : lines.slice(1)).join('\n');
    })
    .join('\n');
