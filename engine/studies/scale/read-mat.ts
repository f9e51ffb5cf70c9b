import type { Design } from '../../design/design.ts';
import { valueAt } from '../../sense-amplifier/detector.ts';
import { repetitionCoupling } from '../../sense-amplifier/repetition.ts';
import type { Simulation } from '../../solver/result.ts';
import { findBestPair } from '../../strobe/best-pair.ts';
import { nameCase } from '../../strobe/case-overrides.ts';
import type { CaseSpec } from '../../strobe/case-overrides.ts';
import { makeCaseRuns, SEARCHED } from '../../strobe/case-runs.ts';
import { caseSpace } from '../../strobe/cases.ts';
import {
  buildEnvelope,
  cornerUncertainties,
  strobeSearch,
  strobeUncertainties,
} from '../../strobe/envelope.ts';
import type { StrobeEnvelope, StrobeUncertainties } from '../../strobe/envelope.ts';
import type { Reading, StudyCases, StudyRuns } from '../shared/reading.ts';
import { endOfRead, readEnvelope, referred, runCases } from '../shared/reading.ts';
import type { StudyTools } from '../shared/shape.ts';

/** One mat, read as designed and at its corners, at one strobe and threshold. */
export interface MatReading {
  /** With the strobe and threshold at which it was read. */
  readonly design: Design;
  readonly runs: readonly Simulation[];
  readonly nominal: Reading;
  /** Undefined where the design does not ask for its corners. */
  readonly corners: Reading | undefined;
  readonly pass: boolean;
}

/**
 * Runs of one cycle, from above, that other addresses and histories of a mat's worst cases come to, and its corners: at
 * half the price, most of two cycles, twice where the strobe moves.
 */
export const OTHER_RUNS = 50;
export const CORNER_RUNS = 64;

/**
 * Of either bit the worst in each disturb state is run at every corner: a disturbed core answers sooner, so that where
 * less drive makes one state worse, more may make the other worse still.
 */
const STATES = ['undisturbed', 'disturbed'] as const;
/** Strobes about which cases are sought: that of the patterns alone, and that which is then chosen. */
const ROUNDS = 2;

/**
 * @param anew 'both': of the pairs that lie farthest from failing and that leave most, one that keeps what is required,
 *   else the one that leaves most; 'strobe': the best for the design's threshold; 'nothing': as the design says
 */
export function readMat(
  design: Design,
  cases: StudyCases,
  anew: 'both' | 'strobe' | 'nothing',
  tools: StudyTools,
): MatReading {
  const found = runCases(design, cases, tools, true);
  const asked = design.requirement.sets.includes('corners');
  const uncertainties = asked ? cornerUncertainties : strobeUncertainties;
  const sought = makeSearch(found, asked, tools);
  let held = design;
  let seen = readEnvelope(design, found.envelope).strobe - design.detector.delay;
  for (let round = 0; round < ROUNDS; round++) {
    sought.about(seen);
    held = holdPair(design, sought.envelope(asked), uncertainties, anew);
    seen = readEnvelope(held, sought.envelope(asked)).strobe - design.detector.delay;
  }
  const nominal = readEnvelope(held, sought.envelope(false));
  const corners = asked ? readEnvelope(held, sought.envelope(true), cornerUncertainties(held)) : undefined;
  return { design: held, runs: found.runs, nominal, corners, pass: nominal.pass && corners?.pass !== false };
}

interface CaseSearch {
  /** Runs what may be worse at a signal time, s. */
  about(seen: number): void;
  /** Of all that was run so far, with the corners or without. */
  envelope(corners: boolean): StrobeEnvelope;
}

/**
 * Beside the patterns that were run: the worst of either bit at every other address and after every history, and both
 * of these together; then the worst of all these in each disturb state at every corner. A strobe window tries more of them together.
 */
function makeSearch({ design, runs, specs }: StudyRuns, cornered: boolean, tools: StudyTools): CaseSearch {
  const time = runs[0]!.time;
  const { addresses, histories, corners } = caseSpace(design);
  const more = makeCaseRuns(design, tools.simulate, {
    coupling: repetitionCoupling(design, tools.simulate),
    until: endOfRead(design),
    cancelled: tools.cancelled,
    finer: SEARCHED,
  });
  const patterns = runs.map((run, i) => ({ spec: specs[i]!, bit: specs[i]!.bit, heard: referred(run) }));
  const nominal = (bit: 0 | 1) =>
    [...patterns, ...more.cases.filter(({ corner }) => !corner)].filter((each) => each.bit === bit);
  const worstFirst = <T extends { readonly heard: Float64Array }>(
    list: readonly T[],
    bit: 0 | 1,
    seen: number,
  ) =>
    list
      .map((each) => ({ each, badness: (bit === 1 ? -1 : 1) * valueAt(time, each.heard, seen) }))
      .sort((a, b) => b.badness - a.badness)
      .map(({ each }) => each);
  const worstOf = (tried: readonly CaseSpec[], bit: 0 | 1, seen: number): CaseSpec | undefined =>
    worstFirst(
      tried.map((spec) => more.add(spec)).filter((each) => each !== undefined),
      bit,
      seen,
    )[0]?.spec;

  return {
    about(seen) {
      for (const bit of [1, 0] as const) {
        const { spec } = worstFirst(nominal(bit), bit, seen)[0]!;
        const elsewhere = worstOf(
          addresses.slice(1).map((address) => ({ ...spec, ...address })),
          bit,
          seen,
        );
        const after = worstOf(
          histories.slice(1).map(({ state, previous }): CaseSpec => ({ ...spec, state, previous })),
          bit,
          seen,
        );
        if (elsewhere && after) more.add({ ...after, address: elsewhere.address });
        if (!cornered) continue;
        for (const state of STATES) {
          const own = worstFirst(nominal(bit), bit, seen).find((each) => each.spec.state === state);
          if (own) for (const corner of corners.slice(1)) more.add({ ...own.spec, ...corner });
        }
      }
      const [failed] = more.failed;
      if (failed)
        throw new Error(
          failed.outcome.kind === 'done' ? failed.name : `${failed.name}: ${failed.outcome.advice}`,
        );
    },
    envelope: (counted) =>
      buildEnvelope(
        time,
        [...patterns, ...more.cases.filter(({ corner }) => counted || !corner)].map(
          ({ bit, heard, spec }) => ({
            name: nameCase(spec),
            bit,
            referred: heard,
          }),
        ),
        strobeSearch(design),
      ),
  };
}

/** Thresholds tried between that of the pair farthest from failing and that of the pair that leaves most. */
const THRESHOLDS = 9;

/** The design with the strobe and threshold at which it is read. */
function holdPair(
  design: Design,
  envelope: StrobeEnvelope,
  uncertainties: (design: Design) => StrobeUncertainties,
  anew: 'both' | 'strobe' | 'nothing',
): Design {
  if (anew === 'nothing') return design;
  const free = withPair(design, undefined, design.detector.threshold);
  const { strobe } = readEnvelope(free, envelope, uncertainties(free));
  const found = withPair(design, strobe, design.detector.threshold);
  if (anew === 'strobe') return found;
  const far = findBestPair(envelope, uncertainties(free));
  const apart = midway(design, envelope, widestApart(design, envelope));
  const most = apart.detector.threshold;
  const pairs = [
    found,
    ...(far ? [withPair(design, far.time, far.threshold), midway(design, envelope, far.time)] : []),
    // Where nothing is heard, nothing is far from nothing.
    ...(most > uncertainties(apart).threshold ? [apart, ...between(far?.threshold ?? most, most)] : []),
  ];
  const given = pairs.map((held) => ({ held, ...readEnvelope(held, envelope, uncertainties(held)) }));
  return given.reduce((best, each) => {
    if (each.pass !== best.pass) return each.pass ? each : best;
    return (each.margin ?? -Infinity) > (best.margin ?? -Infinity) ? each : best;
  }).held;

  function between(from: number, to: number): Design[] {
    return Array.from({ length: THRESHOLDS }, (_, k) => {
      const threshold = from + ((to - from) * k) / (THRESHOLDS - 1);
      const at = withPair(design, undefined, threshold);
      return withPair(design, readEnvelope(at, envelope, uncertainties(at)).strobe, threshold);
    });
  }
}

const withPair = (design: Design, time: number | undefined, threshold: number): Design => ({
  ...design,
  detector: { ...design.detector, threshold },
  strobe: { ...design.strobe, time },
});

/** A threshold as far under the least ONE as over the greatest ZERO. */
function midway(design: Design, { time, one, zero }: StrobeEnvelope, strobe: number): Design {
  const seen = strobe - design.detector.delay;
  const middle = (valueAt(time, one, seen) + valueAt(time, zero, seen)) / 2;
  return withPair(design, strobe, middle - design.detector.slope * Math.max(0, seen));
}

/** s: the strobe at which the least ONE and the greatest ZERO are farthest apart. */
function widestApart(design: Design, { time, one, zero, search }: StrobeEnvelope): number {
  const { delay } = design.detector;
  let best = search.start;
  let widest = -Infinity;
  for (let i = 0; i < time.length; i++) {
    const strobe = time[i]! + delay;
    const apart = one[i]! - zero[i]!;
    if (strobe < search.start || strobe > search.end || apart <= widest) continue;
    [best, widest] = [strobe, apart];
  }
  return best;
}
