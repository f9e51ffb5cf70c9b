import { batch } from '@preact/signals-core';
import { writeQuantity } from '../../engine/base/format-quantity.ts';
import { rawAt, withValueAt, type RawDesign } from '../model/pointer.ts';
import type { Cause } from '../model/traces.ts';
import type { Atoms, Core, Evidence, Part } from './atoms.ts';
import { type Place } from './place.ts';
import type { Derived } from './derived.ts';
import { LESSON_PART, mayChange, type BoardAbout } from './lesson-board.ts';
import { pinGestures } from './pin-gestures.ts';
import { timeGestures } from './time-gestures.ts';
import { change, endGesture, redo, undo } from './undo.ts';

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
      atoms.scale.value = undefined;
    });
  const time = timeGestures(atoms, now);
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
    ...time,
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
    ...pinGestures(atoms, now, edit),
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

const onStep = (value: number, step: number): number => {
  const digits = Math.max(0, Math.ceil(-Math.log10(step)) + 1);
  return Number((Math.round(value / step) * step).toFixed(Math.min(digits + 2, 20)));
};
