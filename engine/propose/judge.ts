import type { Design } from '../design/design.ts';
import { repetitionCoupling } from '../sense-amplifier/repetition.ts';
import type { CaseSpec } from '../strobe/case-overrides.ts';
import { makeCaseRuns, SEARCHED, type CaseRuns, type RunsAtHand } from '../strobe/case-runs.ts';
import { caseSpace, quickCases } from '../strobe/cases.ts';
import {
  buildEnvelope,
  definingCases,
  followedUntil,
  strobeSearch,
  type StrobeEnvelope,
} from '../strobe/envelope.ts';
import { addWorst, caseSearches } from '../strobe/find-cases.ts';
import { bindings, penaltyOf } from './bindings.ts';
import type { Bind } from './bindings.ts';
import type { Needs } from './needs.ts';
import { boxOf, seenUntil } from './box.ts';
import { fits, NOTHING, reserveOf, type Reserve, type WeakEnvelope } from './reserve.ts';
import type { Run } from './run.ts';
import { weakEnvelope, weakRuns } from './weak-envelope.ts';

/** A build as far as it was judged. */
export interface Judged extends Reserve {
  /** What the search makes greater: the reserve less penalties; at least 1 where the build does all that is asked for. */
  readonly value: number;
  /** What does not hold or comes within a tenth of its limit, worst first. */
  readonly binding: readonly Bind[];
  /** Cases that set the box. */
  readonly setBy: readonly CaseSpec[];
}

/** The cases that a search starts from: the worst patterns at the ends where they are worst. */
export function firstCases(design: Design): readonly CaseSpec[] {
  const { corners } = caseSpace(design);
  const ends = corners.filter(({ drive, supply }) => same(drive, supply));
  const at = (spec: CaseSpec, low: boolean): CaseSpec[] =>
    ends.flatMap((corner) =>
      (corner.drive ?? corner.supply ?? 1) < 1 === low ? [{ ...spec, ...corner }] : [],
    );
  const { one, zero } = {
    one: { bit: 1, pattern: 'worst-one', state: 'undisturbed' },
    zero: { bit: 0, pattern: 'worst-zero', state: 'disturbed', previous: 'own' },
  } as const;
  return [
    ...at(one, true),
    ...at({ ...one, state: 'disturbed' }, true),
    ...at(zero, false),
    ...at({ ...one, bit: 0, pattern: 'worst-zero' }, false),
  ];
}

/** Both at the same end. */
const same = (a: number | undefined, b: number | undefined): boolean =>
  a === undefined || b === undefined || a < 1 === b < 1;

/**
 * A design judged by these cases alone, at the strobe and threshold that suit it best. Undefined as soon as it is sure to
 * come to less than `least`: no case that is still to be run can make its reserve greater.
 *
 * @param cases.first those that are likely to decide, of the others
 */
export function judge(
  needs: Needs,
  design: Design,
  cases: { readonly first?: readonly CaseSpec[]; readonly all: readonly CaseSpec[] },
  run: Run,
  least = -Infinity,
): Judged | undefined {
  const runs = runsOf(design, run, seenUntil(design));
  const weak = weakRuns(design, runs, run);
  const binding = bindings(needs, design);
  const box = boxOf(design);
  const size = least + penaltyOf(binding);
  const tooLittle = (): boolean => {
    if (least === -Infinity) return false;
    if (runs.failed.length > 0) return true;
    if (!(size > 0) || new Set(runs.cases.map(({ bit }) => bit)).size < 2) return false;
    return fits(envelopeOf(design, runs), weak.envelope(), box, size) === undefined;
  };
  const { corners } = caseSpace(design);
  const steps = (specs: readonly CaseSpec[]): (() => void)[] =>
    specs.map((spec) => () => void runs.add(hereOf(corners, spec)));
  for (const step of [...steps(cases.first ?? []), ...weak.steps, ...steps(cases.all)]) {
    step();
    if (tooLittle()) return undefined;
  }
  return judged(design, runs, binding, weak.envelope());
}

/**
 * The same by the worst of all cases at all corners, as the strobe window counts them, with their runs: those that a window
 * of this design with its strobe and threshold set would do again.
 */
export function judgeWhole(
  needs: Needs,
  design: Design,
  cases: readonly CaseSpec[],
  run: Run,
): { readonly judged: Judged; readonly runs: RunsAtHand } {
  const runs = runsOf(design, run, followedUntil(strobeOpen(design)));
  const { corners } = caseSpace(design);
  for (const spec of [...quickCases(design), ...cases.map((spec) => hereOf(corners, spec))]) runs.add(spec);
  const binding = bindings(needs, design);
  const { time } = runs;
  if (time === undefined) return { judged: judged(design, runs, binding, undefined), runs };
  const box = boxOf(design);
  const weak = weakEnvelope(design, runs, run);
  addWorst(caseSearches(design, runs, time), () => {
    const { reserve, strobe } = reserveOf(envelopeOf(design, runs), weak, box);
    const reach = Math.max(0, reserve) * box.width;
    return [0, -reach, reach].map((off) => strobe - box.delay + off);
  });
  return { judged: judged(design, runs, binding, weak), runs };
}

/** A case of another build of the same combination: its corner moved to where this build has it. */
function hereOf(corners: ReturnType<typeof caseSpace>['corners'], spec: CaseSpec): CaseSpec {
  if (spec.drive === undefined && spec.supply === undefined && spec.temperature === undefined) return spec;
  const like = corners.find(
    (corner) =>
      side(corner.drive, 1) === side(spec.drive, 1) &&
      side(corner.supply, 1) === side(spec.supply, 1) &&
      corner.temperature === spec.temperature,
  );
  return like ? { ...spec, ...like } : spec;
}

const side = (value: number | undefined, middle: number): number =>
  value === undefined ? 0 : Math.sign(value - middle);

const strobeOpen = (design: Design): Design => ({
  ...design,
  strobe: { ...design.strobe, time: undefined },
});

const runsOf = (design: Design, run: Run, until: number): CaseRuns =>
  makeCaseRuns(design, run, {
    coupling: repetitionCoupling(design, run),
    until,
    finer: SEARCHED,
  });

const envelopeOf = (design: Design, { time, cases }: CaseRuns): StrobeEnvelope =>
  buildEnvelope(
    time!,
    cases.map(({ name, bit, heard: referred }) => ({ name, bit, referred })),
    strobeSearch(design),
  );

function judged(
  design: Design,
  runs: CaseRuns,
  binding: readonly Bind[],
  weak: WeakEnvelope | undefined,
): Judged {
  const bits = new Set(runs.cases.map(({ bit }) => bit));
  if (bits.size < 2 || runs.failed.length > 0)
    return { reserve: NOTHING, value: NOTHING, strobe: 0, threshold: 1e-3, binding, setBy: [] };
  const envelope = envelopeOf(design, runs);
  const box = boxOf(design);
  const found = reserveOf(envelope, weak, box);
  const reach = Math.max(0, found.reserve) * box.width;
  const setting = new Set(
    [0, -reach, reach].flatMap((off) => {
      const { one, zero } = definingCases(envelope, found.strobe - box.delay + off);
      return [one, zero];
    }),
  );
  return {
    ...found,
    value: found.reserve - penaltyOf(binding),
    binding,
    setBy: [...setting].map((index) => runs.cases[index]!.spec),
  };
}
