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
import { boxOf, seenUntil, type Box } from './box.ts';
import { hereOf } from './first-cases.ts';
import { fits, NOTHING, reserveOf, type Reserve, type WeakEnvelope } from './reserve.ts';
import type { Run } from './run.ts';
import { envelopeOfAll, farRuns, weakRuns } from './weak-envelope.ts';
import { yieldSlice } from './yield-slice.ts';

/** How a build is judged. */
interface Judging {
  readonly run: Run;
  /** Left out: the reserve. */
  readonly aim?: Aim;
}

/** What is made as great as it can be: the reserve, or, once all that is asked for is there, what keeps stacks of parts good. */
export type Aim = 'reserve' | 'yield';

/** A build as far as it was judged. */
export interface Judged extends Reserve {
  /** What the search makes greater: the reserve less penalties; at least 1 where the build does all that is asked for. */
  readonly value: number;
  /** What does not hold or comes within a tenth of its limit, worst first. */
  readonly binding: readonly Bind[];
  /** Cases that set the box. */
  readonly setBy: readonly CaseSpec[];
}

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
  { run, aim, least = -Infinity }: Judging & { readonly least?: number },
): Judged | undefined {
  const runs = runsOf(design, run, seenUntil(design));
  const weak = weakRuns(design, runs, run);
  const far = aim === 'yield' ? farRuns(design, runs, run) : undefined;
  const binding = bindings(needs, design);
  const box = boxOf(design);
  // Beyond 1 yield is sought at the cost of the reserve.
  const size = Math.min(least, aim === 'yield' ? 1 : Infinity) + penaltyOf(binding);
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
  return judged(design, runs, binding, { weak: weak.envelope(), far: far && envelopeOfAll(far) });
}

/**
 * The same by the worst of all cases at all corners, as the strobe window counts them, with their runs: those that a window
 * of this design with its strobe and threshold set would do again.
 */
export function judgeWhole(
  needs: Needs,
  design: Design,
  cases: readonly CaseSpec[],
  { run, aim }: Judging,
): { readonly judged: Judged; readonly runs: RunsAtHand } {
  const runs = runsOf(design, run, followedUntil(strobeOpen(design)));
  const { corners } = caseSpace(design);
  for (const spec of [...quickCases(design), ...cases.map((spec) => hereOf(corners, spec))]) runs.add(spec);
  const binding = bindings(needs, design);
  const { time } = runs;
  if (time === undefined) return { judged: judged(design, runs, binding, {}), runs };
  const off: OffEnvelopes = {
    weak: envelopeOfAll(weakRuns(design, runs, run)),
    ...(aim === 'yield' ? { far: envelopeOfAll(farRuns(design, runs, run)) } : {}),
  };
  addWorst(caseSearches(design, runs, time), () =>
    aboutBox(boxOf(design), placed(envelopeOf(design, runs), boxOf(design), off)),
  );
  return { judged: judged(design, runs, binding, off), runs };
}

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

/** Cores that are off, as far as they count. */
interface OffEnvelopes {
  readonly weak?: WeakEnvelope | undefined;
  /** Given where yield is the aim. */
  readonly far?: WeakEnvelope | undefined;
}

/** Where strobe and threshold belong; `clear` V of cores far off, where yield is the aim and the rest is there. */
function placed(
  envelope: StrobeEnvelope,
  box: Box,
  { weak, far }: OffEnvelopes,
): Reserve & { readonly clear?: number } {
  return (far && yieldSlice(envelope, weak, box, far)) ?? reserveOf(envelope, weak, box);
}

/** Signal times at which a box decides: its middle and its ends. */
function aboutBox(box: Box, { reserve, strobe }: Reserve): readonly number[] {
  const reach = Math.max(0, reserve) * box.width;
  return [0, -reach, reach].map((off) => strobe - box.delay + off);
}

function judged(design: Design, runs: CaseRuns, binding: readonly Bind[], off: OffEnvelopes): Judged {
  const bits = new Set(runs.cases.map(({ bit }) => bit));
  if (bits.size < 2 || runs.failed.length > 0)
    return { reserve: NOTHING, value: NOTHING, strobe: 0, threshold: 1e-3, binding, setBy: [] };
  const envelope = envelopeOf(design, runs);
  const box = boxOf(design);
  const { clear, ...found } = placed(envelope, box, off);
  const setting = new Set(
    aboutBox(box, found).flatMap((at) => {
      const { one, zero } = definingCases(envelope, at);
      return [one, zero];
    }),
  );
  const penalty = penaltyOf(binding);
  return {
    ...found,
    // From 1 on greater the farther cores that are off lie clear, however far: a search must know its way.
    value:
      clear === undefined || penalty > 0
        ? found.reserve - penalty
        : 1 + 1 / (1 + Math.exp(-clear / box.constant)),
    binding,
    setBy: [...setting].map((index) => runs.cases[index]!.spec),
  };
}
