import { TOP_LEVEL } from './answer-code.ts';

/** An empty plot goes down to a third of its top, V, below zero. */
const bottomOf = (top: number): number => -top / 3;

/** A height of a drawing, V, in whole steps, as a code carries it. */
export function levelOf(top: number, volts: number): number {
  const low = bottomOf(top);
  const level = Math.round(((volts - low) / (top - low)) * TOP_LEVEL);
  return Math.min(TOP_LEVEL, Math.max(0, level));
}

export const levelVolts = (top: number, level: number): number =>
  bottomOf(top) + (level / TOP_LEVEL) * (top - bottomOf(top));
