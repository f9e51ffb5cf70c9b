import type { Design } from '../engine/design/design.ts';
import type { ProposalJob } from '../engine/propose/jobs.ts';
import type { StudyRequest } from '../engine/studies/shared/shape.ts';
import type { PointJob } from '../engine/studies/study.ts';
import type { DiagnosisInput, FitInput } from './capture-input.ts';
import type { PredictionFrame } from './prediction-input.ts';
import type { JigInput } from './jig-input.ts';
import type { SessionInput } from './session-input.ts';

/** How an answer is written. */
type Format = 'json' | 'csv';

/** Heavy work, in a form that travels to a worker. */
export type Task =
  | {
      readonly kind: 'simulate';
      readonly design: Design;
      readonly format: Format | 'text';
      readonly contributions: boolean;
      readonly estimateError: boolean;
      readonly spectrum?: boolean;
    }
  | { readonly kind: 'window'; readonly design: Design; readonly format: Format; readonly advice: boolean }
  | { readonly kind: 'report'; readonly design: Design }
  | { readonly kind: 'pack'; readonly design: Design; readonly format: 'json' | 'html' }
  | { readonly kind: 'channel'; readonly design: Design }
  | { readonly kind: 'fit'; readonly fit: FitInput }
  | { readonly kind: 'diagnose'; readonly diagnosis: DiagnosisInput }
  | { readonly kind: 'predict' | 'next'; readonly frame: PredictionFrame }
  | { readonly kind: 'core'; readonly jig: JigInput }
  | { readonly kind: 'core-captures'; readonly session: SessionInput }
  | { readonly kind: 'plan-study'; readonly request: StudyRequest }
  | { readonly kind: 'study-point'; readonly job: PointJob }
  /** Plan and results as lines: see study-lines.ts. They are handed over, not copied. */
  | { readonly kind: 'study-result'; readonly plan: Uint8Array; readonly results: readonly Uint8Array[] }
  | { readonly kind: 'proposal-part'; readonly job: ProposalJob };

/** What a task gave: text in UTF-8. */
export interface Answer {
  readonly body: Uint8Array;
}

/** A refusal or a named end, as it travels from a worker. */
export interface TaskFailure {
  readonly status: number;
  readonly code: string;
  readonly field: string | null;
  readonly message: string;
  readonly limit: number | string | null;
}

/** What stands for all of a task where a worker tells how far it is. */
export const WHOLE = 1e6;

/**
 * What main and worker share: [0] is set to 1 to cancel, [1] is what is done of the task, out of WHOLE, [2] how many
 * parts it has, 0 where it does not say.
 */
export interface WorkMessage {
  readonly task: Task;
  readonly control: SharedArrayBuffer;
  /** ms that the task may take. */
  readonly timeLimit: number;
}

export type WorkReply = { readonly answer: Answer } | { readonly failure: TaskFailure };

/** What is done of a task, 0..1, and of how many parts it consists, where it says so. */
export type Progress = (share: number, parts?: number) => void;

export interface RunControl {
  readonly signal?: AbortSignal;
  /** Whose work it is, for a fair share of the places. */
  readonly client?: string;
  /** May it take so long that its client must leave a place free? */
  readonly long?: boolean;
  /** ms. */
  readonly timeLimit?: number;
  /** Told a few times a second how far a long task is, 0..1, when that has changed, and of how many parts (0: not told). */
  readonly progress?: Progress;
}

/** Something that does tasks: a pool of workers, or in a test a function. */
export interface Runner {
  /** Rejects with RequestError: refused, cancelled, over time, queue full, worker lost. */
  run(task: Task, control?: RunControl): Promise<Answer>;
  /** Throws the refusal that a client's next task would get: asked before a request is read closely. */
  refuseWhenFull?(client?: string): void;
  /** Tasks done at the same time. */
  readonly threads: number;
  close(): Promise<void>;
}
