import type { Run } from './run.ts';
import type { StrobeState } from './strobe-state.ts';

/** What the cases read at one address come to, at the strobe's own instant: its jitter is not in it. */
export interface TriedAddress {
  /** Row-major. */
  readonly index: number;
  /** V: the least distance of any of its cases from the threshold's band; negative: on the wrong side. */
  readonly least: number;
  /** The case that it is of. */
  readonly name: string;
}

/** Addresses at which cases were run, corners among them, the worst first; of all others nothing was run. */
export function triedAddresses(run: Run, { cases, level }: StrobeState): readonly TriedAddress[] {
  const { ensemble, design } = run;
  const nominal = ensemble?.uncertainties.threshold ?? 0;
  const wide = ensemble?.corners?.uncertainties.threshold ?? nominal;
  const found = new Map<number, TriedAddress>();
  for (const { bit, atStrobe, corner, overrides, name } of cases) {
    const at = { ...design.selected, ...overrides?.selected };
    const index = at.row * design.mat.columns + at.column;
    // A supply that is off moves the threshold: the signal counts in parts of the moved one, as in the envelope.
    const moved = (overrides?.detector?.threshold ?? design.detector.threshold) / design.detector.threshold;
    const seen = atStrobe / moved;
    const least = (bit === 1 ? seen - level : level - seen) - (corner ? wide : nominal);
    if (least < (found.get(index)?.least ?? Infinity)) found.set(index, { index, least, name });
  }
  return [...found.values()].sort((a, b) => a.least - b.least);
}
