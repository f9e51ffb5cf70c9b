import { signal } from '@preact/signals-core';
import { html, nothing, type TemplateResult } from 'lit-html';
import { toJsonDocument } from '../../../engine/export/serialise.ts';
import { saveFile } from '../../sharing/save.ts';
import { iconView } from '../../ui/icon-view.ts';
import { statusLine, type Said } from '../../ui/status.ts';
import { lessonPart, LONGEST_LINK } from '../made/lesson-link.ts';
import type { MadeLesson } from '../made/lesson.ts';
import { lessonFile } from '../made/read-lesson.ts';
import type { MadeWords } from '../words/made-words.ts';
import type { Draft } from './draft.ts';

export interface GiveOutOptions {
  readonly w: MadeWords;
  readonly draft: Draft;
  readonly onGo: (part: string) => void;
}

/** Checks first: what is refused is not given out. */
export function createGiveOut({ w, draft, onGo }: GiveOutOptions): () => TemplateResult {
  const said = signal<Said | undefined>(undefined);
  const link = signal('');
  const busy = signal(false);

  async function check(): Promise<boolean> {
    busy.value = true;
    said.value = { sign: 'busy', text: w.maker.checking };
    const good = await draft.checkAll();
    busy.value = false;
    const refused = draft.lesson.value.steps.filter(
      (step) => draft.checks.value.get(step)?.standing === 'refused',
    ).length;
    said.value = good
      ? { sign: 'ok', text: w.maker.checked }
      : { sign: 'error', text: w.maker.refused(refused) };
    return good;
  }
  const checkedFirst = (then: (lesson: MadeLesson) => void) => async (): Promise<void> => {
    link.value = '';
    if (await check()) then(draft.lesson.value);
  };
  async function copyLink(lesson: MadeLesson): Promise<void> {
    const address = `${location.href.split('#')[0]}#/learn/${await lessonPart(lesson)}`;
    if (address.length > LONGEST_LINK) {
      said.value = { sign: 'warning', text: w.maker.tooLong(address.length, LONGEST_LINK) };
      return;
    }
    link.value = address;
    try {
      await navigator.clipboard.writeText(address);
      said.value = { sign: 'ok', text: w.maker.linkCopied };
    } catch {
      said.value = { sign: 'warning', text: w.maker.linkShown };
    }
  }
  const save = (lesson: MadeLesson): void => {
    const name = lesson.title.replaceAll(/[^\p{L}\p{N}]+/gu, '-').replaceAll(/^-|-$/gu, '') || 'lesson';
    saveFile(`${name}.lesson.json`, 'application/json', toJsonDocument(lessonFile(lesson)));
  };

  return () => {
    const fault = draft.fault.value;
    const unable = fault !== undefined || busy.value;
    const button = (text: string, then: (lesson: MadeLesson) => void): TemplateResult =>
      html`<button type="button" ?disabled=${unable} @click=${checkedFirst(then)}>${text}</button>`;
    return html`
      <h2>${w.maker.give}</h2>
      ${fault === undefined ? nothing : html`<p class="status-warning">${iconView('warning')}${w.maker.mend(fault)}</p>`}
      <div class="button-column">
        ${button(w.maker.check, () => undefined)} ${button(w.maker.save, save)}
        ${button(w.maker.link, (lesson) => void copyLink(lesson))}
        ${button(w.maker.try, (lesson) => void lessonPart(lesson).then(onGo))}
        ${button(w.maker.sheets, () => onGo('sheets'))} ${button(w.maker.tally, () => onGo('tally'))}
      </div>
      ${statusLine(said.value)}
      ${
        link.value === ''
          ? nothing
          : html`<div class="field">
              <label for="lesson-link">${w.maker.theLink}</label>
              <input
                id="lesson-link"
                type="text"
                readonly
                .value=${link.value}
                @focus=${(event: Event) => (event.target as HTMLInputElement).select()}
              />
            </div>`
      }
    `;
  };
}
