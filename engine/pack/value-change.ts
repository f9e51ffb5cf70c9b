import { VERSION } from '../base/version.ts';
import type { Timing, TimingSignal } from './timing.ts';

/** Levels of named one-bit signals against time. */
export interface ValueChanges {
  /** s for one tick. */
  readonly tick: number;
  readonly signals: readonly string[];
  readonly changes: readonly { readonly at: number; readonly signal: string; readonly level: 0 | 1 }[];
  /** s, the last instant named. */
  readonly end: number;
}

const TICK = 1e-12;

/**
 * A cycle as a value change dump (four-state, IEEE Std 1364-2005, clause 18), one bit a signal, timescale 1 ps: a driver
 * is told to switch when its bit changes, so an edge stands where the current starts to move.
 * @param cycles how many in a row; the inhibit fires in every other one, the first left out
 */
export function writeValueChanges(timing: Timing, name: string, cycles = 2): string {
  const signals = [...new Set(timing.edges.map((edge) => edge.signal))];
  const code = (signal: TimingSignal): string => String.fromCharCode(33 + signals.indexOf(signal));
  const changes = Array.from({ length: cycles }, (_, n) =>
    timing.edges
      .filter(({ signal }) => signal !== 'inhibit' || n % 2 === 1)
      .map(({ signal, edge, start }) => ({
        at: Math.round((n * timing.period + start) / TICK),
        line: `${edge === 'on' ? 1 : 0}${code(signal)}`,
      })),
  )
    .flat()
    .sort((a, b) => a.at - b.at);
  const times = [...new Set(changes.map((change) => change.at))].filter((at) => at > 0);
  const end = Math.round((cycles * timing.period) / TICK);
  const atOnce = changes.filter((change) => change.at <= 0).map((change) => change.line);
  const initially = signals.map(
    (signal) => atOnce.find((line) => line === `1${code(signal)}`) ?? `0${code(signal)}`,
  );
  return [
    `$comment ${name.replace(/[^\x20-\x7e]|\$/gu, ' ')}: an edge stands where the current starts to change $end`,
    `$version Strobewright ${VERSION} $end`,
    '$timescale 1 ps $end',
    '$scope module cycle $end',
    ...signals.map((signal) => `$var wire 1 ${code(signal)} ${signal} $end`),
    '$upscope $end',
    '$enddefinitions $end',
    '#0',
    '$dumpvars',
    ...initially,
    '$end',
    ...times.flatMap((at) => [
      `#${at}`,
      ...changes.filter((change) => change.at === at).map(({ line }) => line),
    ]),
    ...(times.at(-1) === end ? [] : [`#${end}`]),
    '',
  ].join('\n');
}

const UNITS: Readonly<Record<string, number>> = { s: 1, ms: 1e-3, us: 1e-6, ns: 1e-9, ps: 1e-12, fs: 1e-15 };

/** Reads what writeValueChanges writes, and any such file of one-bit signals. Throws a sentence on anything else. */
export function readValueChanges(text: string): ValueChanges {
  const [head, body] = text.split(/\$enddefinitions\s+\$end/u);
  const scale = /\$timescale\s+(1|10|100)\s*(s|ms|us|ns|ps|fs)\s+\$end/u.exec(head ?? '');
  if (body === undefined || scale === null)
    throw new Error('A value change dump must have a $timescale and $enddefinitions; one is missing.');
  const names = new Map(
    [...head!.matchAll(/\$var\s+\w+\s+1\s+(\S+)\s+(\S+)[^$]*\$end/gu)].map((m) => [m[1]!, m[2]!]),
  );
  const tick = Number(scale[1]) * UNITS[scale[2]!]!;
  const changes: { at: number; signal: string; level: 0 | 1 }[] = [];
  let at = 0;
  for (const word of body.split(/\s+/u)) {
    if (word === '' || word === '$dumpvars' || word === '$end') continue;
    const signal = names.get(word.slice(1));
    if (word.startsWith('#')) at = Number(word.slice(1)) * tick;
    else if (signal !== undefined && /^[01]/u.test(word))
      changes.push({ at, signal, level: word[0] === '1' ? 1 : 0 });
    else
      throw new Error(`A value change must be 0 or 1 and a declared code, but is ${JSON.stringify(word)}.`);
  }
  return { tick, signals: [...names.values()], changes, end: at };
}
