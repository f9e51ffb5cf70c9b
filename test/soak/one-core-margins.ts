import { checkDesign } from '../../engine/check/check-design.ts';
import type { CoreChoice, CoreParameters } from '../../engine/design/core.ts';
import type { Design } from '../../engine/design/design.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { makeCaseRuns, SEARCHED, type CaseRuns } from '../../engine/strobe/case-runs.ts';
import { quickCases } from '../../engine/strobe/cases.ts';
import { coreMargins } from '../../engine/strobe/core-margins.ts';
import { runCoreSet } from '../../engine/strobe/core-set.ts';
import type { OpenCore } from '../../engine/strobe/open-core.ts';
import {
  buildEnvelope,
  followedUntil,
  strobeSearch,
  strobeUncertainties,
  type CaseTrace,
} from '../../engine/strobe/envelope.ts';
import { windowAt } from '../../engine/strobe/window-at.ts';
import { RISE, type MixedCore } from '../mixed-core.ts';

export function designFor(size: number, celsius: number, tenth: number): Design {
  const width = `${Math.ceil((tenth + 150e-9) * 1e9)} ns`;
  return checkDesign({
    mat: { rows: size, columns: size },
    winding: { kind: 'separate-rectangular' },
    cycle: { readWidth: width, gap: '200 ns', writeWidth: width, period: '6 us' },
    temperature: `${celsius} °C`,
    // The large mat in steps of which hundreds of thousands can be afforded; all doors and the truth are computed alike.
    numerics: size > 16 ? { sections: 4, step: '4 ns', output: '4 ns' } : { output: '2 ns' },
  });
}

/** Margin of a design at its strobe and threshold over quick cases, and the interval of it over what is not known of the core. */
export interface Told {
  readonly own: number;
  readonly low: number;
  readonly high: number;
}

/** The quick cases of a design, heard at the sense wire. */
function quickRuns(design: Design): CaseRuns {
  const runs = makeCaseRuns(design, simulate, {
    coupling: 0,
    until: followedUntil(design),
    finer: design.mat.rows > 16 ? 1 : SEARCHED,
  });
  for (const spec of quickCases(design)) runs.add(spec);
  return runs;
}

export const withCore = (design: Design, core: CoreParameters | CoreChoice): Design => ({
  ...design,
  core: 'parameters' in core ? core : { ...design.core, parameters: core },
});

/** What the core itself gives: each case as the sum of what its parts give. */
function truthIn(design: Design, truth: MixedCore): { time: Float64Array; cases: CaseTrace[] } {
  const [a, b] = truth.parts.map((p) => quickRuns(withCore(design, p))) as [CaseRuns, CaseRuns];
  const cases = a.cases.map(({ name, bit, referred }, i) => ({
    name,
    bit,
    referred: referred.map((v, k) => truth.share * v + (1 - truth.share) * b.cases[i]!.referred[k]!),
  }));
  return { time: a.time!, cases };
}

const marginAt = (design: Design, time: Float64Array, cases: readonly CaseTrace[]) => {
  const at = { time: design.strobe.time, threshold: design.detector.threshold };
  const envelope = buildEnvelope(time, cases, strobeSearch(design));
  const uncertainties = strobeUncertainties(design);
  const { margin } = windowAt(envelope, at, uncertainties);
  const less = uncertainties.threshold;
  return { left: margin.left, one: margin.one - less, zero: margin.zero - less };
};

/** V: the margin that a core itself has in a design. */
export function marginOf(design: Design, truth: MixedCore): number {
  const { time, cases } = truthIn(design, truth);
  return marginAt(design, time, cases).left;
}

export function told(design: Design, open: OpenCore): Told {
  const runs = quickRuns(design);
  const { time, cases } = runs;
  const wide = strobeUncertainties(design);
  const strobe = { time: design.strobe.time!, threshold: design.detector.threshold, found: false };
  const own = marginAt(design, time!, cases);
  const set = runCoreSet(design, open, runs, strobeSearch(design), wide, cases, strobe.time);
  const { low, high } = coreMargins(set, time!, strobe, wide, own).verdict;
  return { own: own.left, low, high };
}

/** The design with its strobe where a core's least ONE stands farthest over its greatest ZERO, and the threshold between. */
export function placed(design: Design): Design {
  const { time, cases } = quickRuns(design);
  const search = strobeSearch(design);
  const { one, zero } = buildEnvelope(time!, cases, search);
  const over = time!.map((t, k) => (t > RISE && t < search.end ? one[k]! - zero[k]! : -Infinity));
  const best = over.indexOf(Math.max(...over));
  return {
    ...design,
    strobe: { ...design.strobe, time: time![best]! + design.detector.delay },
    detector: { ...design.detector, threshold: (one[best]! + zero[best]!) / 2 },
  };
}
