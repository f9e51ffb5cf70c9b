import type { ReadonlySignal } from '@preact/signals-core';
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
}
