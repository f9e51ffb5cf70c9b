import { chanceIfNormal, contentOfExtreme, normalToleranceFactor } from '../../numerics/tolerance-limits.ts';
import { mean, standardDeviation } from '../../numerics/statistics.ts';

/** What reads of one bit say at one instant: all V, as the detector hears them. */
export interface ReadValues {
  readonly count: number;
  readonly mean: number;
  readonly standardDeviation: number;
  /** The one nearest to the threshold: least of ONEs, greatest of ZEROs. */
  readonly extreme: number;
  /**
   * Share of all reads that lie on the far side of `extreme` from the threshold, with 95 % confidence, whatever the
   * distribution.
   */
  readonly contentOfExtreme: number;
  /** V beyond which a share `content` of all reads lies, with 95 % confidence, if they are normal; undefined where they are not. */
  readonly normalLimit: number | undefined;
  readonly content: number;
  /** Edges (one more than there are counts), V, and how many reads lie between. */
  readonly histogram: { readonly edges: readonly number[]; readonly counts: readonly number[] };
}

/** Below this chance reads are taken for not normal. */
const NOT_NORMAL = 0.01;
/** Fewer say nothing of a distribution. */
const LEAST_FOR_NORMAL = 20;

/** @param side of the threshold on which they should lie @param content of the normal limit */
export function readValues(values: readonly number[], side: 'above' | 'below', content: number): ReadValues {
  const towards = side === 'above' ? -1 : 1;
  const [centre, sd] = [mean(values), values.length > 1 ? standardDeviation(values) : 0];
  const normal = values.length >= LEAST_FOR_NORMAL && chanceIfNormal(values) > NOT_NORMAL;
  const limit = centre + towards * normalToleranceFactor(values.length, content) * sd;
  return {
    count: values.length,
    mean: centre,
    standardDeviation: sd,
    extreme: values.reduce((m, v) => (towards * v > towards * m ? v : m)),
    contentOfExtreme: contentOfExtreme(values.length),
    normalLimit: normal && Number.isFinite(limit) ? limit : undefined,
    content,
    histogram: histogramOf(values),
  };
}

/** Bins as wide as Scott's rule has them (3.49 sd n^(-1/3); Biometrika 66, 1979), 40 at most. */
function histogramOf(values: readonly number[]): ReadValues['histogram'] {
  const low = values.reduce((m, v) => Math.min(m, v), Infinity);
  const high = values.reduce((m, v) => Math.max(m, v), -Infinity);
  const width = 3.49 * standardDeviation(values) * values.length ** (-1 / 3);
  const bins = high > low && width > 0 ? Math.min(40, Math.max(1, Math.ceil((high - low) / width))) : 1;
  const counts = Array.from({ length: bins }, () => 0);
  for (const v of values) counts[Math.min(bins - 1, Math.floor((bins * (v - low)) / (high - low || 1)))] += 1;
  return { edges: Array.from({ length: bins + 1 }, (_, i) => low + ((high - low) * i) / bins), counts };
}
