import type { Advice } from '../../engine/advice/advice.ts';
import type { Band, BandAsk } from '../../engine/advice/bands.ts';
import type { Unit } from '../../engine/base/units.ts';
import type { ChannelReport } from '../../engine/channel/channel-report.ts';
import type { Design } from '../../engine/design/design.ts';
import type { Requirement } from '../../engine/design/requirement.ts';
import type { CoreShares } from '../../engine/solver/result.ts';
import type { StrobeEnsemble } from '../../engine/strobe/ensemble-result.ts';
import type { RawDesign } from '../model/pointer.ts';

/** Work beside the run itself, asked for when it is wanted. */
export interface SideTasks {
  readonly advice: {
    readonly ask: { readonly design: Design; readonly wanted: Requirement };
    readonly piece: { readonly done: number; readonly total: number; readonly next: string };
    readonly answer: Advice;
  };
  readonly channel: { readonly ask: Design; readonly piece: never; readonly answer: ChannelReport };
  /** One self-contained document each: what the design does, and what it is built from. */
  readonly report: { readonly ask: Design; readonly piece: never; readonly answer: string };
  readonly pack: { readonly ask: Design; readonly piece: never; readonly answer: string };
  /** Where one input may stand so that every bit is read: as designed, or at the corners inside what was found as designed. */
  readonly band: {
    readonly ask: Omit<BandAsk, 'make'> & {
      readonly raw: RawDesign;
      /** Of `raw` as it is, with its corners. */
      readonly ensemble: StrobeEnsemble;
      /** Where the input is written. */
      readonly pointers: readonly string[];
      readonly unit: Unit;
      readonly nominal?: readonly Band[];
    };
    readonly piece: never;
    readonly answer: readonly Band[];
  };
  /** `at`: s, the instants at which to tell what each core gives. */
  readonly shares: {
    readonly ask: { readonly design: Design; readonly at: readonly number[] };
    readonly piece: never;
    readonly answer: readonly CoreShares[];
  };
}
