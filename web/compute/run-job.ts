import {
  checkDesign,
  designWarnings,
  runEnsemble,
  simulate,
  type Design,
  type Simulation,
} from '../../engine/index.ts';
import type { RunPiece, ToWorker } from './run-messages.ts';
import type { RawDesign } from '../model/pointer.ts';

export interface JobCallbacks {
  readonly onStage: (stage: string) => void;
  /** Called with traces first, a quick judgement next and the full one last. */
  readonly onPiece: (piece: RunPiece) => void;
}

/** A worker's share of what the page shows of one design. Throws DesignError for a design that does not hold. */
export function computeShare(
  raw: RawDesign,
  { share, until }: Pick<ToWorker, 'share' | 'until'>,
  { onStage, onPiece }: JobCallbacks,
): void {
  const design = checkDesign(raw);
  // Traces first: what they are exact to costs a run more and can come with the full answer.
  const read = (bit: 0 | 1, end?: number): Simulation =>
    simulate(withBit(design, bit), { estimateError: false, until: end });
  if (share === 'zero') {
    onPiece({ kind: 'zero', zero: read(0, until) });
    if (until !== undefined) onPiece({ kind: 'whole', one: read(1), zero: read(0) });
    return;
  }
  onStage('reading a ONE and a ZERO');
  onPiece({ kind: 'one', one: read(1, until), design, warnings: designWarnings(design) });
  for (const grade of ['quick', 'full'] as const) {
    onStage(grade === 'quick' ? 'trying the worst patterns' : 'trying other addresses, history and corners');
    const exact = grade === 'full' ? { one: simulate(withBit(design, 1)) } : {};
    const ensemble = runEnsemble(design, { simulate, cases: grade, wholeCycle: grade === 'full' });
    const ok = 'envelope' in ensemble;
    const reason = ok ? undefined : `${ensemble.failed.name} ended as ${ensemble.failed.outcome.kind}`;
    onPiece({ kind: 'judged', ensemble: ok ? ensemble : undefined, reason, grade, ...exact });
    if (!ok) return;
  }
}

const withBit = (design: Design, bit: 0 | 1): Design => ({
  ...design,
  selected: { ...design.selected, bit },
});
