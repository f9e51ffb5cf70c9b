import { batch, signal, type ReadonlySignal, type Signal } from '@preact/signals-core';
import type { Reason } from '../reason.ts';
import { TICKETS, writeCode, type Coded } from './answer-code.ts';
import { MOST_STUDENTS, type MadeLesson } from './lesson.ts';
import { lessonNumber, shapesOf } from './shapes.ts';
import { isVaried } from './variants.ts';

/** What one student has answered in one lesson. */
export interface Player {
  readonly lesson: MadeLesson;
  /** 0 where nothing varies; undefined until it is known. */
  readonly student: Signal<number | undefined>;
  readonly answers: Signal<readonly (Coded | undefined)[]>;
  /** Only the first answer to a step counts. */
  answer(place: number, coded: Coded): void;
  /** Takes a number of the class; false where it is none. */
  takeNumber(text: string): boolean;
  /** Why the answer to a step was given; it stands in no code. */
  reason(place: number): Reason;
  /** Counts up whenever everything is forgotten. */
  readonly round: ReadonlySignal<number>;
  /** Forgets all answers and reasons; the code is another student's then. */
  again(): void;
  code(): string;
}

interface Kept {
  readonly student: number | undefined;
  readonly ticket: number;
  readonly answers: readonly (Coded | null)[];
  readonly reasons?: readonly string[];
}

const freshTicket = (): number => crypto.getRandomValues(new Uint32Array(1))[0]! % TICKETS;

/** Answers and reasons outlive a reload of the page, in this tab only. */
export function createPlayer(lesson: MadeLesson): Player {
  const hash = lessonNumber(lesson);
  const shapes = shapesOf(lesson);
  const key = `lesson-${hash}`;
  const none = lesson.steps.map(() => undefined);
  const first = isVaried(lesson) ? undefined : 0;
  const kept = readKept(key);
  let ticket = kept?.ticket ?? freshTicket();
  const student = signal(kept ? kept.student : first);
  const answers = signal<readonly (Coded | undefined)[]>(
    kept?.answers.map((each) => each ?? undefined) ?? none,
  );
  const round = signal(0);
  let reasons = lesson.steps.map((_, place) => kept?.reasons?.[place] ?? '');
  const forget = (): void => {
    answers.value = none;
    reasons = lesson.steps.map(() => '');
    round.value++;
  };
  const keep = (): void => {
    const given = answers.value.map((each) => each ?? null);
    const now: Kept = { student: student.value, ticket, answers: given, reasons };
    try {
      sessionStorage.setItem(key, JSON.stringify(now));
    } catch {
      // Storage that is refused: the answers last as long as the page.
    }
  };
  return {
    lesson,
    student,
    answers,
    answer(place, coded) {
      if (answers.value[place] !== undefined) return;
      answers.value = answers.value.map((each, k) => (k === place ? coded : each));
      keep();
    },
    takeNumber(text) {
      if (!/^\d{1,3}$/u.test(text.trim()) || Number(text) < 1 || Number(text) > MOST_STUDENTS) return false;
      if (student.value === Number(text)) return true;
      batch(() => {
        student.value = Number(text);
        forget();
      });
      keep();
      return true;
    },
    again() {
      ticket = freshTicket();
      batch(() => {
        student.value = first;
        forget();
      });
      keep();
    },
    reason: (place) => ({
      text: reasons[place]!,
      keep(text) {
        reasons = reasons.map((each, k) => (k === place ? text : each));
        keep();
      },
    }),
    round,
    code: () => writeCode(hash, shapes, { student: student.value ?? 0, ticket, answers: answers.value }),
  };
}

function readKept(key: string): Kept | undefined {
  try {
    const text = sessionStorage.getItem(key);
    return text === null ? undefined : (JSON.parse(text) as Kept);
  } catch {
    return undefined;
  }
}
