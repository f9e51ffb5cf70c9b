import type { Design } from '../design/design.ts';
import { makeCaseRuns } from '../strobe/case-runs.ts';
import { nameCase, type CaseSpec } from '../strobe/case-overrides.ts';
import type { StrobeEnsemble } from '../strobe/ensemble-result.ts';
import {
  buildEnvelope,
  cornerUncertainties,
  definingCases,
  followedUntil,
  strobeSearch,
  strobeUncertainties,
} from '../strobe/envelope.ts';
import { windowAt } from '../strobe/window-at.ts';
import { bellWithin, topOfBell } from './top-of-bell.ts';
import type { Simulate } from '../fitting/bench-runs.ts';
import type { Simulation } from '../solver/result.ts';
import type { Observed } from '../fitting/compare.ts';

/** The traces that are shown, in this order. */
export const SHOWN = ['one', 'zero', 'leastOne', 'greatestZero'] as const;
export type ShownTrace = (typeof SHOWN)[number];

/** The figures that are told, in this order: V and s. */
export const FIGURES = [
  'peak',
  'peakTime',
  'strobe',
  'threshold',
  'one',
  'zero',
  'cornerOne',
  'cornerZero',
] as const;
export type FigureName = (typeof FIGURES)[number];

/** Which cases stand for the whole ensemble when something is moved a little. */
export interface Standing {
  readonly specs: readonly CaseSpec[];
  /** Places of the shown traces in `specs`. */
  readonly shown: Readonly<Record<ShownTrace, number>>;
}

/** What one design gives in them. */
export interface Given {
  readonly time: Float64Array;
  /** V where the probe is, one a spec. */
  readonly probed: readonly Float64Array[];
  /** V as the latch hears them, referred to the sense wire. */
  readonly heard: readonly Float64Array[];
  readonly figures: Readonly<Record<FigureName, number>>;
}

/** The design's own ONE and ZERO, and every case that sets an envelope at the strobe or an edge of its window. */
export function standingOf(ensemble: StrobeEnsemble): Standing {
  const { design, envelope, uncertainties, cases, corners } = ensemble;
  const own = { pattern: 'given', state: design.initialState } as const;
  const specs: CaseSpec[] = [
    { bit: 1, ...own },
    { bit: 0, ...own },
  ];
  const add = (spec: CaseSpec): number => {
    const name = nameCase(spec);
    const found = specs.findIndex((each) => nameCase(each) === name);
    return found < 0 ? specs.push(spec) - 1 : found;
  };
  const at = { time: design.strobe.time, threshold: design.detector.threshold };
  const { inForce, distance } = windowAt(envelope, at, uncertainties);
  const strobe = inForce.time - uncertainties.delay;
  const nominal = cases.filter(({ corner }) => !corner);
  const setAt = (t: number): readonly [number, number] => {
    const { one, zero } = definingCases(envelope, t);
    return [add(nominal[one]!.spec), add(nominal[zero]!.spec)];
  };
  const [leastOne, greatestZero] = setAt(strobe);
  if (distance) {
    setAt(strobe - distance.toStart);
    setAt(strobe + distance.toEnd);
  }
  if (corners) {
    const { one, zero } = definingCases(corners.envelope, strobe);
    add(cases[one]!.spec);
    add(cases[zero]!.spec);
  }
  return { specs, shown: { one: 0, zero: 1, leastOne, greatestZero } };
}

/** Runs them with a design; undefined where one of the runs failed. */
export function giveStanding(
  design: Design,
  { specs }: Standing,
  how: {
    readonly simulate: Simulate;
    readonly observed: Observed;
    readonly coupling: number;
    readonly finer?: number;
  },
): Given | undefined {
  let last: Simulation | undefined;
  const runs = makeCaseRuns(design, (each, options) => (last = how.simulate(each, options)), {
    coupling: how.coupling,
    until: followedUntil(design),
    finer: how.finer ?? 1,
  });
  const probed: Float64Array[] = [];
  const cases = specs.map((spec) => {
    const done = runs.add(spec);
    probed.push(how.observed === 'sense' ? last!.senseVoltage : last!.amplifierOutput);
    return done;
  });
  const done = cases.filter((item) => item !== undefined);
  if (done.length < cases.length || runs.time === undefined) return undefined;
  const heard = done.map((item) => item.heard);
  return { time: runs.time, probed, heard, figures: figuresOf(design, runs.time, probed[0]!, done) };
}

function figuresOf(
  design: Design,
  time: Float64Array,
  ownOne: Float64Array,
  cases: readonly {
    name: string;
    bit: 0 | 1;
    corner: boolean;
    referred: Float64Array;
    heard: Float64Array;
  }[],
): Given['figures'] {
  const search = strobeSearch(design);
  const nominal = buildEnvelope(
    time,
    cases.filter(({ corner }) => !corner),
    search,
  );
  const all = buildEnvelope(
    time,
    cases.map(({ name, bit, heard }) => ({ name, bit, referred: heard })),
    search,
  );
  const { threshold } = design.detector;
  const [own, wide] = [strobeUncertainties(design), cornerUncertainties(design)];
  const best = windowAt(nominal, { time: undefined, threshold }, own).inForce.time;
  const strobe = design.strobe.time ?? best;
  const margin = windowAt(nominal, { time: strobe, threshold }, own).margin;
  const corner = windowAt(all, { time: strobe, threshold }, wide).margin;
  return {
    ...topOfBell(time, ownOne, bellWithin(design)),
    strobe: best,
    threshold: threshold + (margin.one - margin.zero) / 2,
    one: margin.one - own.threshold,
    zero: margin.zero - own.threshold,
    cornerOne: corner.one - wide.threshold,
    cornerZero: corner.zero - wide.threshold,
  };
}
