import { extent, type Samples } from '../charts/decimate.ts';
import { paddedSpan, type TimeSpan, type ValueSpan } from '../charts/spaces.ts';

/** What a chart of a lesson must be high: all of its lines within the time shown, nought, and `also` (V). */
export function spanOfLines(
  lines: readonly { readonly samples: Samples }[],
  { from, to }: TimeSpan,
  also = 0,
): ValueSpan {
  const spans = lines.map(({ samples }) => extent(samples, from, to) ?? [0, 0]);
  return paddedSpan(
    Math.min(...spans.map(([low]) => low)),
    Math.max(...spans.map(([, high]) => high), also),
    0.15,
  );
}
