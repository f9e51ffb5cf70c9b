import { applyPatches, type Json, type Patch } from '../../engine/base/json-patch.ts';
import { diagnose } from '../../engine/fitting/diagnosis/diagnose.ts';
import type { Diagnosis } from '../../engine/fitting/diagnosis/diagnosis.ts';
import type { FitCapture } from '../../engine/fitting/fit-captures.ts';
import { record } from './fit-helpers.ts';

/** Invented: a shared wire through 8 x 8 cores. */
export const BOARD: Json = {
  name: 'board for faults',
  note: 'Invented.',
  core: { preset: 'ferrite-20-mil' },
  mat: { rows: 8, columns: 8 },
  winding: { kind: 'shared-one-run' },
  drive: { inhibit: { lag: '60 ns' } },
  cycle: { period: '2.4 us', readWidth: '450 ns', gap: '350 ns', writeWidth: '450 ns' },
  selected: { row: 3, column: 5, bit: 1 },
  stored: { kind: 'checkerboard' },
  amplifier: { gain: 20, outputLimit: '2 V' },
  strobe: { time: '250 ns' },
};

export interface Planted {
  readonly code: string;
  readonly what: string;
  readonly changes: readonly Patch[];
  /** s by which the strobe of this build comes late. */
  readonly strobeLate?: number;
  /** Upside down. */
  readonly swapped?: true;
  readonly observed?: 'amplifier';
}

const core = (exception: { [key: string]: Json }): Patch[] => [
  { path: '/exceptions', value: [{ row: 3, column: 5, ...exception }] },
];
const both = (field: string, value: Json): Patch[] =>
  ['x', 'y'].map((line) => ({ path: `/drive/${line}/${field}`, value }));

/** 24 builds with one fault each, severities not among those that the diagnosis tries first. */
export const PLANTED: readonly Planted[] = [
  { code: 'weak-core', what: 'flux of the selected core at 62 %', changes: core({ fluxFactor: 0.62 }) },
  { code: 'weak-core', what: 'flux of the selected core at 85 %', changes: core({ fluxFactor: 0.85 }) },
  { code: 'missing-core', what: 'no core at the selected place', changes: core({ missing: true }) },
  { code: 'reversed-core', what: 'selected core threaded backwards', changes: core({ reversed: true }) },
  { code: 'open-termination-a', what: 'end A open', changes: [{ path: '/terminations/a', value: 'open' }] },
  { code: 'open-termination-b', what: 'end B open', changes: [{ path: '/terminations/b', value: 'open' }] },
  {
    code: 'short-termination-a',
    what: 'end A shorted',
    changes: [{ path: '/terminations/a', value: 'short' }],
  },
  {
    code: 'short-termination-b',
    what: 'end B shorted',
    changes: [{ path: '/terminations/b', value: 'short' }],
  },
  {
    code: 'wrong-termination-a',
    what: 'end A with 47 ohm',
    changes: [{ path: '/terminations/a', value: '47 ohm' }],
  },
  {
    code: 'wrong-termination-b',
    what: 'end B with 270 ohm',
    changes: [{ path: '/terminations/b', value: '270 ohm' }],
  },
  {
    code: 'low-drive',
    what: 'both currents at 330 mA',
    changes: [...both('readAmplitude', '330 mA'), ...both('writeAmplitude', '330 mA')],
  },
  {
    code: 'low-drive-x',
    what: 'X at 300 mA',
    changes: [
      { path: '/drive/x/readAmplitude', value: '300 mA' },
      { path: '/drive/x/writeAmplitude', value: '300 mA' },
    ],
  },
  {
    code: 'low-drive-y',
    what: 'Y at 315 mA',
    changes: [
      { path: '/drive/y/readAmplitude', value: '315 mA' },
      { path: '/drive/y/writeAmplitude', value: '315 mA' },
    ],
  },
  { code: 'late-drive-y', what: 'Y late by 30 ns', changes: [{ path: '/cycle/stagger', value: '30 ns' }] },
  { code: 'late-drive-y', what: 'Y late by 75 ns', changes: [{ path: '/cycle/stagger', value: '75 ns' }] },
  { code: 'late-drive-x', what: 'X late by 45 ns', changes: [{ path: '/cycle/stagger', value: '-45 ns' }] },
  { code: 'slow-edge', what: 'both rises 90 ns', changes: both('rise', '90 ns') },
  { code: 'slow-edge-x', what: 'X rise 100 ns', changes: [{ path: '/drive/x/rise', value: '100 ns' }] },
  {
    code: 'missing-inhibit',
    what: 'no inhibit current',
    changes: [{ path: '/drive/inhibit/amplitude', value: '0 A' }],
  },
  {
    code: 'short-inhibit',
    what: 'inhibit ends 100 ns early',
    changes: [{ path: '/drive/inhibit/lag', value: '-40 ns' }],
  },
  { code: 'swapped-halves', what: 'ends of the wire exchanged', changes: [], swapped: true },
  { code: 'late-strobe', what: 'strobe 45 ns late', changes: [], strobeLate: 45e-9 },
  { code: 'late-strobe', what: 'strobe 110 ns late', changes: [], strobeLate: 110e-9 },
  {
    code: 'slow-recovery',
    what: 'amplifier recovers in 90 ns',
    changes: [{ path: '/amplifier/recovery', value: '90 ns' }],
    observed: 'amplifier',
  },
];

/** What the bench would see of that build, diagnosed against the board as it should be. */
export function diagnosePlanted(planted: Planted, index: number): Diagnosis {
  const observed = planted.observed ?? 'sense';
  const delay = 0.4e-6 + index * 37e-9;
  const captureOf = (bit: 0 | 1): FitCapture => {
    const changes: Patch[] = [{ path: '/selected/bit', value: bit }];
    const trace = record(applyPatches(BOARD, planted.changes), changes, {
      seed: 7,
      index: 2 * index + bit,
      noise: observed === 'sense' ? 0.4e-3 : 8e-3,
      step: observed === 'sense' ? 0.2e-3 : 4e-3,
      delay: bit === 1 ? delay : -1.1e-6,
      offset: 1.5e-3,
      gain: planted.swapped ? -1 : 1,
      interval: 3e-9,
      observed,
    });
    return { label: bit === 1 ? 'read of a ONE' : 'read of a ZERO', trace, changes, observed };
  };
  return diagnose({
    design: BOARD,
    captures: [captureOf(1), captureOf(0)],
    strobeAt: delay + 250e-9 + (planted.strobeLate ?? 0),
  });
}
