import { batch } from '@preact/signals-core';
import { writeQuantity } from '../../engine/base/format-quantity.ts';
import type { TimeSpan } from '../charts/spaces.ts';
import { panSpan, zoomSpan } from '../charts/spaces.ts';
import { markBeside } from '../model/clock-marks.ts';
import { rawAt, withValueAt, type RawDesign } from '../model/pointer.ts';
import type { Run } from '../model/run.ts';
import type { Cause } from '../model/traces.ts';
import { MAX_PINS, type Atoms, type Core, type Evidence, type Part } from './atoms.ts';
import { type Place } from './place.ts';
import type { Derived } from './derived.ts';
import { LESSON_PART, mayChange, type BoardAbout } from './lesson-board.ts';
import { change, endGesture, redo, undo } from './undo.ts';

/** s: the narrowest span. */
const LEAST_SPAN = 20e-9;

/** In the first edge, where no strobe belongs: there it stands until the reader has put it elsewhere. */
export const ASIDE = '20 ns';
const LOCKED = 'That is locked until the lesson’s question is answered; go back to the lesson to answer it.';

/** All that a reader can do to the page's state. A `gesture` names a drag or a held key: one step of undo. */
export function createGestures(atoms: Atoms, now: Derived) {
  const edit = (raw: RawDesign, gesture?: string): void => {
    const lesson = atoms.lesson.value;
    if (lesson && !mayChange(lesson, now.raw.value, raw)) atoms.notice.value = LOCKED;
    else atoms.history.value = change(atoms.history.value, raw, gesture);
  };
  const set = (pointers: readonly string[], value: unknown, gesture?: string): void =>
    edit(
      pointers.reduce((raw, pointer) => withValueAt(raw, pointer, value), now.raw.value),
      gesture,
    );
  /** Opens another design: a step of undo like any other; what was shown of the old one's time goes. */
  const open = (raw: RawDesign): void =>
    batch(() => {
      atoms.lesson.value = undefined;
      edit(raw);
      atoms.span.value = atoms.instant.value = atoms.reading.value = atoms.core.value = undefined;
    });
  /** The reader's own design stands on the stage again. */
  const leaveLesson = (): void =>
    batch(() => {
      const lesson = atoms.lesson.value;
      if (!lesson) return;
      open(lesson.before.present);
      atoms.history.value = lesson.before;
      if (atoms.narrowView.value === 'question') atoms.narrowView.value = 'trace';
    });
  const spanTo = (span: TimeSpan | undefined): void => {
    atoms.span.value = span;
  };
  return {
    edit,
    /** Writes one value at several places of the design as typed. */
    set,
    open,
    change: (turn: (raw: RawDesign) => RawDesign, gesture?: string) => edit(turn(now.raw.value), gesture),
    endGesture: () => {
      atoms.history.value = endGesture(atoms.history.value);
    },
    /** Back beyond a lesson's board is the reader's own design; a step that is played ends at its board. */
    undo: () =>
      batch(() => {
        const { step, depth = 0 } = atoms.lesson.value ?? {};
        if (step !== undefined && atoms.history.value.past.length <= depth) return;
        atoms.history.value = undo(atoms.history.value);
        if (atoms.history.value.past.length < (atoms.lesson.value?.depth ?? 0))
          atoms.lesson.value = undefined;
      }),
    redo: () => {
      atoms.history.value = redo(atoms.history.value);
    },
    /** `time`: s; undefined: the strobe follows the best instant. */
    setStrobe: (time: number | undefined, gesture?: string) => {
      const step = now.judged.value?.design.numerics.output ?? 1e-9;
      set(['/strobe/time'], time === undefined ? 'best' : writeQuantity(onStep(time, step), 's'), gesture);
    },
    /** V at the sense wire. */
    setThreshold: (volts: number, gesture?: string) => {
      const step = thresholdStep(now.judged.value?.design.detector.threshold) / 10;
      set(['/detector/threshold'], writeQuantity(onStep(volts, step), 'V'), gesture);
    },
    selectCore: (core: Core | undefined) => {
      atoms.core.value = core;
    },
    /** The other causes step back; undefined: none does. */
    pickCause: (cause: Cause | undefined) => {
      atoms.pickedCause.value = cause;
    },
    setBit: (bit: 0 | 1) => {
      atoms.bit.value = bit;
    },
    /** s; undefined: the clock stands at the strobe. */
    setInstant: (time: number | undefined) => {
      atoms.instant.value = time === undefined ? undefined : within(time, now.cycle.value);
    },
    /** By output steps of the design. */
    stepInstant: (by: number) => {
      const output = now.inForce.value?.numerics.output ?? 1e-9;
      atoms.instant.value = within(now.instant.value + by * output, now.cycle.value);
    },
    /** To the mark before or after; the span follows where it lies outside. */
    toMark: (by: 1 | -1) => {
      const mark = markBeside(now.marks.value, now.instant.value, by);
      if (!mark) return;
      atoms.instant.value = mark.time;
      const { from, to } = now.span.value;
      if (mark.time < from || mark.time > to)
        spanTo(panSpan(now.span.value, (mark.time - (from + to) / 2) / (to - from), now.cycle.value));
    },
    setReading: (time: number | undefined) => {
      atoms.reading.value = time;
    },
    setSpan: spanTo,
    /** About the strobe by default. */
    zoom: (factor: number) => spanTo(zoomSpan(now.span.value, factor, now.cycle.value, LEAST_SPAN)),
    pan: (fraction: number) => spanTo(panSpan(now.span.value, fraction, now.cycle.value)),
    /** A card and a cell's evidence lie in the same place: one puts the other away. */
    openPart: (part: Part | undefined) =>
      batch(() => {
        atoms.open.value = part;
        atoms.evidence.value = undefined;
      }),
    showEvidence: (set: Evidence | undefined) =>
      batch(() => {
        atoms.evidence.value = set;
        atoms.open.value = undefined;
      }),
    /** Puts a board on the stage, of which a lesson covers and locks what it says. */
    openBoard: (raw: RawDesign, about: BoardAbout) =>
      batch(() => {
        const before = atoms.lesson.value?.before ?? atoms.history.value;
        const back = about.back ?? atoms.place.value;
        atoms.history.value = before;
        open(withStrobeAside(raw, about));
        const depth = atoms.history.value.past.length;
        atoms.lesson.value = { ...about, before, board: raw, back, depth };
        atoms.pickedCause.value = undefined;
        atoms.open.value = atoms.evidence.value = undefined;
        const { step = '' } = about;
        const place = { name: 'plan', part: step === '' ? '' : LESSON_PART, id: step } as const;
        // Whoever is there already has not moved: no second entry in the browser's history.
        if (JSON.stringify(atoms.place.value) !== JSON.stringify(place)) atoms.place.value = place;
      }),
    /** The question is answered: everything is shown, and the board is free to be played with. */
    freeBoard: () =>
      batch(() => {
        const lesson = atoms.lesson.value;
        if (!lesson || (!lesson.covered && !lesson.movable)) return;
        atoms.lesson.value = { ...lesson, covered: undefined, movable: undefined };
        if (rawAt(now.raw.value, '/strobe/time') === ASIDE)
          set(['/strobe/time'], rawAt(lesson.board, '/strobe/time') ?? 'best');
      }),
    leaveLesson,
    /** Back to the lesson: the reader's own design stands in Plan again. */
    backToLesson: () =>
      batch(() => {
        const back = atoms.lesson.value?.back;
        leaveLesson();
        if (back) atoms.place.value = back;
      }),
    /** The board becomes the reader's own design. */
    keepBoard: () => {
      atoms.lesson.value = undefined;
    },
    go: (place: Partial<Place>) => {
      atoms.place.value = { ...atoms.place.value, part: '', id: '', ...place };
    },
    /** Keeps a judged design beside the others: the one of now, or `other`. */
    pin: (other?: { readonly raw: RawDesign; readonly run: Run }) => {
      const run = other?.run ?? now.judged.value;
      if (!run || atoms.pins.value.length >= MAX_PINS) return;
      const raw = other?.raw ?? now.raw.value;
      const name = String(rawAt(raw, '/name') ?? 'untitled');
      atoms.pins.value = [...atoms.pins.value, { name, raw, run }];
    },
    unpin: (index: number) => {
      atoms.pins.value = atoms.pins.value.filter((_, i) => i !== index);
    },
    say: (notice: string | undefined) => {
      atoms.notice.value = notice;
    },
  };
}

export type Gestures = ReturnType<typeof createGestures>;

/** A hundredth of a round step near a hundredth of the threshold: 0.1 mV for thresholds of 10 to 100 mV. */
export function thresholdStep(threshold: number | undefined): number {
  const size = Math.max(Math.abs(threshold ?? 0.02), 1e-4);
  return 10 ** (Math.floor(Math.log10(size)) - 2);
}

/** Where the margin is covered the strobe does not stand at its best instant, which would be told by that. */
function withStrobeAside(raw: RawDesign, { covered = [] }: BoardAbout): RawDesign {
  const follows = ['best', undefined].includes(rawAt(raw, '/strobe/time') as string | undefined);
  return covered.includes('margin') && follows ? withValueAt(raw, '/strobe/time', ASIDE) : raw;
}

const within = (time: number, { from, to }: TimeSpan): number => Math.min(Math.max(time, from), to);

const onStep = (value: number, step: number): number => {
  const digits = Math.max(0, Math.ceil(-Math.log10(step)) + 1);
  return Number((Math.round(value / step) * step).toFixed(Math.min(digits + 2, 20)));
};
