import type { Json, Patch } from '../../engine/base/json-patch.ts';
import { checkDesign } from '../../engine/check/check-design.ts';
import type { Placing } from '../../engine/fitting/align/line-up.ts';
import type { Observed } from '../../engine/fitting/compare.ts';
import type { FitCapture } from '../../engine/fitting/fit-captures.ts';
import { rawAt, type RawDesign } from './pointer.ts';

export const WRITES = ['design', 'one', 'zero', 'none'] as const;
export type WriteAfter = (typeof WRITES)[number];

/** One trace on the bench, and what it was taken of. */
export interface BenchCapture {
  readonly id: number;
  readonly label: string;
  /** s on the instrument's own axis, and V. */
  readonly trace: FitCapture['trace'];
  readonly observed: Observed;
  /** What the selected core held before the read. */
  readonly bit: 0 | 1;
  /** Address of the core that was read; undefined: that of the design. */
  readonly row: number | undefined;
  readonly column: number | undefined;
  /** What the cycle writes after its read. */
  readonly write: WriteAfter;
  readonly part: NonNullable<Placing['part']>;
  readonly polarity: NonNullable<Placing['polarity']>;
  readonly probeGain: NonNullable<Placing['probeGain']>;
  /** Is the bandwidth of the instrument to be found, or does it not matter? */
  readonly bandwidth: 'enough' | 'free';
  /** Read current of both drive lines as text with its unit; '' for that of the design. */
  readonly readCurrent: string;
  /** Taken of a healthy build or address: a diagnosis compares with it. */
  readonly healthy: boolean;
}

/** What must change in the design so that it stands for the conditions of the capture. */
export function changesFor(raw: RawDesign, capture: BenchCapture): readonly Patch[] {
  const { selected } = checkDesign(raw);
  const row = capture.row ?? selected.row;
  const column = capture.column ?? selected.column;
  const patches: Patch[] = [{ path: '/selected', value: { row, column, bit: capture.bit } }];
  if (capture.readCurrent !== '')
    for (const line of ['x', 'y'])
      patches.push({ path: `/drive/${line}/readAmplitude`, value: capture.readCurrent });
  const programme = rawAt(raw, '/programme');
  const last = Array.isArray(programme) ? programme.length - 1 : -1;
  if (last >= 0) {
    patches.push(
      { path: `/programme/${last}/row`, value: row },
      { path: `/programme/${last}/column`, value: column },
    );
    if (capture.write !== 'design') patches.push({ path: `/programme/${last}/write`, value: capture.write });
  } else if (capture.write !== 'design') {
    patches.push({ path: '/programme', value: [{ row, column, write: capture.write }] });
  }
  return patches;
}

export const toFitCapture = (raw: RawDesign, capture: BenchCapture): FitCapture => ({
  label: capture.label,
  trace: capture.trace,
  observed: capture.observed,
  changes: changesFor(raw, capture),
  part: capture.part,
  polarity: capture.polarity,
  probeGain: capture.probeGain,
  freeBandwidth: capture.bandwidth === 'free',
  healthy: capture.healthy,
});

export const asJson = (raw: RawDesign): Json => raw as Json;
