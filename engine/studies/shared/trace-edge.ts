/** Finding where pass turns into fail along a line, with few evaluations. */

export interface Sample {
  readonly x: number;
  readonly pass: boolean;
  readonly margin: number | null;
}

export interface Edge {
  /** Middle of the last interval. */
  readonly x: number;
  /** Half of the last interval: the edge lies within this of x. */
  readonly within: number;
  /** +1: passes on the side of larger x. */
  readonly side: 1 | -1;
}

export type Judge = (x: number) => { readonly pass: boolean; readonly margin: number | null };

export interface Line {
  readonly samples: readonly Sample[];
  readonly edges: readonly Edge[];
}

/**
 * Samples a line at `coarse` even places (both ends included), then halves every interval whose ends differ until
 * it is at most `resolution` long. An island narrower than the coarse spacing can be missed.
 */
export function scanLine(low: number, high: number, coarse: number, resolution: number, judge: Judge): Line {
  const samples: Sample[] = [];
  const look = (x: number): Sample => {
    const sample = { x, ...judge(x) };
    samples.push(sample);
    return sample;
  };
  const row = Array.from({ length: coarse }, (_, i) => look(low + ((high - low) * i) / (coarse - 1)));
  const edges: Edge[] = [];
  for (let i = 1; i < row.length; i++) {
    const edge = halve(row[i - 1]!, row[i]!, resolution, look);
    if (edge) edges.push(edge);
  }
  return { samples: samples.sort((a, b) => a.x - b.x), edges };
}

/** Halves between two samples whose verdicts differ; undefined when they agree. */
function halve(a: Sample, b: Sample, resolution: number, look: (x: number) => Sample): Edge | undefined {
  if (a.pass === b.pass) return undefined;
  let [left, right] = [a, b];
  while (right.x - left.x > resolution) {
    const middle = (left.x + right.x) / 2;
    if (middle <= left.x || middle >= right.x) break;
    const sample = look(middle);
    if (sample.pass === left.pass) left = sample;
    else right = sample;
  }
  return { x: (left.x + right.x) / 2, within: (right.x - left.x) / 2, side: right.pass ? 1 : -1 };
}

/**
 * The passing interval around a place that passes: outward in growing steps until it fails or the limit is
 * reached, then halving. An end is undefined where it passes up to the limit; the whole where `start` fails.
 */
export function passingInterval(
  start: number,
  low: number,
  high: number,
  resolution: number,
  judge: Judge,
):
  | { readonly low: Edge | undefined; readonly high: Edge | undefined; readonly samples: readonly Sample[] }
  | undefined {
  const samples: Sample[] = [];
  const look = (x: number): Sample => {
    const sample = { x, ...judge(x) };
    samples.push(sample);
    return sample;
  };
  const first = look(start);
  if (!first.pass) return undefined;
  const toward = (limit: number): Edge | undefined => {
    let inside = first;
    for (let step = Math.max(resolution * 2, Math.abs(limit - start) / 16); ; step *= 2) {
      const x = limit > start ? Math.min(limit, inside.x + step) : Math.max(limit, inside.x - step);
      if (x === inside.x) return undefined;
      const outside = look(x);
      if (!outside.pass)
        return outside.x > inside.x
          ? halve(inside, outside, resolution, look)
          : halve(outside, inside, resolution, look);
      inside = outside;
    }
  };
  const lower = toward(low);
  const upper = toward(high);
  return { low: lower, high: upper, samples: samples.sort((a, b) => a.x - b.x) };
}
