import type { Requirement } from '../../engine/design/requirement.ts';
import type { ChainStep } from '../../engine/strobe/chain-step.ts';
import { windowWithChains } from '../../engine/strobe/window-of.ts';
import type { StrobeWindow } from '../../engine/strobe/window-result.ts';
import type { Run } from './run.ts';

/** What holds at one strobe time and threshold: the engine's own answer, with what the builder asked for. */
export interface StrobeState extends StrobeWindow {
  readonly time: number;
  /** V at the sense wire. */
  readonly level: number;
  /** The interval that holds `time`; undefined when the strobe lies in none. */
  readonly here: { readonly start: number; readonly end: number } | undefined;
  readonly required: Requirement;
  /** From the selected core's signal to what is left, on either side of the threshold. */
  readonly chains: Readonly<Record<'one' | 'zero', readonly ChainStep[]>>;
}

/**
 * @param time s; undefined: the best instant at this threshold.
 * @param level V at the sense wire.
 */
export function strobeStateAt(run: Run, time: number | undefined, level: number): StrobeState | undefined {
  if (!run.ensemble) return undefined;
  const { window: answer, chains } = windowWithChains(run.ensemble, { time, threshold: level });
  const at = answer.inForce.time;
  const here = answer.intervals.find(({ start, end }) => start <= at && at <= end);
  return { ...answer, time: at, level, here, required: run.design.requirement, chains };
}
