import { diagnose } from '../../engine/fitting/diagnosis/diagnose.ts';
import type { Diagnosis } from '../../engine/fitting/diagnosis/diagnosis.ts';
import type { FitCapture } from '../../engine/fitting/fit-captures.ts';
import { applyPatches, type Json, type Patch } from '../../engine/base/json-patch.ts';
import { BOARD, capture } from './builds.ts';
import type { Seen } from './builds.ts';
import type { Instrument } from './instrument.ts';
import { scaled } from './truth.ts';
import type { Truth } from './truth.ts';

/** A build with one or two things wrong, as the tests' own integrator makes it. */
export interface Planted {
  readonly codes: readonly string[];
  readonly what: string;
  readonly changes?: readonly Patch[];
  readonly wrong?: (truth: Truth, bit: 0 | 1) => Truth;
  readonly instrument?: Instrument;
}

const at = (path: string, value: Json): Patch => ({ path, value });
const core = (exception: { [key: string]: Json }): Patch[] => [
  at('/exceptions', [{ row: 3, column: 5, ...exception }]),
];
const line = (name: 'x' | 'y', amplitude: string): Patch[] => [
  at(`/drive/${name}/readAmplitude`, amplitude),
  at(`/drive/${name}/writeAmplitude`, amplitude),
];
const turned =
  (which: (row: number, column: number) => boolean) =>
  (t: Truth): Truth => ({
    ...t,
    cores: t.cores.map((c, i) =>
      which(Math.floor(i / t.columns), i % t.columns) ? { ...c, sign: -c.sign } : c,
    ),
  });
const softer =
  (factor: number, size = 1) =>
  (t: Truth): Truth => ({
    ...t,
    cores: t.cores.map((c) => ({ ...c, flux: c.flux * size, law: scaled(c.law, size, factor) })),
  });
/** Inhibit current where a ONE is written: what is made for a ZERO, by a part of its size. */
const leak =
  (part: number) =>
  (t: Truth, bit: 0 | 1): Truth => {
    if (bit === 0) return t;
    const [on, off] = [t.x[1]!.halfOn, t.x[1]!.halfOff];
    const pulse = {
      amplitude: 0.34 * part,
      halfOn: on - 60e-9,
      halfOff: off + 60e-9,
      rise: 40e-9,
      fall: 40e-9,
    };
    return { ...t, inhibit: [{ ...pulse, cosine: false }] };
  };
const shifted = (pulses: Truth['x'], s: number): Truth['x'] =>
  pulses.map((p) => ({ ...p, halfOn: p.halfOn + s, halfOff: p.halfOff + s }));
const lateY =
  (s: number) =>
  (t: Truth): Truth => ({ ...t, y: shifted(t.y, s) });

export const SINGLE: readonly Planted[] = [
  { codes: ['weak-core'], what: 'flux of the selected core at 62 %', changes: core({ fluxFactor: 0.62 }) },
  { codes: ['weak-core'], what: 'flux of the selected core at 80 %', changes: core({ fluxFactor: 0.8 }) },
  { codes: ['missing-core'], what: 'no core there', changes: core({ missing: true }) },
  { codes: ['reversed-core'], what: 'selected core backwards', changes: core({ reversed: true }) },
  { codes: ['open-termination-a'], what: 'end A open', changes: [at('/terminations/a', 'open')] },
  { codes: ['open-termination-b'], what: 'end B open', changes: [at('/terminations/b', 'open')] },
  { codes: ['short-termination-a'], what: 'end A shorted', changes: [at('/terminations/a', 'short')] },
  { codes: ['short-termination-b'], what: 'end B shorted', changes: [at('/terminations/b', 'short')] },
  { codes: ['wrong-termination-a'], what: 'end A 47 ohm', changes: [at('/terminations/a', '47 ohm')] },
  { codes: ['wrong-termination-b'], what: 'end B 270 ohm', changes: [at('/terminations/b', '270 ohm')] },
  {
    codes: ['low-drive'],
    what: 'both currents 330 mA',
    changes: [...line('x', '330 mA'), ...line('y', '330 mA')],
  },
  {
    codes: ['low-drive'],
    what: 'both currents 405 mA',
    changes: [...line('x', '405 mA'), ...line('y', '405 mA')],
  },
  { codes: ['low-drive-x'], what: 'X at 300 mA', changes: line('x', '300 mA') },
  { codes: ['low-drive-y'], what: 'Y at 315 mA', changes: line('y', '315 mA') },
  { codes: ['dead-line-x'], what: 'X dead', changes: line('x', '0 A') },
  { codes: ['dead-line-y'], what: 'Y dead', changes: line('y', '0 A') },
  { codes: ['two-rows'], what: 'row 5 driven too', wrong: (t) => ({ ...t, alsoRow: 5 }) },
  { codes: ['two-columns'], what: 'column 2 driven too', wrong: (t) => ({ ...t, alsoColumn: 2 }) },
  { codes: ['late-drive-y'], what: 'Y late by 33 ns', wrong: lateY(33e-9) },
  { codes: ['late-drive-y'], what: 'Y late by 75 ns', wrong: lateY(75e-9) },
  {
    codes: ['late-drive-x'],
    what: 'X late by 45 ns',
    wrong: (t) => ({ ...t, x: shifted(t.x, 45e-9) }),
  },
  {
    codes: ['slow-edge'],
    what: 'both rises 95 ns',
    changes: [at('/drive/x/rise', '95 ns'), at('/drive/y/rise', '95 ns')],
  },
  { codes: ['slow-edge-x'], what: 'X rise 110 ns', changes: [at('/drive/x/rise', '110 ns')] },
  { codes: ['missing-inhibit'], what: 'no inhibit', changes: [at('/drive/inhibit/amplitude', '0 A')] },
  { codes: ['low-inhibit'], what: 'inhibit 220 mA', changes: [at('/drive/inhibit/amplitude', '220 mA')] },
  { codes: ['leaking-inhibit'], what: 'inhibit leaks 25 %', wrong: leak(0.25) },
  {
    codes: ['late-inhibit'],
    what: 'inhibit 110 ns late',
    wrong: (t) => ({ ...t, inhibit: shifted(t.inhibit, 110e-9) }),
  },
  {
    codes: ['short-inhibit'],
    what: 'inhibit ends 100 ns early',
    changes: [at('/drive/inhibit/lag', '-40 ns')],
  },
  { codes: ['backward-row'], what: 'row 3 threaded backwards', wrong: turned((r) => r === 3) },
  { codes: ['backward-column'], what: 'column 5 threaded backwards', wrong: turned((_, c) => c === 5) },
  { codes: ['backward-wire'], what: 'wire connected backwards', wrong: turned(() => true) },
  {
    codes: ['bad-joint'],
    what: 'joint of 60 ohm',
    wrong: (t) => ({ ...t, badJoint: { after: 30, ohm: 60 } }),
  },
  {
    codes: ['bad-joint'],
    what: 'joint of 300 ohm',
    wrong: (t) => ({ ...t, badJoint: { after: 20, ohm: 300 } }),
  },
  { codes: ['magnet-toward-one'], what: 'magnet 0.3 A toward ONE', changes: core({ bias: '0.3 A' }) },
  { codes: ['magnet-toward-zero'], what: 'magnet 0.15 A toward ZERO', changes: core({ bias: '-0.15 A' }) },
  {
    codes: ['magnet-toward-one', 'magnet-toward-zero'],
    what: 'strong magnet, 1.4 A',
    changes: core({ bias: '1.4 A' }),
  },
  { codes: ['soft-cores'], what: 'cores 10 % softer', wrong: softer(0.9) },
  { codes: ['soft-cores'], what: 'cores 12 % harder', wrong: softer(1.12) },
  { codes: ['core-size'], what: 'cores of 85 % of the flux', wrong: softer(1, 0.85) },
  { codes: ['wrong-pattern'], what: 'all ZEROs stored', changes: [at('/stored', { kind: 'zeros' })] },
  { codes: ['wrong-pattern'], what: 'all ONEs stored', changes: [at('/stored', { kind: 'ones' })] },
  {
    codes: ['other-core-row'],
    what: 'a ONE of the row missing',
    changes: [at('/exceptions', [{ row: 3, column: 2, missing: true }])],
  },
  {
    codes: ['other-core-column'],
    what: 'a core of the column missing',
    changes: [at('/exceptions', [{ row: 6, column: 5, missing: true }])],
  },
  { codes: ['gain'], what: 'x10 probe not told', instrument: { probe: 0.1 } },
  { codes: ['gain'], what: 'gain 30 % low', instrument: { probe: 0.7 } },
  { codes: ['bandwidth'], what: 'an instrument of 6 MHz', instrument: { bandwidth: 6e6 } },
  { codes: ['swapped-halves'], what: 'leads exchanged', instrument: { probe: -1 } },
  {
    codes: ['other-core-row'],
    what: 'a core of the row at half its size',
    changes: [at('/exceptions', [{ row: 3, column: 6, fluxFactor: 0.5 }])],
  },
  {
    codes: ['late-inhibit'],
    what: 'inhibit 60 ns late',
    wrong: (t) => ({ ...t, inhibit: shifted(t.inhibit, 60e-9) }),
  },
];

export const PAIRS: readonly Planted[] = [
  {
    codes: ['weak-core', 'open-termination-b'],
    what: 'weak core and end B open',
    changes: [...core({ fluxFactor: 0.6 }), at('/terminations/b', 'open')],
  },
  {
    codes: ['late-drive-y', 'low-inhibit'],
    what: 'Y late and inhibit low',
    changes: [at('/drive/inhibit/amplitude', '240 mA')],
    wrong: lateY(45e-9),
  },
  {
    codes: ['missing-core', 'wrong-termination-a'],
    what: 'no core and end A 50 ohm',
    changes: [...core({ missing: true }), at('/terminations/a', '50 ohm')],
  },
  { codes: ['soft-cores', 'core-size'], what: '10 % softer and 4 % smaller', wrong: softer(0.9, 0.96) },
  {
    codes: ['open-termination-a', 'missing-inhibit'],
    what: 'end A open and no inhibit',
    changes: [at('/terminations/a', 'open'), at('/drive/inhibit/amplitude', '0 A')],
  },
];

/** Builds with nothing wrong, of cores that are not quite of the family. */
export const HEALTHY: readonly Planted[] = Array.from({ length: 6 }, (_, i) => ({
  codes: ['healthy'],
  what: `nothing wrong, ${i + 1}`,
}));

/** One of every kind and more: 60. */
export const CASES: readonly Planted[] = [...SINGLE, ...PAIRS, ...HEALTHY];

/** What the diagnosis says of a build, given a read of a ONE and of a ZERO with their writes, at `noise`. */
export function diagnosePlanted(
  planted: Planted,
  index: number,
  noise = 3e-3,
  file: Json = BOARD,
): Diagnosis {
  const captures = ([1, 0] as const).map((bit): FitCapture => {
    const changes: Patch[] = [{ path: '/selected/bit', value: bit }];
    const seen: Seen = {
      departure: { spread: 0.015, seed: index + 1, skew: ((index % 5) - 2) * 0.02 },
      wrong: (t) => planted.wrong?.(t, bit) ?? t,
      instrument: {
        noise,
        step: noise / 3,
        offset: 2e-3,
        delay: 0.4e-6 + index * 37e-9,
        interval: 2.5e-9,
        bandwidth: 200e6,
        before: 150e-9,
        index: 2 * index + bit,
        ...planted.instrument,
      },
    };
    const trace = capture(applyPatches(file, planted.changes ?? []), changes, seen);
    return { label: bit === 1 ? 'read of a ONE' : 'read of a ZERO', trace, changes };
  });
  return diagnose({ design: file, captures });
}

/**
 * Something is said that is not so: a cause that is not planted, several of which none is, an all-clear where something
 * is wrong, or that only such faults are left open as are not planted.
 */
export function confidentlyWrong({ codes }: Planted, { verdict, named }: Diagnosis): boolean {
  const healthy = codes[0] === 'healthy';
  switch (verdict) {
    case 'healthy':
      return !healthy;
    case 'nothing seen':
      return !healthy && !codes.some((code) => named.includes(code));
    case 'fault':
    case 'two faults':
      return named.some((code) => !codes.includes(code));
    case 'one of several':
      return !named.some((code) => codes.includes(code));
    case 'small difference':
    case 'none of these':
      return false;
  }
}

/** Place of the planted cause among the explanations, from 1. */
export const rankOf = ({ codes }: Planted, { explanations, verdict, named }: Diagnosis): number =>
  (verdict === 'healthy' || verdict === 'nothing seen') && codes[0] === 'healthy'
    ? 1
    : verdict === 'two faults' && codes.length > 1 && codes.every((code) => named.includes(code))
      ? 1
      : 1 +
        explanations
          .filter((e) => e.code !== 'healthy' || codes[0] === 'healthy')
          .findIndex((e) => codes.includes(e.code));
