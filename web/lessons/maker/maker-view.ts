import { signal } from '@preact/signals-core';
import { html, nothing } from 'lit-html';
import type { BoardAbout } from '../../state/lesson-board.ts';
import type { RawDesign } from '../../model/pointer.ts';
import { fileButton } from '../../ui/file-button.ts';
import { h } from '../../ui/dom.ts';
import { iconView } from '../../ui/icon-view.ts';
import { mount } from '../../ui/mount.ts';
import { board as learningBoard } from '../course/bench.ts';
import { courseSteps, courseTitle } from '../made/course-steps.ts';
import { isOwn, MOST, type MadeLesson } from '../made/lesson.ts';
import { readBoard } from '../made/read-board.ts';
import { readLesson } from '../made/read-lesson.ts';
import type { MadeWords } from '../words/made-words.ts';
import type { Draft } from './draft.ts';
import { selectField, textField } from './fields.ts';
import { createGiveOut } from './give-out.ts';
import { attempt, readFile } from './open-file.ts';
import { newStep } from './new-steps.ts';
import { stepEditor } from './step-editor.ts';
import { stepsList } from './steps-list.ts';
import './maker.css';

export interface MakerOptions {
  readonly w: MadeWords;
  readonly draft: Draft;
  readonly planned: () => RawDesign;
  readonly onOpen: (raw: RawDesign, about: BoardAbout) => void;
  /** To a part of Learn; '' is the course. */
  readonly onGo: (part: string) => void;
}

export const freshLesson = (w: MadeWords): MadeLesson => ({ title: w.maker.freshTitle, seed: 0, steps: [] });

/** Where a teacher makes a lesson: its steps, the step that is open, and how it is given out. */
export function createMakerView(options: MakerOptions): HTMLElement {
  const { w, draft, onGo } = options;
  const refusal = signal<string | undefined>(undefined);
  const giveOut = createGiveOut(options);
  const node = h('article', { class: 'maker' });

  async function open(file: File): Promise<void> {
    const found = await readFile(w, file);
    if ('refused' in found) refusal.value = found.refused;
    else
      attempt(refusal, () => {
        draft.edit(readLesson(found.value));
        draft.chosen.value = 0;
      });
  }
  async function boardFrom(file: File): Promise<void> {
    const step = draft.lesson.value.steps[draft.chosen.value];
    const found = await readFile(w, file);
    if ('refused' in found) refusal.value = found.refused;
    else if (step && isOwn(step))
      attempt(refusal, () => draft.setStep({ ...step, board: readBoard(found.value) }));
  }

  mount(node, () => {
    const { history, lesson } = draft;
    const { title, seed, steps } = lesson.value;
    const full = steps.length >= MOST.steps;
    return html`
      <header class="maker-head">
        <h1>${w.maker.title}</h1>
        <p class="note">${w.maker.about}</p>
        <div class="button-row">
          <button type="button" @click=${() => onGo('')}>${w.maker.toCourse}</button>
          ${fileButton({ id: 'lesson-file', text: w.maker.open, accept: '.json,application/json', onFile: (file) => void open(file) })}
          <button type="button" @click=${() => draft.edit(freshLesson(w))}>${w.maker.fresh}</button>
          <button type="button" ?disabled=${history.value.past.length === 0} @click=${draft.undo}>
            ${w.maker.undo}
          </button>
          <button type="button" ?disabled=${history.value.future.length === 0} @click=${draft.redo}>
            ${w.maker.redo}
          </button>
        </div>
        <p class="field-error" role="alert" ?hidden=${refusal.value === undefined}>
          ${refusal.value === undefined ? nothing : [iconView('error'), refusal.value]}
        </p>
      </header>
      <section class="maker-part" aria-label=${w.maker.steps}>
        ${textField({ id: 'lesson-title', label: w.maker.name, value: title, onSet: (text) => draft.edit({ ...lesson.value, title: text }) })}
        <h2>${w.maker.steps}</h2>
        ${stepsList(w, draft)}
        ${selectField({
          id: 'add-course',
          label: w.maker.addCourse,
          value: '',
          options: [
            ['', w.maker.addCourseFirst] as const,
            ...courseSteps().map(({ id }) => [id, courseTitle(w, id)] as const),
          ],
          onSet: (id) => {
            if (id !== '') draft.add({ course: id });
            node.querySelector<HTMLSelectElement>('#add-course')!.value = '';
          },
        })}
        <button type="button" ?disabled=${full} @click=${() => draft.add(newStep(w, learningBoard))}>
          ${w.maker.addOwn}
        </button>
        ${textField({
          id: 'lesson-seed',
          label: `${w.maker.seed} (${w.maker.seedHelp(MOST.seed)})`,
          value: String(seed),
          size: 6,
          onSet: (text) => draft.edit({ ...lesson.value, seed: Number(text) }),
        })}
      </section>
      <section class="maker-part maker-editor" aria-label=${w.maker.question}>
        ${stepEditor({ ...options, onBoardFile: (file) => void boardFrom(file) })}
      </section>
      <section class="maker-part" aria-label=${w.maker.give}>${giveOut()}</section>
    `;
  });
  return node;
}
