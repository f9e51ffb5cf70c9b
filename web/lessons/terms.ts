import { h } from '../ui/dom.ts';
import { GLOSSARY } from './glossary.ts';

export function createTermsView(): HTMLElement {
  return h(
    'article',
    { class: 'reading' },
    h('h1', {}, 'Terms of the trade'),
    h('p', { class: 'note' }, 'As this page uses them, each with where it comes from.'),
    h(
      'dl',
      { class: 'glossary' },
      ...GLOSSARY.map(({ term, meaning, source }) =>
        h('div', {}, h('dt', {}, term), h('dd', {}, meaning), h('dd', { class: 'note small' }, source)),
      ),
    ),
  );
}
