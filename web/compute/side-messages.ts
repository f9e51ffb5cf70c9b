import type { Advice, ChannelReport, CoreShares, Design, Requirement } from '../../engine/index.ts';

/** Work beside the run itself, each kind in a worker of its own. */
export type SideTask =
  | { readonly kind: 'advice'; readonly design: Design; readonly wanted: Requirement }
  | { readonly kind: 'channel'; readonly design: Design }
  | { readonly kind: 'report'; readonly design: Design }
  /** `at`: s, the instant at which to tell what each core gives. */
  | { readonly kind: 'shares'; readonly design: Design; readonly at: number };

export type FromSide =
  | { readonly kind: 'progress'; readonly done: number; readonly total: number; readonly next: string }
  | { readonly kind: 'advice'; readonly advice: Advice }
  | { readonly kind: 'channel'; readonly report: ChannelReport }
  /** One self-contained document. */
  | { readonly kind: 'report'; readonly html: string }
  | { readonly kind: 'shares'; readonly shares: CoreShares }
  | { readonly kind: 'failed'; readonly message: string };
