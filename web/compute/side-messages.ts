import type { Advice } from '../../engine/advice/advice.ts';
import type { ChannelReport } from '../../engine/channel/channel-report.ts';
import type { Design, Requirement } from '../../engine/design/design.ts';
import type { CoreShares } from '../../engine/solver/result.ts';

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
