import { formatQuantity } from '../base/format-quantity.ts';
import type { ExpectedTraces } from './expected-traces.ts';

/** One thing to do at first power-up, in this order. */
export interface PlanStep {
  readonly title: string;
  readonly act: string;
  /** What should be seen, with limits. */
  readonly expect: string;
  /** When to switch off and look, before anything else is tried. */
  readonly stop: string;
  /** Which expected trace belongs to it. */
  readonly trace?: keyof ExpectedTraces;
}

export const q = formatQuantity;
export const q3 = (value: number, unit: Parameters<typeof formatQuantity>[1]): string => q(value, unit, 3);
