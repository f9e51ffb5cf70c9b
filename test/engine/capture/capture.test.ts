import { readFileSync, readdirSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { CaptureError } from '../../../engine/capture/capture.ts';
import type { CaptureOptions, CaptureReading } from '../../../engine/capture/capture.ts';
import { readCapture } from '../../../engine/capture/read-capture.ts';

interface Expected {
  readonly samples: number;
  readonly interval: number;
  readonly first: number;
  readonly traces: { name: string; unit: string; samples: [number, number][] }[];
  readonly delimiter?: string;
  readonly decimal?: string;
  readonly encoding?: string;
  readonly firstLine?: number;
  readonly notes?: string[];
}
interface Entry {
  readonly file: string;
  readonly quirk: string;
  readonly options?: CaptureOptions;
  readonly asks?: string[];
  readonly answers?: CaptureOptions;
  readonly expect?: Expected;
  readonly error?: { code: string; line?: number; column?: number; message?: string };
}
const folder = new URL('../../../fixtures/captures/', import.meta.url);
const { captures } = JSON.parse(readFileSync(new URL('index.json', folder), 'utf8')) as { captures: Entry[] };
const bytesOf = (file: string) => new Uint8Array(readFileSync(new URL(file, folder)));

function expectCapture(reading: CaptureReading, expected: Expected): void {
  expect(reading.ambiguities).toEqual([]);
  const capture = reading.capture;
  if (!capture) throw new Error('no capture although nothing is ambiguous');
  expect(capture.time).toHaveLength(expected.samples);
  expect(capture.sampleInterval / expected.interval).toBeCloseTo(1, 9);
  expect(capture.time[0] * 1e9).toBeCloseTo(expected.first * 1e9, 6);
  expect(capture.traces.map((t) => [t.name, t.unit])).toEqual(expected.traces.map((t) => [t.name, t.unit]));
  expected.traces.forEach((trace, k) => {
    for (const [at, value] of trace.samples) expect(capture.traces[k].value[at]).toBeCloseTo(value, 12);
  });
  for (const key of ['delimiter', 'decimal', 'encoding', 'firstLine'] as const) {
    if (expected[key] !== undefined) expect(reading.preview[key]).toBe(expected[key]);
  }
  for (const note of expected.notes ?? []) expect(reading.notes.join(' ')).toContain(note);
}

/** The error that reading throws. */
function errorOf(read: () => unknown): CaptureError {
  try {
    read();
  } catch (error) {
    if (error instanceof CaptureError) return error;
    throw error;
  }
  throw new Error('nothing was thrown');
}

describe('the corpus of captures', () => {
  test('has at least 40 files, each listed once with its quirk', () => {
    // The demo captures are data to try things on, not quirks to read.
    const files = readdirSync(folder).filter((file) => file !== 'index.json' && !file.startsWith('demo-'));
    expect(files.length).toBeGreaterThanOrEqual(40);
    expect(captures.map((c) => c.file).sort()).toEqual(files.sort());
    expect(new Set(captures.map((c) => c.quirk)).size).toBe(captures.length);
  });

  for (const entry of captures) {
    test(`${entry.file}: ${entry.quirk}`, () => {
      const bytes = bytesOf(entry.file);
      if (entry.error) {
        const error = errorOf(() => readCapture(bytes, entry.options));
        for (const key of ['code', 'line', 'column', 'message'] as const) {
          if (entry.error[key] !== undefined) expect(error[key]).toBe(entry.error[key]);
        }
        return;
      }
      let reading = readCapture(bytes, entry.options);
      if (entry.asks) {
        expect(reading.ambiguities.map((a) => a.code)).toEqual(entry.asks);
        expect(reading.capture).toBeUndefined();
        for (const ambiguity of reading.ambiguities) {
          expect(ambiguity.question).toMatch(/\?$/);
          expect(ambiguity.choices.length >= 2 || ambiguity.wanted !== undefined).toBe(true);
        }
        reading = readCapture(bytes, { ...entry.options, ...entry.answers });
      }
      if (!entry.expect) throw new Error('the corpus expects nothing of this file');
      expectCapture(reading, entry.expect);
    });
  }
});

const column = (count: number, cell: (i: number) => string, header = 'time (ns),sense (mV)') =>
  `${header}\n${Array.from({ length: count }, (_, i) => cell(i)).join('\n')}\n`;

describe('reading a capture', () => {
  test('a million samples are read, with every number in its place', () => {
    const { capture } = readCapture(column(1_000_000, (i) => `${i},${i % 1000}.25`));
    expect(capture?.time).toHaveLength(1_000_000);
    expect(capture?.time[999_999]).toBeCloseTo(999_999e-9, 15);
    expect(capture?.traces[0].value[123_456]).toBeCloseTo(0.45625, 12);
    expect(capture?.uniform).toBe(true);
  });

  test('a thousand samples of sixteen traces are read; a seventeenth is refused with the limit', () => {
    const wide = (n: number) =>
      column(
        1000,
        (i) => [i, ...Array.from({ length: n }, (_, k) => k + i / 8)].join(';'),
        ['time (ns)', ...Array.from({ length: n }, (_, k) => `t${k} (mV)`)].join(';'),
      );
    const { capture } = readCapture(wide(16));
    expect(capture?.traces).toHaveLength(16);
    expect(capture?.traces[15].value[8]).toBeCloseTo(0.016, 12);
    const error = errorOf(() => readCapture(wide(17)));
    expect(error.message).toBe(
      'A capture may hold at most 16 traces; received 17: say which columns to read.',
    );
    expect(readCapture(wide(17), { valueColumns: [2, 18] }).capture?.traces.map((t) => t.name)).toEqual([
      't0',
      't16',
    ]);
  });

  test('limits are told at their exact values', () => {
    const text = column(101, (i) => `${i},${i}`);
    expect(readCapture(text, { maxSamples: 101 }).capture?.time).toHaveLength(101);
    const tooMany = errorOf(() => readCapture(text, { maxSamples: 100 }));
    expect(tooMany.code).toBe('too-large');
    expect(tooMany.line).toBe(102);
    expect(tooMany.message).toContain('at most 100 samples');
    expect(readCapture(text, { maxBytes: text.length }).capture).toBeDefined();
    expect(errorOf(() => readCapture(text, { maxBytes: text.length - 1 })).message).toContain(
      `received ${text.length}`,
    );
  });

  test('a line longer than any row of samples is refused at its exact limit', () => {
    const text = (n: number) => `${'a'.repeat(n)}\n${column(20, (i) => `${i},${i}`)}`;
    expect(readCapture(text(10_000)).capture?.time).toHaveLength(20);
    const error = errorOf(() => readCapture(text(10_001)));
    expect(error.message).toBe(
      'A line may hold at most 10000 characters; line 1 has 10001: write one sample a line.',
    );
    expect(error.line).toBe(1);
  });

  test('an override wins over what the text says', () => {
    const text = column(20, (i) => `${i},${i}`);
    expect(readCapture(text, { timeUnit: 'us' }).capture?.sampleInterval).toBeCloseTo(1e-6, 15);
    const swapped = readCapture(text, { timeColumn: 2, valueColumns: [1], timeUnit: 'ns', valueUnit: 'V' });
    expect(swapped.preview.columns.map((c) => c.role)).toEqual(['trace', 'time']);
    expect(readCapture(text, { firstLine: 6 }).capture?.time[0]).toBeCloseTo(4e-9, 18);
  });

  test('an override that does not fit is refused with what would', () => {
    const text = column(20, (i) => `${i},${i}`);
    expect(errorOf(() => readCapture(text, { timeColumn: 3 })).message).toBe(
      'The column of times must be from 1 to 2, or 0 for none; received 3.',
    );
    expect(errorOf(() => readCapture(text, { valueColumns: [1] })).code).toBe('option');
    expect(errorOf(() => readCapture(text, { timeColumn: 0, sampleInterval: -1 })).message).toContain(
      'more than 0 s; received -1 s',
    );
  });

  test('the preview shows roles, units, first line and the rows as written', () => {
    const { preview } = readCapture(bytesOf('preamble.csv'));
    expect(preview.preamble).toHaveLength(12);
    expect(preview.columns).toEqual([
      { name: 'time', role: 'time', unit: 'ns' },
      { name: 'sense', role: 'trace', unit: 'mV' },
    ]);
    expect(preview.rows).toHaveLength(8);
    expect(preview.rows[0][0]).toBe('-50');
  });

  test('every choice offered for an ambiguity answers it', () => {
    for (const entry of captures.filter((c) => c.asks)) {
      const bytes = bytesOf(entry.file);
      for (const ambiguity of readCapture(bytes).ambiguities) {
        for (const choice of ambiguity.choices) {
          const again = readCapture(bytes, choice.options).ambiguities.map((a) => a.code);
          expect(again, `${entry.file}: ${choice.label}`).not.toContain(ambiguity.code);
        }
      }
    }
  });

  test('averaging repeated times halves the samples and keeps their mean', () => {
    const text = column(20, (i) => `${2 * Math.floor(i / 2)},${i}`);
    const { capture } = readCapture(text, { repeatedTimes: 'average' });
    expect(capture?.time).toHaveLength(10);
    expect(capture?.traces[0].value[3]).toBeCloseTo(6.5e-3, 12);
  });

  test('random bytes give an error or a question, never another failure', () => {
    for (let seed = 1; seed <= 200; seed++) {
      const bytes = Uint8Array.from(
        { length: 400 },
        (_, i) =>
          '0123456789.,;:-+eE \t\n\r"#()ns'.charCodeAt(
            (((i * 7919 + seed * 104_729) ^ (i * i * seed)) % 29) & 31,
          ) || 48,
      );
      try {
        readCapture(bytes);
      } catch (error) {
        expect(error).toBeInstanceOf(CaptureError);
      }
    }
  });
});
