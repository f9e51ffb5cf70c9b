import { checkDesign } from '../../engine/check/check-design.ts';
import type { Design } from '../../engine/design/design.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import type { Simulation } from '../../engine/solver/result.ts';
import { runEnsemble, type StrobeEnsemble } from '../../engine/strobe/ensemble.ts';
import { drawParts } from '../../engine/studies/tolerance/parts-yield.ts';
import { designWarnings } from '../../engine/warnings/design-warnings.ts';
import type { RunAsk, RunPiece, StagePiece } from './run-messages.ts';

type Tell = (piece: RunPiece | StagePiece) => void;

/** The ONE, then how strobe and threshold are judged: quick first, full last. Throws DesignError for a design that does not hold. */
export function readOne({ raw, until }: RunAsk, tell: Tell): undefined {
  const design = checkDesign(raw);
  tell({ kind: 'stage', stage: 'reading a ONE and a ZERO' });
  tell({ kind: 'one', one: read(design, 1, until), design, warnings: designWarnings(design) });
  for (const grade of ['quick', 'full'] as const) {
    const stage =
      grade === 'quick' ? 'trying the worst patterns' : 'trying other addresses, history and corners';
    tell({ kind: 'stage', stage });
    const exact = grade === 'full' ? { one: simulate(withBit(design, 1)) } : {};
    const ensemble = runEnsemble(design, { simulate, cases: grade, wholeCycle: grade === 'full' });
    const ok = 'envelope' in ensemble;
    const reason = ok ? undefined : `${ensemble.failed.name} ended as ${ensemble.failed.outcome.kind}`;
    tell({ kind: 'judged', ensemble: ok ? ensemble : undefined, reason, grade, ...exact });
    if (!ok) return;
    if (grade === 'full') drawStacks(ensemble, exact, tell);
  }
}

/** Parts as they come, where the design asks for that set: the full answer once more with their yield. */
function drawStacks(ensemble: StrobeEnsemble, exact: { readonly one?: Simulation }, tell: Tell): void {
  const { design, parts } = ensemble;
  if (parts === undefined || !design.requirement.sets.includes('parts')) return;
  tell({ kind: 'stage', stage: 'drawing stacks of parts as they come' });
  const held = { ...design, strobe: { ...design.strobe, time: parts.at.time } };
  const drawn = { ...parts, yield: drawParts(held, { checkDesign, simulate }) };
  tell({
    kind: 'judged',
    ensemble: { ...ensemble, parts: drawn },
    reason: undefined,
    grade: 'full',
    ...exact,
  });
}

/** The ZERO, then both to the end of the cycle. */
export function readZero({ raw, until }: RunAsk, tell: Tell): undefined {
  const design = checkDesign(raw);
  tell({ kind: 'zero', zero: read(design, 0, until) });
  if (until !== undefined) tell({ kind: 'whole', one: read(design, 1), zero: read(design, 0) });
}

/** Traces first: what they are exact to costs a run more and can come with the full answer. */
const read = (design: Design, bit: 0 | 1, until?: number): Simulation =>
  simulate(withBit(design, bit), { estimateError: false, until });

const withBit = (design: Design, bit: 0 | 1): Design => ({
  ...design,
  selected: { ...design.selected, bit },
});
