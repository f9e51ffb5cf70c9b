import { checkDesign, designWarnings, runEnsemble, simulate, type Design } from '../engine/index.ts';
import type { RawDesign } from './pointer.ts';
import type { Run } from './run.ts';

export interface JobCallbacks {
  readonly onStage: (stage: string) => void;
  /** Called with a quick answer first and with the full one last. */
  readonly onRun: (run: Run) => void;
}

/** Everything the page shows of one design. Throws DesignError for a design that does not hold. */
export function computeRun(raw: RawDesign, { onStage, onRun }: JobCallbacks): void {
  const design = checkDesign(raw);
  onStage('reading a ONE and a ZERO');
  // Traces first: what they are exact to costs a run more and can come with the full answer.
  let one = simulate(withBit(design, 1), { estimateError: false });
  const zero = simulate(withBit(design, 0), { estimateError: false });
  const warnings = designWarnings(design);
  onRun({ design, one, zero, ensemble: undefined, reason: undefined, grade: 'traces', warnings });
  for (const grade of ['quick', 'full'] as const) {
    onStage(grade === 'quick' ? 'trying the worst patterns' : 'trying other addresses, history and corners');
    if (grade === 'full') one = simulate(withBit(design, 1));
    const ensemble = runEnsemble(design, { simulate, cases: grade, wholeCycle: grade === 'full' });
    const ok = 'envelope' in ensemble;
    const reason = ok ? undefined : `${ensemble.failed.name} ended as ${ensemble.failed.outcome.kind}`;
    onRun({ design, one, zero, ensemble: ok ? ensemble : undefined, reason, grade, warnings });
    if (!ok) return;
  }
}

const withBit = (design: Design, bit: 0 | 1): Design => ({
  ...design,
  selected: { ...design.selected, bit },
});
