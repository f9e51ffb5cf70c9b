import { effect, untracked } from '@preact/signals-core';
import type { RawDesign } from '../model/pointer.ts';
import type { BoardAbout } from '../state/lesson-board.ts';
import { loadDraft } from '../state/keep-lesson.ts';
import { h, put } from '../ui/dom.ts';
import { icon } from '../ui/icons.ts';
import { createLearnView, type LearnCallbacks } from './learn.ts';
import { createEvaluator, type Evaluator } from './made/evaluator.ts';
import { LINK_PREFIX, readLessonPart } from './made/lesson-link.ts';
import type { MadeLesson } from './made/lesson.ts';
import { createPlayerView } from './made/player-view.ts';
import { FORMAT } from './made/read-lesson.ts';
import { createDraft, type Draft } from './maker/draft.ts';
import { createMakerView, freshLesson } from './maker/maker-view.ts';
import { createSheetsView } from './sheets/sheets-view.ts';
import { createTallyView } from './tally/tally-view.ts';
import type { ToldView } from './told-place.ts';
import type { MadeWords } from './words/made-words.ts';
import type { Words } from './words/shape.ts';

export interface LearnPlaceOptions extends LearnCallbacks {
  /** Puts a question's board on the stage. */
  readonly onOpen: (raw: RawDesign, about: BoardAbout) => void;
  /** The design in Plan. */
  readonly planned: () => RawDesign;
}

/** Parts of Learn that are not lessons of the course. */
const ROOMS = ['make', 'tally', 'sheets'] as const;
type Room = (typeof ROOMS)[number];

/** Learn: the course, lessons that a teacher made, and where they are made, printed and counted; told in any language. */
export function createLearnPlace(options: LearnPlaceOptions): (words: Words) => ToldView {
  const evaluator = createEvaluator();
  let draft: Promise<Draft> | undefined;
  const draftFor = (w: MadeWords): Promise<Draft> =>
    (draft ??= loadDraft().then((kept) => createDraft(w, evaluator, draftOf(kept) ?? freshLesson(w))));
  return (course) => {
    const w: MadeWords = { ...course.made, course };
    return showRooms(options, (part, id) => {
      const room = ROOMS.find((each) => each === part);
      if (room) return draftFor(w).then((now) => roomView(w, room, now, evaluator, options));
      if (part.startsWith(LINK_PREFIX)) return lessonView(w, part, id, evaluator, options);
      return courseView(w, options);
    });
  };
}

/** One view at a time, each made when it is first gone to. */
function showRooms(
  { place }: LearnPlaceOptions,
  viewOf: (part: string, id: string) => ToldView | Promise<HTMLElement>,
): ToldView {
  const node = h('div', { class: 'learn-place' });
  const views = new Map<string, ToldView | Promise<HTMLElement>>();
  const stop = effect(() => {
    const { name, part, id } = place.value;
    if (name !== 'learn') return;
    const inCourse = !ROOMS.some((room) => room === part) && !part.startsWith(LINK_PREFIX);
    const key = inCourse ? '' : part.startsWith(LINK_PREFIX) ? `${part}/${id}` : part;
    untracked(() => {
      const view = views.get(key) ?? viewOf(part, id);
      views.set(key, view);
      if ('node' in view) return node.replaceChildren(view.node);
      void view.then((ready) => {
        if (place.peek().part === part) node.replaceChildren(ready);
      });
    });
  });
  return {
    node,
    end: () => {
      stop();
      for (const view of views.values()) if ('node' in view) view.end();
    },
  };
}

function courseView(w: MadeWords, options: LearnPlaceOptions): ToldView {
  const view = createLearnView(options, w.course);
  const door = h(
    'button',
    { type: 'button', lang: w.language, click: () => options.onStep('make', '') },
    w.maker.enter,
  );
  view.node.querySelector('.button-row')!.append(door);
  return view;
}

function roomView(
  w: MadeWords,
  room: Room,
  draft: Draft,
  evaluator: Evaluator,
  { onOpen, onStep, planned }: LearnPlaceOptions,
): HTMLElement {
  const shared = { w, draft, evaluator, onGo: (part: string) => onStep(part, ''), onOpen, planned };
  const create = { make: createMakerView, tally: createTallyView, sheets: createSheetsView }[room];
  const node = create(shared);
  node.lang = w.language;
  return node;
}

async function lessonView(
  w: MadeWords,
  part: string,
  number: string,
  evaluator: Evaluator,
  { onOpen }: LearnPlaceOptions,
): Promise<HTMLElement> {
  try {
    const lesson = await readLessonPart(part);
    return lesson ? createPlayerView({ w, lesson, evaluator, number, onOpen }) : refused(w.file.damaged);
  } catch (error) {
    return refused((error as Error).message);
  }
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
