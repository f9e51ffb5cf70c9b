import type { ReadonlySignal } from '@preact/signals-core';
import type { RawDesign } from '../../model/pointer.ts';
import type { Given } from '../score.ts';
import type { Ask, StepResult } from '../step.ts';
import type { ToldStep } from '../words/shape.ts';

/** Where a reader answers a step. */
export interface AskView {
  readonly node: HTMLElement;
  /** What of it may stand where there is more room; it is a part of `node` until it is taken out. */
  readonly plot?: HTMLElement;
  /** The answer, or what is still to be done before there is one. */
  readonly given: () => Given | { readonly missing: string };
  /** Ends its listening to the stage. */
  readonly end?: () => void;
}

/** What a view of an answer needs of its step. */
export interface AskContext<Kind extends Ask['kind']> extends ToldStep {
  readonly ask: Extract<Ask, { readonly kind: Kind }>;
  /** The step's result, computed once. */
  readonly result: () => Promise<StepResult>;
}

/** The stage beside which a step is played. */
export interface Stage {
  /** s: where the reader has put the strobe; undefined until then. */
  readonly strobe: ReadonlySignal<number | undefined>;
  /** The board as it stands now. */
  readonly raw: ReadonlySignal<RawDesign>;
  /** As it was opened. */
  readonly opened: () => RawDesign;
  /** `gesture` names a drag or a held key: one step of undo. */
  readonly change: (turn: (raw: RawDesign) => RawDesign, gesture?: string) => void;
  /** V of margin left by the last judgement; undefined while it is being computed. */
  readonly left: ReadonlySignal<number | undefined>;
  /** Puts the reader's own design on the stage in the place of the step's board. */
  readonly takeOwn: () => void;
}
