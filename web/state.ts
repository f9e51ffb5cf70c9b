import type { TimeSpan } from './charts/spaces.ts';
import { observable, type Observable } from './observable.ts';
import type { RawDesign } from './model/pointer.ts';
import type { MeasuredTrace } from './model/measured-trace.ts';
import type { FirstTrace, Run } from './model/run.ts';
import { change, endGesture, startHistory, type History } from './state/undo.ts';

export const VIEWS = ['plan', 'bench', 'studies', 'learn', 'terms'] as const;
export type View = (typeof VIEWS)[number];
export type ClickPlaces = 'strobe' | 'a' | 'b';
export type ThemeChoice = 'system' | 'light' | 'dark';

export type Work =
  | { readonly kind: 'idle' }
  | { readonly kind: 'running'; readonly since: number; readonly stage: string }
  | { readonly kind: 'failed'; readonly message: string }
  | { readonly kind: 'cancelled' };

export interface Pin {
  readonly name: string;
  readonly raw: RawDesign;
  readonly run: Run;
}

/** Everything that can change on the page; all else is derived from it. */
export interface AppState {
  /** The design as typed, strobe and threshold included, with what undo needs. */
  readonly history: Observable<History<RawDesign>>;
  /** The last finished run, kept while a newer one is computed. */
  readonly run: Observable<Run | undefined>;
  /** A trace of the design as it is now that has come before the other of its run. */
  readonly first: Observable<FirstTrace | undefined>;
  /** Physics key of the design that `run` belongs to (see physics-key.ts). */
  readonly runKey: Observable<string>;
  /** The last run with a strobe analysis: `run`, or the one before while the worst patterns are tried. */
  readonly judged: Observable<Run | undefined>;
  /** What the engine's worker is doing. */
  readonly work: Observable<Work>;
  /** Which view is open. */
  readonly view: Observable<View>;
  /** Seconds shown by every chart over time; undefined = the whole cycle. */
  readonly span: Observable<TimeSpan | undefined>;
  /** Vertical range of the main panel: the signal near the strobe, or everything. */
  readonly fit: Observable<'signal' | 'all'>;
  /** Which stored bit the small panels, the mat and the core show. */
  readonly shownBit: Observable<0 | 1>;
  /** Small panels: each cause alone, or added up one after another. */
  readonly buildUp: Observable<boolean>;
  /** Two instants, s; undefined = cursors off. */
  readonly cursors: Observable<{ readonly a: number; readonly b: number } | undefined>;
  /** What a click on the main panel places. */
  readonly clickPlaces: Observable<ClickPlaces>;
  /** Up to four runs kept for comparison. */
  readonly pins: Observable<readonly Pin[]>;
  /** A capture from the bench, laid over the main panel. */
  readonly measured: Observable<MeasuredTrace | undefined>;
  /** A message to the reader that stays until dismissed. */
  readonly notice: Observable<string | undefined>;
  /** Light, dark, or as the reader's system says. */
  readonly theme: Observable<ThemeChoice>;
}

export const PIN_LIMIT = 4;

export function createState(raw: RawDesign): AppState {
  return {
    history: observable(startHistory(raw)),
    run: observable<Run | undefined>(undefined),
    first: observable<FirstTrace | undefined>(undefined),
    runKey: observable(''),
    judged: observable<Run | undefined>(undefined),
    work: observable<Work>({ kind: 'idle' }),
    view: observable<View>('plan'),
    span: observable<TimeSpan | undefined>(undefined),
    fit: observable<'signal' | 'all'>('signal'),
    shownBit: observable<0 | 1>(1),
    buildUp: observable(false),
    cursors: observable<{ a: number; b: number } | undefined>(undefined),
    clickPlaces: observable<ClickPlaces>('strobe'),
    pins: observable<readonly Pin[]>([]),
    measured: observable<MeasuredTrace | undefined>(undefined),
    notice: observable<string | undefined>(undefined),
    theme: observable<ThemeChoice>('system'),
  };
}

export const currentRaw = (state: AppState): RawDesign => state.history.get().present;

/** Puts a changed design in place; changes of one gesture are one step of undo. */
export function edit(state: AppState, raw: RawDesign, gesture?: string): void {
  state.history.set(change(state.history.get(), raw, gesture));
}

export function finishGesture(state: AppState): void {
  state.history.set(endGesture(state.history.get()));
}
