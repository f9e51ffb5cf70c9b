import { effect, untracked } from '@preact/signals-core';
import type { RawDesign } from '../model/pointer.ts';
import { loadDraft } from '../state/keep-lesson.ts';
import { h, put } from '../ui/dom.ts';
import { icon } from '../ui/icons.ts';
import { createLearnView, type LearnCallbacks } from './learn.ts';
import { createEvaluator } from './made/evaluator.ts';
import { LINK_PREFIX, readLessonPart } from './made/lesson-link.ts';
import type { MadeLesson } from './made/lesson.ts';
import { createPlayerView } from './made/player-view.ts';
import { FORMAT } from './made/read-lesson.ts';
import { createDraft, type Draft } from './maker/draft.ts';
import { createMakerView, freshLesson } from './maker/maker-view.ts';
import { createSheetsView } from './sheets/sheets-view.ts';
import { createTallyView } from './tally/tally-view.ts';
import type { MadeWords } from './words/made-words.ts';

export interface LearnPlaceOptions extends LearnCallbacks {
  /** The design in Plan. */
  readonly planned: () => RawDesign;
}

/** Parts of Learn that are not lessons of the course. */
const ROOMS = ['make', 'tally', 'sheets'] as const;
type Room = (typeof ROOMS)[number];

/** Learn: the course, lessons that a teacher made, and where they are made, printed and counted. */
export function createLearnPlace(options: LearnPlaceOptions, w: MadeWords): HTMLElement {
  const host = h('div', { class: 'learn-place' });
  const evaluator = createEvaluator();
  const made = new Map<string, Promise<HTMLElement>>();
  let course: HTMLElement | undefined;
  let draft: Promise<Draft> | undefined;
  const onGo = (part: string): void => options.onStep(part, '');
  const draftNow = (): Promise<Draft> =>
    (draft ??= loadDraft().then((kept) => createDraft(w, evaluator, draftOf(kept) ?? freshLesson(w))));
  const courseView = (): HTMLElement => {
    if (course) return course;
    course = createLearnView(options, w.course);
    const door = h('button', { type: 'button', click: () => onGo('make') }, w.maker.enter);
    course.querySelector('.button-row')!.append(door);
    return course;
  };
  async function roomView(room: Room): Promise<HTMLElement> {
    const shared = {
      w,
      draft: await draftNow(),
      evaluator,
      onGo,
      onOpen: options.onOpen,
      planned: options.planned,
    };
    if (room === 'make') return createMakerView(shared);
    return room === 'tally' ? createTallyView(shared) : createSheetsView(shared);
  }
  async function lessonView(part: string, id: string): Promise<HTMLElement> {
    try {
      const lesson = await readLessonPart(part);
      if (!lesson) return refused(w.file.damaged);
      return createPlayerView({ w, lesson, evaluator, number: id, onOpen: options.onOpen });
    } catch (error) {
      return refused((error as Error).message);
    }
  }
  effect(() => {
    const { name, part, id } = options.place.value;
    if (name !== 'learn') return;
    untracked(() => {
      const room = ROOMS.find((each) => each === part);
      if (!room && !part.startsWith(LINK_PREFIX)) return host.replaceChildren(courseView());
      const key = room ?? `${part}/${id}`;
      const view = made.get(key) ?? (room ? roomView(room) : lessonView(part, id));
      made.set(key, view);
      void view.then((node) => {
        if (options.place.peek().part === part) host.replaceChildren(node);
      });
    });
  });
  return host;
}

/** What was kept as it was being made may not be a whole lesson yet. */
function draftOf(kept: unknown): MadeLesson | undefined {
  if (typeof kept !== 'object' || kept === null) return undefined;
  const { format, title, seed, steps } = kept as Record<string, unknown>;
  if (format !== FORMAT || !Array.isArray(steps)) return undefined;
  return { title, seed, steps } as unknown as MadeLesson;
}

function refused(message: string): HTMLElement {
  const node = h('article', { class: 'reading' });
  put(node, h('p', { class: 'status-error', role: 'alert' }, icon('error'), message));
  return node;
}
