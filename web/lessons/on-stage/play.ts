import { computed, effect, untracked } from '@preact/signals-core';
import { rawAt } from '../../model/pointer.ts';
import { ASIDE } from '../../state/gestures.ts';
import { LESSON_PART } from '../../state/lesson-board.ts';
import type { Page } from '../../state/page.ts';
import { layout } from '../../ui/layout.ts';
import { h, put } from '../../ui/dom.ts';
import type { Stage } from '../ask/ask.ts';
import { computeAhead } from '../course/course-client.ts';
import { courseReason } from '../reason.ts';
import { stepNode } from '../step-node.ts';
import { loadWords } from '../words/language.ts';
import { wordFor } from '../words/say.ts';
import type { Words } from '../words/shape.ts';
import { keepProgress, progress } from './progress.ts';
import { findStep, type Found } from './found.ts';
import { placePlot, putBoard } from './put-board.ts';
import { standsOn } from './stands-on.ts';
import { stepLine, stepWays } from './step-line.ts';
import '../learn.css';
import './on-stage.css';

/** Where what belongs to a step stands around the stage. */
export interface Hosts {
  readonly line: HTMLElement;
  readonly rail: HTMLElement;
  /** In the place of the trace, where there is room: what is drawn on. */
  readonly plot: HTMLElement;
}

/** Keeps the step that the address names beside the stage, told in the reader's language. */
export async function playOnStage(page: Page, hosts: Hosts): Promise<void> {
  const { atoms, act } = page;
  let words = await loadWords(atoms.language.peek());
  const told = computed(() => {
    const { name, part, id } = atoms.place.value;
    return name === 'plan' && part === LESSON_PART ? id : undefined;
  });
  let end: (() => void) | undefined;
  const show = (id: string | undefined): void => {
    end?.();
    end = undefined;
    if (id === undefined) return;
    const found = findStep(words, id);
    if (found) end = showStep(page, hosts, words, found);
    else {
      act.say(words.onStage.missing(id));
      act.go({ name: 'learn' });
    }
  };
  effect(() => {
    const id = told.value;
    untracked(() => show(id));
  });
  effect(() => {
    const chosen = atoms.language.value;
    if (chosen === words.language) return;
    void loadWords(chosen).then((loaded) => {
      words = loaded;
      show(told.peek());
    });
  });
}

/** Puts the step's board on the stage, and the step beside it; returns what ends its listening. */
function showStep(page: Page, hosts: Hosts, words: Words, found: Found): () => void {
  const { atoms, now, act } = page;
  const { lesson, step, told, number } = found;
  const standing = progress.peek()[step.id];
  if (atoms.lesson.value?.step !== step.id) putBoard(page, found, standing !== undefined);

  const stage: Stage = {
    strobe: computed(() =>
      rawAt(now.raw.value, '/strobe/time') === ASIDE ? undefined : now.inForce.value?.strobe.time,
    ),
    raw: now.raw,
    opened: () => atoms.lesson.peek()?.board ?? step.design,
    change: act.change,
    left: computed(() => (now.judgedIsOld.value ? undefined : now.strobe.value?.margin.left)),
    takeOwn: () => {
      const lesson = atoms.lesson.peek();
      if (lesson) act.openBoard(lesson.before.present, lesson);
    },
  };
  const note = h('p', { class: 'note small stage-note' });
  const door = h(
    'button',
    {
      type: 'button',
      click: () =>
        act.openBoard(now.raw.peek(), {
          title: told.title,
          question: told.question,
          back: { name: 'plan', part: LESSON_PART, id: step.id },
        }),
    },
    words.onStage.plan,
  );
  const played = stepNode({ step, told, words }, number, {
    onReveal: () => undefined,
    onShown: (given, right) => {
      keepProgress(step.id, given ? { given, right } : {});
      act.freeBoard();
    },
    reason: courseReason(step.id),
    stage,
    ...(standing && { before: standing }),
  });
  put(
    hosts.rail,
    h('ol', { class: 'steps' }, played.node),
    note,
    h('p', {}, door),
    stepWays(found, words, act.go),
  );
  hosts.rail.lang = hosts.line.lang = hosts.plot.lang = words.language;
  hosts.rail.closest('main')?.style.setProperty('--covered-text', JSON.stringify(words.onStage.covered));
  hosts.rail.scrollTop = 0;
  const stops = [
    effect(() => put(hosts.line, ...stepLine(lesson, step.id, words, act.go, progress.value))),
    effect(() => {
      const covered = atoms.lesson.value?.covered !== undefined;
      const { movable } = standsOn(step.id);
      const [moved, ...others] = movable;
      const { onStage } = words;
      door.hidden = covered;
      note.textContent = !atoms.lesson.value?.movable
        ? onStage.free
        : others.length > 0
          ? onStage.goal
          : moved === undefined
            ? onStage.locked
            : wordFor(onStage.movable, moved);
    }),
    effect(() => {
      const covered = atoms.lesson.value?.covered !== undefined;
      placePlot(played, hosts.plot, covered && layout.value === 'wide');
    }),
  ];
  computeAhead(step.id);
  if (found.next) computeAhead(found.next);
  return () => {
    for (const stop of stops) stop();
    played.end();
    put(hosts.plot);
    put(hosts.rail);
    put(hosts.line);
  };
}
