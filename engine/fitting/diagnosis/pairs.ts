import type { BenchRuns } from '../bench-runs.ts';
import { layAt, predictor, screen, zoomIn } from './fit-fault.ts';
import type { Laid, LaidFaults } from './fit-fault.ts';
import type { Seen } from './seen.ts';

/** Single faults of which pairs are tried, and pairs that are followed. */
const BEST_SINGLES = 7;
const FOLLOWED = 5;

/**
 * Pairs of the single faults that explain something: both severities moved in turn. Two forms of one code are no pair.
 */
export function tryPairs(
  singles: readonly LaidFaults[],
  seen: readonly Seen[],
  strobeAt: number | undefined,
  runs: BenchRuns,
): LaidFaults[] {
  const healthy = singles[0].laid.chiSquare;
  const likely = singles
    .slice(1)
    .filter((s) => s.laid.chiSquare < 0.97 * healthy && s.faults[0].terms === undefined)
    .sort((a, b) => a.laid.chiSquare - b.laid.chiSquare)
    .slice(0, BEST_SINGLES);
  const pairs = likely.flatMap((a, i) =>
    likely
      .slice(i + 1)
      .flatMap((b) => (a.faults[0].code === b.faults[0].code ? [] : [pairOf(a, b, seen, strobeAt, runs)])),
  );
  return pairs
    .sort((a, b) => a.laid.chiSquare - b.laid.chiSquare)
    .slice(0, FOLLOWED)
    .map((pair) => follow(pair, seen, strobeAt, runs));
}

function pairOf(
  a: LaidFaults,
  b: LaidFaults,
  seen: readonly Seen[],
  strobeAt: number | undefined,
  runs: BenchRuns,
): LaidFaults {
  const faults = [...a.faults, ...b.faults];
  const severities = [...a.severities, ...b.severities];
  return { faults, severities, laid: layAt(predictor(faults, seen, runs), severities, seen, strobeAt) };
}

function follow(
  pair: LaidFaults,
  seen: readonly Seen[],
  strobeAt: number | undefined,
  runs: BenchRuns,
): LaidFaults {
  const predict = predictor(pair.faults, seen, runs);
  const severities = [...pair.severities];
  let laid = pair.laid;
  for (let round = 0; round < 3; round++) {
    for (const i of [0, 1]) {
      const range = pair.faults[i].severity;
      if (range === undefined) continue;
      const layOn = (value: number): Laid => ({
        ...layAt(predict, severities.with(i, value), seen, strobeAt),
        severity: value,
      });
      const around = round === 0 ? screen(range, layOn) : [0.8, 1, 1.25].map((f) => layOn(severities[i] * f));
      laid = zoomIn([...around, layOn(severities[i])].filter(inRange(range.low, range.high)), layOn, 4);
      severities[i] = laid.severity as number;
    }
  }
  return { ...pair, severities, laid };
}

const inRange =
  (low: number, high: number) =>
  ({ severity }: Laid): boolean =>
    severity !== undefined && severity >= low && severity <= high;
