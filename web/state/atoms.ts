import { signal, type Signal } from '@preact/signals-core';
import type { StudyResult } from '../../engine/studies/shared/shape.ts';
import type { BenchCapture } from '../model/bench-capture.ts';
import type { Keyed } from '../model/keyed.ts';
import type { MeasuredTrace } from '../model/measured-trace.ts';
import type { RawDesign } from '../model/pointer.ts';
import type { FirstTrace, Run } from '../model/run.ts';
import type { Cause } from '../model/traces.ts';
import type { TimeSpan } from '../charts/spaces.ts';
import type { LessonBoard } from './lesson-board.ts';
import type { Place } from './place.ts';
import { createChecks } from './checks.ts';
import { startHistory, type History } from './undo.ts';

/** Drawers of the shelf, as they stand in an address. */
export const DRAWERS = ['studies', 'propose', 'pinned', 'inputs', 'cases', 'warnings'] as const;
export type Drawer = (typeof DRAWERS)[number];

/** Parts of the signal path, from the drivers to the bit. */
export const PARTS = ['drivers', 'mat', 'wire', 'amplifier', 'detector', 'latch'] as const;
export type Part = (typeof PARTS)[number];

/** What the verdict's cells rest on, to be shown on the stage. */
export const EVIDENCE = ['nominal', 'corners', 'parts', 'core'] as const;
export type Evidence = (typeof EVIDENCE)[number];

export const HEARD = ['wire', 'amplifier', 'latch'] as const;
export const MAT_SHOWS = ['holds', 'gives', 'fails'] as const;
export const CAUSE_WAYS = ['alone', 'up'] as const;
/** On a narrow page one view at a time. */
export const NARROW_VIEWS = ['question', 'trace', 'mat', 'core', 'margin', 'studies'] as const;
/** Languages that the lessons and the terms are told in. */
export const LANGUAGES = ['en', 'de'] as const;
export type Language = (typeof LANGUAGES)[number];
export const PAPERS = ['system', 'light', 'dark'] as const;
/** What stands beside the trace on a projector: two views at most. */
export const BESIDE = ['margin', 'mat', 'core', 'nothing'] as const;

export interface Core {
  readonly row: number;
  readonly column: number;
}

export interface View {
  readonly paper: (typeof PAPERS)[number];
  readonly projector: boolean;
  /** Beside the trace, on a projector. */
  readonly beside: (typeof BESIDE)[number];
  /** Single letters act while the stage has focus. */
  readonly keys: boolean;
}

export type Work =
  | { readonly kind: 'idle' }
  | { readonly kind: 'running'; readonly since: number; readonly stage: string }
  | { readonly kind: 'failed'; readonly message: string }
  | { readonly kind: 'cancelled' };

/** Whether what is done here outlives the page. */
export type Storage =
  | { readonly kind: 'starting' }
  | { readonly kind: 'kept'; readonly at: number }
  | { readonly kind: 'refused'; readonly message: string };

export interface Pin {
  readonly name: string;
  readonly raw: RawDesign;
  readonly run: Run;
}
export const MAX_PINS = 4;

/** A study as it came out, with the design that it was of. */
export interface DoneStudy {
  readonly study: StudyResult;
  readonly title: string;
  readonly raw: RawDesign;
}
/** The oldest goes first. */
export const MAX_STUDIES = 8;

const atom = <T>(initial: T): Signal<T> => signal(initial);

/** Everything that can change on the page. Only gestures, worker answers and the reader of addresses write here. */
export const createAtoms = (raw: RawDesign) => ({
  /** The design as typed, strobe and threshold included, with what undo needs. */
  history: atom<History<RawDesign>>(startHistory(raw)),
  /** What is known of whether a design as typed holds. */
  checks: createChecks(),
  /** Name under which this work is kept in the browser. */
  keptAs: atom(''),
  place: atom<Place>({ name: 'plan', part: '', id: '' }),
  /** The core that every view looks at; undefined: the one that is read. */
  core: atom<Core | undefined>(undefined),
  /** Which stored bit the stage shows. */
  bit: atom<0 | 1>(1),
  /** s: where the clock stands; undefined: at the strobe. */
  instant: atom<number | undefined>(undefined),
  /** s of the cycle in each second. */
  pace: atom(20e-9),
  playing: atom(false),
  /** s shown by every lane; undefined: the read and the pause after it. */
  span: atom<TimeSpan | undefined>(undefined),
  /** V at the top of the signal lane while the reader holds it; undefined: the ladder chooses. */
  scale: atom<number | undefined>(undefined),
  heard: atom<(typeof HEARD)[number]>('latch'),
  /** s: the reading line; undefined: none. */
  reading: atom<number | undefined>(undefined),
  /** s: marks A and B. */
  marks: atom<readonly [number, number] | undefined>(undefined),
  /** The part of the signal path whose card is open. */
  open: atom<Part | undefined>(undefined),
  /** The verdict's cell whose evidence lies on the stage. */
  evidence: atom<Evidence | undefined>(undefined),
  matShows: atom<(typeof MAT_SHOWS)[number]>('gives'),
  /** Causes each alone, or added up one after another. */
  causes: atom<(typeof CAUSE_WAYS)[number]>('alone'),
  /** A cause that the reader has picked out. */
  pickedCause: atom<Cause | undefined>(undefined),
  beforeOn: atom(true),
  /** What is sought among all inputs. */
  find: atom(''),
  narrowView: atom<(typeof NARROW_VIEWS)[number]>('trace'),
  pins: atom<readonly Pin[]>([]),
  /** Newest first; they end with the page. */
  studies: atom<readonly DoneStudy[]>([]),
  captures: atom<readonly BenchCapture[]>([]),
  /** The capture that is laid over the prediction. */
  chosenCapture: atom<number | undefined>(undefined),
  /** A capture lined up by the bench, laid over the trace. */
  measured: atom<MeasuredTrace | undefined>(undefined),
  /** A lesson's board that stands on the stage in the place of the reader's own design. */
  lesson: atom<LessonBoard | undefined>(undefined),
  view: atom<View>({ paper: 'system', projector: false, beside: 'margin', keys: true }),
  language: atom<Language>('en'),
  /** A message to the reader that stays until dismissed. */
  notice: atom<string | undefined>(undefined),
  /** Another tab has changed what is kept under the same name. */
  otherTab: atom(false),
  storage: atom<Storage>({ kind: 'starting' }),
  online: atom(true),

  /** What the engine's workers are doing. */
  work: atom<Work>({ kind: 'idle' }),
  /** A trace of the design that has come before the other of its run. Key: physics. */
  first: atom<Keyed<FirstTrace> | undefined>(undefined),
  /** The last run, kept while a newer one is computed. Key: physics. */
  run: atom<Keyed<Run> | undefined>(undefined),
  /** The last run with a strobe analysis: `run`, or the one before while the worst patterns are tried. Key: physics. */
  judged: atom<Keyed<Run> | undefined>(undefined),
  /** The full judgement that stood before the last change, with the design it was of. */
  before: atom<{ readonly raw: RawDesign; readonly run: Run } | undefined>(undefined),
});

export type Atoms = ReturnType<typeof createAtoms>;
