import { effect, type Signal } from '@preact/signals-core';
import type { Language } from '../state/atoms.ts';
import { h, put } from '../ui/dom.ts';
import './told.css';
import { LANGUAGE_NAMES, loadWords } from './words/language.ts';
import type { Words } from './words/shape.ts';

/** A view told in one language, and what ends its listening when it is told in another. */
export interface ToldView {
  readonly node: HTMLElement;
  readonly end: () => void;
}

/** A place told in the reader's language, with the choice of it on top; told anew when another is chosen. */
export async function toldPlace(
  language: Signal<Language>,
  tell: (words: Words) => ToldView,
): Promise<HTMLElement> {
  const host = h('div', { class: 'in-language' });
  const note = h('p', { class: 'status-warning', role: 'status' });
  let words = await loadWords(language.peek());
  let view: ToldView | undefined;
  const show = (): void => {
    view?.end();
    view = tell(words);
    host.lang = words.language;
    note.textContent = '';
    put(host, languageChoice(language, words), note, view.node);
  };
  show();
  effect(() => {
    const chosen = language.value;
    if (chosen === words.language) return;
    loadWords(chosen).then(
      (loaded) => {
        // Another may have been chosen meanwhile.
        if (language.peek() !== chosen) return;
        words = loaded;
        show();
      },
      () => {
        language.value = words.language as Language;
        note.textContent = words.learn.notFetched(LANGUAGE_NAMES[chosen]);
      },
    );
  });
  return host;
}

const languageChoice = (language: Signal<Language>, words: Words): HTMLElement =>
  h(
    'div',
    { class: 'choice language-choice', role: 'group', 'aria-label': words.learn.language },
    ...Object.entries(LANGUAGE_NAMES).map(([key, name]) =>
      h(
        'button',
        {
          type: 'button',
          lang: key,
          'aria-pressed': String(key === words.language),
          click: () => {
            language.value = key as Language;
          },
        },
        name,
      ),
    ),
  );
