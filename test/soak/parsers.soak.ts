import { describe, expect, it } from 'vitest';
import { readCapture } from '../../engine/capture/read-capture.ts';
import { checkDesign } from '../../engine/check/check-design.ts';
import { parseJson } from '../../server/parse-json.ts';
import { tell } from './figures.ts';

/** Least time of several goes, ms of the processor (the clock would count what others do); a throw is part of it. */
function leastTime(work: () => unknown): number {
  const times = Array.from({ length: 7 }, () => {
    const start = process.cpuUsage();
    try {
      work();
    } catch {
      // Refused input is timed like any other.
    }
    const { user, system } = process.cpuUsage(start);
    return (user + system) / 1000;
  });
  return Math.min(...times);
}

const rows = (n: number, row: string): string => `time_ns,u_mV\n${row.repeat(n)}`;
const numbered = (n: number): string => {
  const lines = Array.from({ length: n }, (_, i) => `${i},${(i * 7919) % 1000}`);
  return `time_ns,u_mV\n${lines.join('\n')}\n`;
};

const CASES: readonly (readonly [string, number, (n: number) => () => unknown])[] = [
  [
    'a good capture',
    10_000,
    (n) => {
      const text = numbered(n);
      return () => readCapture(text);
    },
  ],
  [
    'a capture of quotes',
    10_000,
    (n) => {
      const text = rows(n, '"1","2\n');
      return () => readCapture(text);
    },
  ],
  [
    'a capture of delimiters',
    5_000,
    (n) => {
      const text = ',;\t|'.repeat(n);
      return () => readCapture(text);
    },
  ],
  [
    'a capture of one line of digits',
    50_000,
    (n) => {
      const text = '1'.repeat(n);
      return () => readCapture(text);
    },
  ],
  [
    'a capture of blanks',
    50_000,
    (n) => {
      const text = ' '.repeat(n);
      return () => readCapture(text);
    },
  ],
  [
    'JSON without an end',
    50_000,
    (n) => {
      const text = `"${'a'.repeat(n)}`;
      return () => parseJson(text, 'x');
    },
  ],
  [
    'JSON of open brackets',
    20_000,
    (n) => {
      const text = '['.repeat(n);
      return () => parseJson(text, 'x');
    },
  ],
  [
    'a design of unknown fields',
    2_000,
    (n) => {
      const design = Object.fromEntries(Array.from({ length: n }, (_, i) => [`f${i}`, 1]));
      return () => checkDesign(design);
    },
  ],
  [
    'a design of exceptions',
    500,
    (n) => {
      const design = { exceptions: Array.from({ length: n }, () => ({ row: 'x' })) };
      return () => checkDesign(design);
    },
  ],
  [
    'a quantity of many letters',
    50_000,
    (n) => {
      const design = { temperature: `1 ${'m*'.repeat(n)}m` };
      return () => checkDesign(design);
    },
  ],
];

describe('S8', () => {
  it.each(CASES)('%s is read or refused in time linear in its length', (name, n, make) => {
    const work = [make(n), make(8 * n)];
    leastTime(work[0]);
    const [small, large] = work.map(leastTime);
    tell(
      'S8',
      `${name}, 8 times as long`,
      `${(large / small).toFixed(1)} times the time (${large.toFixed(1)} ms)`,
      'about 8',
    );
    // Quadratic would be 64; what is over in no time is dominated by its start.
    expect(large < 5 || large / small < 28).toBe(true);
  });
});
