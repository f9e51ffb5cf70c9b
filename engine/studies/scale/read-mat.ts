import type { Design } from '../../design/design.ts';
import { valueAt } from '../../sense-amplifier/detector.ts';
import { repetitionCoupling } from '../../sense-amplifier/repetition.ts';
import type { Simulation } from '../../solver/result.ts';
import { findBestPair } from '../../strobe/best-pair.ts';
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

/** Runs of one cycle that the corners of a mat come to: four cases at eight corners, at half the price. */
export const CORNER_RUNS = 16;

/** Of either bit so many of the nominally worst cases are run at every corner. */
const CARRIED = 2;

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
  const wide = asked ? atCorners(found, tools) : undefined;
  const uncertainties = asked ? cornerUncertainties : strobeUncertainties;
  const held = holdPair(design, wide ?? found.envelope, uncertainties, anew);
  const nominal = readEnvelope(held, found.envelope);
  const corners = wide && readEnvelope(held, wide, cornerUncertainties(held));
  return { design: held, runs: found.runs, nominal, corners, pass: nominal.pass && corners?.pass !== false };
}

/** The nominally worst cases of either bit at all corners, with them: what they leave at the ends of drive, supply and heat. */
function atCorners({ design, envelope, runs, specs }: StudyRuns, tools: StudyTools): StrobeEnvelope {
  const seen = readEnvelope(design, envelope).strobe - design.detector.delay;
  const time = runs[0]!.time;
  const carried = ([1, 0] as const).flatMap((bit) => {
    const badness = (i: number): number => (bit === 1 ? -1 : 1) * valueAt(time, referred(runs[i]!), seen);
    const own = specs.flatMap((spec, i) => (spec.bit === bit ? [i] : []));
    return own
      .sort((a, b) => badness(b) - badness(a))
      .slice(0, CARRIED)
      .map((i) => specs[i]!);
  });
  const again = makeCaseRuns(design, tools.simulate, {
    coupling: repetitionCoupling(design, tools.simulate),
    until: endOfRead(design),
    cancelled: tools.cancelled,
    finer: SEARCHED,
  });
  const [, ...corners] = caseSpace(design).corners;
  for (const spec of carried) for (const corner of corners) again.add({ ...spec, ...corner } as CaseSpec);
  const [failed] = again.failed;
  if (failed)
    throw new Error(
      failed.outcome.kind === 'done' ? failed.name : `${failed.name}: ${failed.outcome.advice}`,
    );
  const nominal = runs.map((run, i) => ({ name: '', bit: specs[i]!.bit, referred: referred(run) }));
  const moved = again.cases.map(({ name, bit, heard }) => ({ name, bit, referred: heard }));
  return buildEnvelope(time, [...nominal, ...moved], strobeSearch(design));
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
