import type { CoreParameters } from '../design/core.ts';
import type { Design } from '../design/design.ts';
import { valueAt } from '../sense-amplifier/detector.ts';
import type { CaseRuns, EnsembleCase } from './case-runs.ts';
import { buildEnvelope } from './envelope.ts';
import type { StrobeEnvelope, StrobeUncertainties } from './envelope.ts';
import type { CoreSet, CoreTraces, OpenCore, OpenParameter } from './open-core.ts';
import { isHeat, leavesRoom } from './unknown-heat.ts';
import { windowAt } from './window-at.ts';

/** Which cases stand for a set with other cores. */
interface Standing {
  /** Those that set the corner envelope at the strobe. */
  readonly setting: readonly EnsembleCase[];
  /** Of each bit the worst at each temperature too. */
  readonly wide: readonly EnsembleCase[];
  /** Of each bit the worst of every corner. */
  readonly all: readonly EnsembleCase[];
  /** The worst as designed, from which a strobe that is to be found is found. */
  readonly nominal: readonly EnsembleCase[];
}

/**
 * Runs the corners again with other cores: each open parameter at both its ends in the cases that set the corners, each
 * drawn core in the worst at either temperature as well; and the draw that comes out worst in the worst case of every
 * corner, since with another core another case may be the worst.
 *
 * @param at signal time, s, for which the worst cases are chosen
 */
export function runCoreSet(
  design: Design,
  open: OpenCore,
  runs: CaseRuns,
  search: StrobeEnvelope['search'],
  uncertainties: StrobeUncertainties,
  nominal: readonly EnsembleCase[],
  at: number,
): CoreSet {
  const time = runs.time!;
  const standing = standingCases(runs, time, nominal, at);
  const free = design.strobe.time === undefined;
  const own = free ? bestStrobe(standing.nominal.map((c) => c.heard)) : undefined;

  function bestStrobe(traces: readonly Float64Array[]): number | undefined {
    const named = traces.map((referred, i) => ({ name: '', bit: standing.nominal[i]!.bit, referred }));
    const envelope = buildEnvelope(time, named, search);
    const answer = windowAt(
      envelope,
      { time: undefined, threshold: design.detector.threshold },
      uncertainties,
    );
    return answer.distance && answer.inForce.time;
  }
  const heard = (core: CoreParameters, { name, overrides, spec }: EnsembleCase): Float64Array | undefined => {
    const referred = runs.refer(name, runs.simulate({ ...overrides, core: { parameters: core } }));
    return referred?.map((value) => value / (spec.supply ?? 1));
  };
  const traces = (core: CoreParameters, cases: readonly EnsembleCase[]): CoreTraces | undefined => {
    const both = cases.map((item) => ({ name: item.name, bit: item.bit, referred: heard(core, item) }));
    const done = both.flatMap(({ referred, ...item }) => (referred ? [{ ...item, referred }] : []));
    if (done.length < both.length) return undefined;
    const { one, zero } = buildEnvelope(time, done, search);
    const plain = own === undefined ? [] : standing.nominal.map((item) => heard(core, item));
    const found = plain.filter((trace) => trace !== undefined);
    const best = found.length > 0 && found.length === plain.length ? bestStrobe(found) : undefined;
    return { one, zero, later: best === undefined || own === undefined ? 0 : best - own };
  };

  const asIs = buildEnvelope(
    time,
    standing.setting.map(({ name, bit, heard: referred }) => ({ name, bit, referred })),
    search,
  );
  const unmoved: CoreTraces = { one: asIs.one, zero: asIs.zero, later: 0 };
  const ends = open.parameters.map((of) => {
    if (movesNothing(design, of)) return { of, low: unmoved, high: unmoved };
    return {
      of,
      low: traces(of.cores.low, standing.setting),
      high: traces(of.cores.high, standing.setting),
    };
  });
  const draws = open.draws.flatMap((core) => {
    const found = traces(core, standing.wide);
    return found ? [{ core, found }] : [];
  });
  const level = design.detector.threshold + uncertainties.slope * Math.max(0, at);
  const margin = ({ one, zero, later }: CoreTraces): number =>
    Math.min(valueAt(time, one, at + later) - level, level - valueAt(time, zero, at + later));
  const [least] = [...draws].sort((a, b) => margin(a.found) - margin(b.found));
  const checked = least && traces(least.core, standing.all);
  return {
    ends,
    draws: draws.map((item) => (item === least && checked ? checked : item.found)),
  };
}

/** Is either end the design's own core in effect: a temperature that does not change, a decaying part that is off? */
const movesNothing = (design: Design, { parameter, cores }: OpenParameter): boolean =>
  (isHeat(parameter) && !leavesRoom(design)) ||
  (DECAY.has(parameter) && cores.low.decayResistance === 0 && cores.high.decayResistance === 0);
const DECAY: ReadonlySet<string> = new Set(['decayCharge', 'decayThreshold']);

function standingCases(
  { cases }: CaseRuns,
  time: Float64Array,
  nominal: readonly EnsembleCase[],
  at: number,
): Standing {
  const worstOf = (bit: 0 | 1, key: (item: EnsembleCase) => string): EnsembleCase[] => {
    const worst = new Map<string, EnsembleCase>();
    const badness = (item: EnsembleCase): number => (bit === 1 ? -1 : 1) * valueAt(time, item.heard, at);
    for (const item of cases) {
      if (item.bit !== bit) continue;
      const before = worst.get(key(item));
      if (before === undefined || badness(item) > badness(before)) worst.set(key(item), item);
    }
    return [...worst.values()];
  };
  const both = (key: (item: EnsembleCase) => string): EnsembleCase[] =>
    ([1, 0] as const).flatMap((bit) => worstOf(bit, key));
  return {
    setting: both(() => ''),
    // Where nothing strays that makes a bit worse, as designed is its worst.
    wide: ([1, 0] as const).flatMap((bit) => {
      const worst = worstOf(bit, ({ spec }) => String(spec.temperature ?? ''));
      const atCorners = worst.filter(({ corner }) => corner);
      return atCorners.length > 0 ? atCorners : worst;
    }),
    all: both(({ spec }) => `${spec.drive} ${spec.supply} ${spec.temperature}`),
    nominal,
  };
}
