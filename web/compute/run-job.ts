import { checkDesign } from '../../engine/check/check-design.ts';
import type { Design } from '../../engine/design/design.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import type { Simulation } from '../../engine/solver/result.ts';
import { runEnsemble } from '../../engine/strobe/ensemble.ts';
import { followedUntil } from '../../engine/strobe/envelope.ts';
import type { EnsembleOptions, StrobeEnsemble } from '../../engine/strobe/ensemble-result.ts';
import { openCore } from '../../engine/strobe/strobe-window.ts';
import type { PartsYield } from '../../engine/strobe/verdict-of-sets.ts';
import { noneWords } from '../../engine/strobe/notice-words.ts';
import type { DesignWarning } from '../model/run.ts';
import { readSpan } from '../model/read-span.ts';
import type { JudgeAsk, RunAsk, RunPiece, Shown, StagePiece } from './run-messages.ts';

type Tell = (piece: RunPiece | StagePiece) => void;

/** The ONE, then how strobe and threshold are judged: quick first, full last. Throws DesignError for a design that does not hold. */
export async function readOne({ raw, shown }: RunAsk, tell: Tell): Promise<undefined> {
  const design = checkDesign(raw);
  tell({ kind: 'design', design });
  tell({ kind: 'stage', stage: 'reading a ONE and a ZERO' });
  // Fetched while the ONE is read, so that the worker of the first trace weighs less.
  const words = import('../../engine/warnings/design-warnings.ts');
  const one = read(design, 1, readFirst(design, shown));
  const { designWarnings } = await words;
  tell({ kind: 'one', one, warnings: [...notFinished(one), ...designWarnings(design)] });
  tell({ kind: 'stage', stage: 'trying the worst patterns' });
  const how = { wholeCycle: goesOn(design, shown), partsYield: await partsOf(design) };
  if (!judge(design, 'quick', how, {}, tell)) return;
  tell({ kind: 'stage', stage: 'trying other addresses, history and corners' });
  judge(design, 'full', how, { one: simulate(withBit(design, 1)) }, tell);
}

/** The full judgement alone, with what was run for another strobe or threshold: the same answer, sooner. */
export async function judgeAgain({ raw, shown, atHand }: JudgeAsk, tell: Tell): Promise<undefined> {
  const design = checkDesign(raw);
  tell({ kind: 'design', design });
  const wholeCycle = goesOn(design, shown);
  tell({
    kind: 'stage',
    stage: wholeCycle ? 'following the worst cases to the end of the cycle' : 'looking for worse cases',
  });
  const partsYield = await partsOf(design);
  judge(design, 'full', { wholeCycle, partsYield, ...(atHand && !wholeCycle ? { atHand } : {}) }, {}, tell);
}

/** Draws of parts as they come, where they are asked for: they are fetched then, as the first traces do without. */
async function partsOf(design: Design): Promise<((held: Design) => PartsYield | undefined) | undefined> {
  if (!design.requirement.sets.includes('parts')) return undefined;
  const { drawParts } = await import('../../engine/studies/tolerance/parts-yield.ts');
  return (held) => drawParts(held, { checkDesign, simulate });
}

/** No strobe is sought beyond the read: so far only where the lanes go there. */
const goesOn = (design: Design, { spanEnd = 0 }: Shown): boolean => spanEnd > followedUntil(design);

/** The sets of cases: nominal and corners first, then what the core could be, the assumptions, and the parts where they are asked for. */
function judge(
  design: Design,
  grade: 'quick' | 'full',
  how: Pick<EnsembleOptions, 'wholeCycle' | 'atHand' | 'partsYield'>,
  exact: { readonly one?: Simulation },
  tell: Tell,
): boolean {
  const judged = (ensemble: StrobeEnsemble): void =>
    tell({ kind: 'judged', ensemble, reason: undefined, grade, ...exact });
  const ensemble = runEnsemble(design, {
    simulate,
    cases: grade,
    ...how,
    openCore,
    told: (soFar) => {
      if (grade === 'quick') return;
      judged(soFar);
      tell({ kind: 'stage', stage: 'trying what the core could be' });
    },
  });
  if ('envelope' in ensemble) judged(ensemble);
  else {
    const reason = noneWords(ensemble.failed);
    tell({ kind: 'judged', ensemble: undefined, reason, grade, ...exact });
  }
  return 'envelope' in ensemble;
}

/** A first trace that is not to be used says so before anything is judged. */
function notFinished({ outcome }: Simulation): DesignWarning[] {
  if (outcome.kind === 'done') return [];
  const message = `The read of a ONE ended as ${outcome.kind}: the traces are not to be used.`;
  return [{ field: '/numerics/step', message, remedy: outcome.advice }];
}

/** The ZERO, then both to the end of the cycle. */
export function readZero({ raw, shown }: RunAsk, tell: Tell): undefined {
  const design = checkDesign(raw);
  const until = readFirst(design, shown);
  tell({ kind: 'zero', zero: read(design, 0, until) });
  if (until !== undefined) tell({ kind: 'whole', one: read(design, 1), zero: read(design, 0) });
}

/** s of the cycle that must be read before what is on the screen can be drawn; undefined where that is nearly all of it. */
function readFirst(design: Design, { spanEnd, marked }: Shown): number | undefined {
  const end = Math.max(spanEnd ?? readSpan(design).to, design.strobe.time ?? 0, ...marked);
  const until = end + 4 * design.numerics.output;
  return until < 0.6 * design.cycle.period ? until : undefined;
}

/** Traces first: what they are exact to costs a run more and can come with the full answer. */
const read = (design: Design, bit: 0 | 1, until?: number): Simulation =>
  simulate(withBit(design, bit), { estimateError: false, until });

const withBit = (design: Design, bit: 0 | 1): Design => ({
  ...design,
  selected: { ...design.selected, bit },
});
