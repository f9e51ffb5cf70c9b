import type { Figure } from './measure.ts';

/** How the bench was called, and where its lines go. */
export interface BenchContext {
  readonly quick: boolean;
  readonly full: boolean;
  heading(text: string): void;
  note(text: string): void;
  /** What is aimed at, ms at most, beside what was measured; `id` as the issues name it. */
  aim(id: string, what: string, measured: number, most: number): void;
  /** One figure; `baseline` is compared with it and named. */
  row(name: string, figure: Figure, baseline?: { readonly name: string; readonly median: number }): void;
}

export const writeTo = (
  write: (line: string) => void,
  flags: { readonly quick: boolean; readonly full: boolean },
): BenchContext => ({
  ...flags,
  heading(text) {
    write(`\n${text}`);
    write(`  ${'what'.padEnd(50)}${'median'.padStart(11)}   ${'quartiles'.padEnd(19)}    n   against`);
  },
  note: (text) => write(`  ${text}`),
  aim: (id, what, measured, most) =>
    write(
      `  ${id} aims at ${what} within ${text(most)}: ${text(measured)}, ${measured <= most ? 'met' : `missed by ${(measured / most).toPrecision(2)} x`}.`,
    ),
  row(name, { median, low, high, samples }, baseline) {
    const against = baseline
      ? `${ratio(baseline.median / median)} ${baseline.name} (${text(baseline.median)})`
      : '';
    const spread = `${text(low)} to ${text(high)}`;
    write(
      `  ${name.padEnd(50)}${text(median).padStart(11)}   ${spread.padEnd(19)} ${String(samples).padStart(4)}   ${against}`,
    );
  },
});

const text = (ms: number): string =>
  ms < 0.1
    ? `${(ms * 1000).toPrecision(3)} us`
    : ms < 10_000
      ? `${ms.toPrecision(3)} ms`
      : `${(ms / 1000).toFixed(1)} s`;

const ratio = (value: number): string =>
  value >= 1 ? `${value.toPrecision(3)} x faster than` : `${(1 / value).toPrecision(3)} x the time of`;
