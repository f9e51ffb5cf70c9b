import { checkDesign, designWarnings, runEnsemble, simulate, type Design } from '../engine/index.ts';
import type { RunPiece, Share } from './engine-messages.ts';
import type { RawDesign } from './pointer.ts';

export interface JobCallbacks {
  readonly onStage: (stage: string) => void;
  /** Called with traces first, a quick judgement next and the full one last. */
  readonly onPiece: (piece: RunPiece) => void;
}

/** A worker's share of what the page shows of one design. Throws DesignError for a design that does not hold. */
export function computeShare(raw: RawDesign, share: Share, { onStage, onPiece }: JobCallbacks): void {
  const design = checkDesign(raw);
  // Traces first: what they are exact to costs a run more and can come with the full answer.
  if (share === 'zero')
    return onPiece({ kind: 'zero', zero: simulate(withBit(design, 0), { estimateError: false }) });
  onStage('reading a ONE and a ZERO');
  const one = simulate(withBit(design, 1), { estimateError: false });
  onPiece({ kind: 'one', one, design, warnings: designWarnings(design) });
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
