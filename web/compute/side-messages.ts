import type { Advice, ChannelReport, CoreShares, Design, Requirement } from '../../engine/index.ts';

/** Work beside the run itself, asked for when it is wanted. */
export interface SideTasks {
  readonly advice: {
    readonly ask: { readonly design: Design; readonly wanted: Requirement };
    readonly piece: { readonly done: number; readonly total: number; readonly next: string };
    readonly answer: Advice;
  };
  readonly channel: { readonly ask: Design; readonly piece: never; readonly answer: ChannelReport };
  /** One self-contained document. */
  readonly report: { readonly ask: Design; readonly piece: never; readonly answer: string };
  /** `at`: s, the instants at which to tell what each core gives. */
  readonly shares: {
    readonly ask: { readonly design: Design; readonly at: readonly number[] };
    readonly piece: never;
    readonly answer: readonly CoreShares[];
  };
}
