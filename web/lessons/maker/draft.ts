import { batch, computed, effect, signal, type ReadonlySignal, type Signal } from '@preact/signals-core';
import { keepDraft } from '../../state/keep-lesson.ts';
import { change, redo, startHistory, undo, type History } from '../../state/undo.ts';
import type { Evaluator } from '../made/evaluator.ts';
import { isOwn, MOST, type MadeLesson, type MadeStep, type OwnStep } from '../made/lesson.ts';
import { lessonFile, readLesson } from '../made/read-lesson.ts';
import { reachedText, refusalText } from '../made/checked-text.ts';
import { withVariant } from '../made/variants.ts';
import type { MadeWords } from '../words/made-words.ts';

/** What the engine says of a step. */
export interface Checked {
  readonly standing: 'busy' | 'ok' | 'refused';
  /** One line for each value of a varied input. */
  readonly said: readonly string[];
}

/** The lesson that is being made, and what can be done to it. */
export interface Draft {
  readonly lesson: ReadonlySignal<MadeLesson>;
  readonly history: ReadonlySignal<History<MadeLesson>>;
  /** Index of the step that is open. */
  readonly chosen: Signal<number>;
  /** Why it is not a lesson yet, in one sentence. */
  readonly fault: ReadonlySignal<string | undefined>;
  readonly checks: ReadonlySignal<ReadonlyMap<MadeStep, Checked>>;
  edit(lesson: MadeLesson): void;
  setStep(step: MadeStep): void;
  add(step: MadeStep): void;
  /** From one place to another; the others close up. */
  move(from: number, to: number): void;
  remove(place: number): void;
  undo(): void;
  redo(): void;
  /** Asks the engine about every question, each with all its values; false where one is refused. */
  checkAll(): Promise<boolean>;
}

export function createDraft(w: MadeWords, evaluator: Evaluator, first: MadeLesson): Draft {
  const history = signal(startHistory(first));
  const lesson = computed(() => history.value.present);
  const chosen = signal(0);
  const checks = signal<ReadonlyMap<MadeStep, Checked>>(new Map());
  const fault = computed(() => faultOf(lesson.value));
  const edit = (next: MadeLesson): void => {
    history.value = change(history.value, next);
    chosen.value = Math.max(0, Math.min(chosen.value, next.steps.length - 1));
  };
  const withSteps = (steps: readonly MadeStep[]): void => edit({ ...lesson.value, steps });
  const told = (step: MadeStep, checked: Checked): void => {
    checks.value = new Map(checks.value).set(step, checked);
  };
  effect(() => void keepDraft(lessonFile(lesson.value)));
  return {
    lesson,
    history,
    chosen,
    fault,
    checks,
    edit,
    setStep: (step) => withSteps(lesson.value.steps.map((each, k) => (k === chosen.value ? step : each))),
    add(step) {
      if (lesson.value.steps.length >= MOST.steps) return;
      withSteps([...lesson.value.steps, step]);
      chosen.value = lesson.value.steps.length - 1;
    },
    move(from, to) {
      const steps = [...lesson.value.steps];
      if (from === to || to < 0 || to >= steps.length) return;
      const open = steps[chosen.value];
      steps.splice(to, 0, ...steps.splice(from, 1));
      batch(() => {
        withSteps(steps);
        chosen.value = open === undefined ? 0 : steps.indexOf(open);
      });
    },
    remove: (place) => withSteps(lesson.value.steps.filter((_, k) => k !== place)),
    undo: () => turn(history, undo, chosen),
    redo: () => turn(history, redo, chosen),
    async checkAll() {
      let good = true;
      for (const step of lesson.value.steps) {
        if (!isOwn(step)) continue;
        const known = checks.value.get(step);
        const checked =
          known ?? (told(step, { standing: 'busy', said: [] }), await checkStep(w, evaluator, step));
        told(step, checked);
        good &&= checked.standing === 'ok';
      }
      return good;
    },
  };
}

function turn(
  history: Signal<History<MadeLesson>>,
  way: (from: History<MadeLesson>) => History<MadeLesson>,
  chosen: Signal<number>,
): void {
  history.value = way(history.value);
  chosen.value = Math.max(0, Math.min(chosen.value, history.value.present.steps.length - 1));
}

function faultOf(lesson: MadeLesson): string | undefined {
  try {
    readLesson(lessonFile(lesson));
    return undefined;
  } catch (error) {
    return (error as Error).message;
  }
}

async function checkStep(w: MadeWords, evaluator: Evaluator, step: OwnStep): Promise<Checked> {
  const values = step.varied?.values ?? [undefined];
  const said: string[] = [];
  let refused = false;
  for (const [index, value] of values.entries()) {
    const mine = withVariant(step, index);
    const outcome = await evaluator.evaluate(mine);
    const refusal =
      outcome.kind === 'failed'
        ? outcome.message
        : outcome.evaluated.refusal && refusalText(w, step.ask, outcome.evaluated.refusal);
    const text = refusal ?? (outcome.kind === 'evaluated' ? reachedText(w, step.ask, outcome.evaluated) : '');
    refused ||= refusal !== undefined;
    said.push(value === undefined ? text : w.refusals.variant(value, text));
  }
  if (refused) return { standing: 'refused', said };
  return { standing: 'ok', said };
}
