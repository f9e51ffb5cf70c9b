import type { RawDesign } from '../model/pointer.ts';
import type { Run } from '../model/run.ts';

/** A full judgement with what it is of. */
export interface KeptRun {
  readonly raw: RawDesign;
  /** Of the traces alone. */
  readonly key: string;
  readonly run: Run;
  /** All sets of cases are in, what the core could be among them. */
  readonly complete: boolean;
}

/** Each holds some hundred traces: so many that undo and redo of the last changes find theirs. */
const MOST = 4;

/** The last full judgements, so that going back to a design needs no run. Keys: physics, strobe and threshold. */
export function keepRuns(): {
  get(whole: string): KeptRun | undefined;
  set(whole: string, kept: KeptRun): void;
} {
  const runs = new Map<string, KeptRun>();
  return {
    get: (whole) => runs.get(whole),
    set(whole, kept) {
      runs.delete(whole);
      runs.set(whole, kept);
      if (runs.size > MOST) runs.delete(runs.keys().next().value!);
    },
  };
}
