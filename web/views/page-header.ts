import { h, s } from '../ui/dom.ts';
import type { AppState, ThemeChoice, View } from '../state.ts';

const VIEWS: readonly (readonly [View, string])[] = [
  ['plan', 'Plan'],
  ['bench', 'Bench'],
  ['studies', 'Studies'],
  ['learn', 'Learn'],
  ['terms', 'Terms'],
];

export function createPageHeader(state: AppState): HTMLElement {
  const links = VIEWS.map(([view, text]) => ({
    view,
    node: h('button', { type: 'button', click: () => state.view.set(view) }, text),
  }));
  const theme = h(
    'select',
    { id: 'theme', change: () => state.theme.set(theme.value as ThemeChoice) },
    h('option', { value: 'system' }, 'as the system'),
    h('option', { value: 'light' }, 'light'),
    h('option', { value: 'dark' }, 'dark'),
  );
  const showView = (now: View) => {
    for (const { view, node } of links)
      if (view === now) node.setAttribute('aria-current', 'page');
      else node.removeAttribute('aria-current');
  };
  const showTheme = (choice: ThemeChoice) => {
    if (choice === 'system') delete document.documentElement.dataset['theme'];
    else document.documentElement.dataset['theme'] = choice;
  };
  state.view.watch(showView);
  state.theme.watch(showTheme);
  showView(state.view.get());
  return h(
    'header',
    { class: 'page-header' },
    h('span', { class: 'brand' }, brandMark(), 'Strobewright'),
    h('nav', { class: 'views', 'aria-label': 'Views' }, ...links.map((link) => link.node)),
    h('div', { class: 'theme-field' }, h('label', { for: 'theme' }, 'Paper'), theme),
  );
}

const brandMark = (): SVGSVGElement =>
  s(
    'svg',
    { viewBox: '0 0 32 32', 'aria-hidden': 'true', class: 'mark' },
    s('ellipse', { cx: 16, cy: 16, rx: 5.5, ry: 10, transform: 'rotate(45 16 16)' }),
    s('path', { d: 'M16 2v28M2 16h28' }),
  );
