import type { Design } from '../design/design.ts';
import type { BrokenLimit } from '../estimates/constraints/constraint.ts';
import type { SoftestCore } from '../estimates/softest-core.ts';
import type { SimulateOptions, Simulation } from '../solver/result.ts';
import type { BestPair } from './window-result.ts';
import type { CaseSpec } from './case-overrides.ts';
import type { EnsembleCase, FailedCase, RunsAtHand } from './case-runs.ts';
import type { CoreSet } from './open-core.ts';
import type { OpenCore } from './open-core.ts';
import type { RateEnvelope } from './rates.ts';
import type { ReferredParts } from './parts.ts';
import type { LedgerRun } from './ledger-run.ts';
import type { StrobeEnvelope, StrobeUncertainties } from './envelope.ts';
import type { PartsYield } from './verdict-of-sets.ts';
import type { StrobeWindow } from './window-result.ts';

export interface EnsembleOptions {
  /** Computes one run. */
  readonly simulate: (design: Design, options?: SimulateOptions) => Simulation;
  /**
   * 'quick': patterns and disturb states, and a bit just written. 'nominal': the worst of all patterns, disturb states,
   * histories and addresses together. 'corners': also the worst of all of them at all corners of drive, supply and temperature, which with
   * wider uncertainties of threshold and strobe make an envelope of their own; and other cycle rates. 'full' (default):
   * also the corners over what is not known of the core, and the ledger of assumptions; about twice the runs.
   */
  readonly cases?: 'quick' | 'nominal' | 'corners' | 'full';
  /** Follow every run to the end of the cycle, for the eye; the strobe is sought before the write alone (default). */
  readonly wholeCycle?: boolean;
  readonly cancelled?: () => boolean;
  /** False: the ledger of assumptions is left out of a full answer. */
  readonly assumptions?: boolean;
  /** Runs of the same design, followed no further than to the write; the answer is that without them, sooner. */
  readonly atHand?: RunsAtHand;
  /** Told the answer as far as it stands before what is not known of the core, the assumptions and the parts are run. */
  readonly told?: (ensemble: StrobeEnsemble) => void;
  /** What is not known of the core, for the set `core` of a full answer; left out: that set is not computed. */
  readonly openCore?: (design: Design) => OpenCore;
  /**
   * Yield of whole mats and stacks of parts as they come, for the set `parts`, of the design with its strobe as found;
   * left out: only the softest core is looked at.
   */
  readonly partsYield?: (design: Design) => PartsYield | undefined;
}

/** What inputs do one by one on the way from the worst nominal case to the worst one at a corner: traces as they are heard, V. */
export interface MovedAlone {
  /** The worst case at the corners, at the strobe for which the ensemble was run, and its name. */
  readonly case: CaseSpec;
  readonly name: string;
  readonly base: Float64Array;
  readonly drive?: Float64Array;
  readonly supply?: Float64Array;
  readonly temperature?: Float64Array;
}

/** Everything about a design's strobe that does not change when strobe or threshold is moved. */
export interface StrobeEnsemble {
  readonly design: Design;
  readonly envelope: StrobeEnvelope;
  /** The same as the latch sees it: one detector delay later. */
  readonly seen: StrobeWindow['envelope'];
  readonly uncertainties: StrobeUncertainties;
  readonly opening: StrobeWindow['opening'];
  readonly bestPair: BestPair | undefined;
  readonly cases: readonly EnsembleCase[];
  /** The same with the corners; undefined for quick ones. */
  readonly corners:
    | (Pick<StrobeEnsemble, 'envelope' | 'uncertainties' | 'bestPair'> & {
        readonly alone: { readonly one: MovedAlone; readonly zero: MovedAlone };
      })
    | undefined;
  /** The corners with other cores that it could be; undefined where it was not asked for. */
  readonly core: CoreSet | undefined;
  /** The deciding cases with each assumed field at both ends of its range; undefined for quick ones. */
  readonly ledger: readonly LedgerRun[] | undefined;
  /** Undefined for quick ones. */
  readonly parts:
    | {
        readonly softest: SoftestCore;
        readonly yield: PartsYield | undefined;
        /** Strobe, s, and threshold, V, at which they were read. */
        readonly at: { readonly time: number; readonly threshold: number };
      }
    | undefined;
  /** The nominal envelope when cycles follow each other faster; empty for quick ones. */
  readonly rates: readonly RateEnvelope[];
  /** Contributions of the cases that set the least ONE and the greatest ZERO at the strobe in force. */
  readonly worst: { readonly one: ReferredParts; readonly zero: ReferredParts };
  /** V at the envelope's times: error of the runs that set it, by companion runs; undefined for quick ones. */
  readonly numbers: Float64Array | undefined;
  readonly failed: readonly FailedCase[];
  /** What its runs take for granted and the design does not keep to. */
  readonly limits: readonly BrokenLimit[];
}
