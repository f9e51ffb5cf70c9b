import type { BenchRuns } from '../bench-runs.ts';
import { screeningRuns } from './faults.ts';
import { layer, screen, zoomIn, type LaidFaults } from './fit-fault.ts';
import type { Laid } from './lay.ts';
import type { Seen } from './seen.ts';

/** Pairs that are followed. */
const FOLLOWED_PAIRS = 4;
/** Rounds in which both severities are moved in turn, and halvings in each. */
const ROUNDS = 2;
const HALVINGS = 3;

/** Degrees of a severity looked at first in a round, at most, the present one among them. */
const AROUND = 15;

/** Runs of each capture that pairs take, from above. */
export const pairRuns = (): number => screeningRuns() + FOLLOWED_PAIRS * ROUNDS * 2 * (AROUND + 2 * HALVINGS);

/**
 * The best single fault together with every other: the other's severity looked for, then of the likeliest both moved in
 * turn. Two forms of one code are no pair.
 * @param singles the healthy design first
 */
export function tryPairs(
  singles: readonly LaidFaults[],
  seen: readonly Seen[],
  strobeAt: number | undefined,
  runs: BenchRuns,
): LaidFaults[] {
  const usable = singles.slice(1).filter(({ faults: [{ terms }] }) => terms === undefined);
  const best = usable.reduce((a, b) => (b.laid.chiSquare < a.laid.chiSquare ? b : a));
  return usable
    .filter(({ faults: [{ code }] }) => code !== best.faults[0].code)
    .map(({ faults: [other] }): LaidFaults => {
      const faults = [...best.faults, other];
      const layAt = layer(faults, seen, strobeAt, runs);
      const lay = (severity: number): Laid => ({ ...layAt([best.severities[0], severity]), severity });
      const laid = screen(other.severity, lay).reduce((a, b) => (b.chiSquare < a.chiSquare ? b : a));
      return { faults, severities: [best.severities[0], laid.severity ?? 0], laid };
    })
    .sort((a, b) => a.laid.chiSquare - b.laid.chiSquare)
    .slice(0, FOLLOWED_PAIRS)
    .map((pair) => follow(pair, seen, strobeAt, runs));
}

function follow(
  pair: LaidFaults,
  seen: readonly Seen[],
  strobeAt: number | undefined,
  runs: BenchRuns,
): LaidFaults {
  const layAt = layer(pair.faults, seen, strobeAt, runs);
  const severities = [...pair.severities];
  let laid = pair.laid;
  for (let round = 0; round < ROUNDS; round++) {
    for (const i of [0, 1]) {
      const range = pair.faults[i].severity;
      if (range === undefined) continue;
      const lay = (value: number): Laid => ({ ...layAt(severities.with(i, value)), severity: value });
      const around = round === 0 ? screen(range, lay) : [0.8, 1, 1.25].map((f) => lay(severities[i] * f));
      const inRange = ({ severity = 0 }: Laid): boolean => severity >= range.low && severity <= range.high;
      laid = zoomIn([...around, lay(severities[i])].filter(inRange), lay, HALVINGS);
      severities[i] = laid.severity as number;
    }
  }
  return { ...pair, severities, laid };
}
