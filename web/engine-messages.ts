import type { RawDesign } from './pointer.ts';
import type { Run } from './run.ts';

export interface ToWorker {
  readonly id: number;
  readonly raw: RawDesign;
}

export type FromWorker =
  | { readonly id: number; readonly kind: 'stage'; readonly stage: string }
  | { readonly id: number; readonly kind: 'run'; readonly run: Run }
  | { readonly id: number; readonly kind: 'finished' }
  | { readonly id: number; readonly kind: 'failed'; readonly message: string };
