import type { CoreParameters } from '../design/core.ts';
import type { Design } from '../design/design.ts';
import { mean, standardDeviation, studentQuantile } from '../numerics/statistics.ts';
import { valueAt } from '../sense-amplifier/detector.ts';
import type { CaseRuns, EnsembleCase } from './case-runs.ts';
import { buildEnvelope } from './envelope.ts';
import type { StrobeEnvelope, StrobeUncertainties } from './envelope.ts';
import type { CoreSet, CoreTraces, OpenCore, OpenParameter } from './open-core.ts';
import { isUnknownHeat } from './unknown-heat.ts';
import type { CoreVerdict } from './verdict-of-sets.ts';
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

  const ends = open.parameters.map((of) => ({
    of,
    low: traces(of.cores.low, standing.setting),
    high: traces(of.cores.high, standing.setting),
  }));
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

/** What a core set leaves on either side, and over both, V. */
export interface CoreMargins {
  readonly verdict: Omit<CoreVerdict, 'verdict'>;
  readonly one: number;
  readonly zero: number;
  /** Least margin with the temperature coefficients that nothing is known of at either end; undefined: none such. */
  readonly unknownHeat: number | undefined;
}

/**
 * The interval of the corner margin over what is not known of the core, at a strobe and threshold: where 95 of 100 of the
 * cores it could be lie (from the draws, as normally distributed, no narrower than they are, and
 * no narrower than the ends of any one range).
 *
 * @param corners the corner margin of the design's own core: left, one, zero, each less the uncertainty, V
 */
export function coreMargins(
  set: CoreSet,
  time: Float64Array,
  strobe: { readonly time: number; readonly threshold: number; readonly found: boolean },
  wide: StrobeUncertainties,
  corners: { readonly left: number; readonly one: number; readonly zero: number },
): CoreMargins {
  const sides = ({ one, zero, later }: CoreTraces): { one: number; zero: number; left: number } => {
    const t = strobe.time + (strobe.found ? later : 0) - wide.delay;
    const level = strobe.threshold + wide.slope * Math.max(0, t);
    const a = valueAt(time, one, t) - level - wide.threshold;
    const b = level - valueAt(time, zero, t) - wide.threshold;
    return { one: a, zero: b, left: Math.min(a, b) };
  };
  const drawn = set.draws.map(sides);
  const interval = (
    of: (item: { one: number; zero: number; left: number }) => number,
    own: number,
  ): [number, number] => {
    const values = drawn.map(of);
    if (values.length === 0) return [own, own];
    const n = values.length;
    const reach =
      n < 3 ? 0 : studentQuantile(0.975, n - 1) * Math.sqrt(1 + 1 / n) * standardDeviation(values);
    const middle = mean(values);
    return [Math.min(own, middle - reach, ...values), Math.max(own, middle + reach, ...values)];
  };
  const drawnInterval = interval(({ left }) => left, corners.left);
  const ends = set.ends.map(({ of, low: atLow, high: atHigh }) => {
    const margins = [atLow, atHigh].map((traces) => (traces ? sides(traces).left : corners.left));
    return { of, margins, effect: Math.abs(margins[0]! - margins[1]!) / 2 };
  });
  const low = Math.min(drawnInterval[0], ...ends.flatMap(({ margins }) => margins));
  const high = Math.max(drawnInterval[1], ...ends.flatMap(({ margins }) => margins));
  const worst = ends
    .flatMap(({ of, margins }) => [
      { parameter: of.parameter, value: of.low, margin: margins[0]! },
      { parameter: of.parameter, value: of.high, margin: margins[1]! },
    ])
    .reduce<{ parameter: string; value: number; margin: number } | undefined>(
      (least, end) => (end.margin < (least?.margin ?? corners.left) ? end : least),
      undefined,
    );
  const blind = ends.filter(({ of }) => isUnknownHeat(of));
  return {
    verdict: {
      low,
      high,
      worst: worst ? { parameter: worst.parameter, value: worst.value } : null,
      measureNext: measureNext(ends, [low, high], corners.left),
    },
    one: interval(({ one }) => one, corners.one)[0],
    zero: interval(({ zero }) => zero, corners.zero)[0],
    unknownHeat: blind.length === 0 ? undefined : Math.min(...blind.flatMap(({ margins }) => margins)),
  };
}

/**
 * The measurement whose parameters carry most of the variance, and the interval that is left without them (their parts of
 * the variance taken as independent).
 */
function measureNext(
  ends: readonly { readonly of: OpenParameter; readonly effect: number }[],
  [low, high]: readonly [number, number],
  own: number,
): CoreVerdict['measureNext'] {
  const total = ends.reduce((sum, { effect }) => sum + effect ** 2, 0);
  if (total === 0) return null;
  const shares = new Map<string, number>();
  for (const { of, effect } of ends)
    shares.set(of.measure, (shares.get(of.measure) ?? 0) + effect ** 2 / total);
  const [what, share] = [...shares].reduce((most, item) => (item[1] > most[1] ? item : most));
  const left = Math.sqrt(Math.max(0, 1 - share));
  return { what, narrowsTo: [own - (own - low) * left, own + (high - own) * left] };
}
