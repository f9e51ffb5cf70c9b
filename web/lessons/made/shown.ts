import type { Curve, Measure } from './lesson.ts';
import type { Bench } from './measures.ts';

export type LineName = Curve | 'leastOne' | 'greatestZero';

/** The picture of the answer. */
export interface Shown {
  readonly lines: readonly {
    readonly name: LineName;
    readonly time: Float64Array;
    readonly values: Float64Array;
  }[];
  /** s */
  readonly span: readonly [number, number];
  readonly strobe?: number;
  /** V */
  readonly threshold?: number;
}

/** The read, and the pause after it in which its tail dies away. */
export function spanOf({ design: { cycle } }: Bench): [number, number] {
  return [0, Math.min(cycle.readWidth * 1.3, cycle.period)];
}

/** Measures at the latch are shown on the worst cases, those of one core's bell on a ONE and a ZERO of the wire. */
export function shownFor(bench: Bench, measure: Measure | undefined): Shown {
  const span = spanOf(bench);
  if (measure === undefined || measure === 'bell' || measure === 'bellTime' || measure === 'zeroPeak')
    return { span, lines: (['one', 'zero'] as const).map((name) => ({ name, ...bench.curve(name) })) };
  const { envelope, inForce } = bench.window();
  const { time, one, zero } = envelope;
  return {
    span,
    strobe: inForce.time,
    threshold: inForce.threshold,
    lines: [
      { name: 'leastOne', time, values: one },
      { name: 'greatestZero', time, values: zero },
    ],
  };
}
