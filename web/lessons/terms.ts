import { h } from '../ui/dom.ts';
import { GLOSSARY, type Source } from './glossary.ts';
import type { ToldView } from './told-place.ts';
import type { Words } from './words/shape.ts';

/** The terms in the order of the language's own alphabet. */
export function createTermsView({ language, terms, glossary, sources }: Words): ToldView {
  const found = Object.entries<Source>(GLOSSARY)
    .map(([key, { how, cite = '' }]) => ({
      ...glossary[key as keyof typeof GLOSSARY],
      source: sources[how](cite),
    }))
    .sort((a, b) => a.term.localeCompare(b.term, language));
  const node = h(
    'article',
    { class: 'reading' },
    h('h1', {}, terms.title),
    h('p', { class: 'note' }, terms.about),
    h(
      'dl',
      { class: 'glossary' },
      ...found.map(({ term, meaning, source }) =>
        h('div', {}, h('dt', {}, term), h('dd', {}, meaning), h('dd', { class: 'note small' }, source)),
      ),
    ),
  );
  return { node, end: () => undefined };
}
